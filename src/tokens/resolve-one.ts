// One token → its value, once all it refers to is resolved (Format 2025.10): fixes the type, follows the reference or reads the
// literal.
import type { Follower } from './follow-reference.ts';
import type { JsonNode } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import type { TokenEntry } from './list-tokens.ts';
import { unknownType } from './list-tokens.ts';
import type { FoundProblem, Report } from './problem.ts';
import { levelOf } from './problem.ts';
import { isAlias } from './read-value.ts';
import type { ResolvedToken, TypeOrigin } from './resolved-token.ts';
import type { TokenNode } from './tree.ts';
import type { ReadContext } from './values/read-context.ts';
import { readValueOfType } from './values/read-value-of-type.ts';
import type { TokenType, TypedValue } from './values/token-value.ts';
import { isTokenType } from './values/token-value.ts';

export type Outcome = Omit<ResolvedToken, 'entry' | 'index'>;

export type LiteralReadings = Map<TokenNode, LiteralReading>;

interface LiteralReading {
  readonly type: TokenType;
  readonly typed: TypedValue | null;
  readonly faults: readonly FoundProblem[];
}

interface TypeInForce {
  readonly type: TokenType;
  readonly origin: TypeOrigin;
}

const FAILED: Outcome = { typed: null, typeOrigin: null, next: null };

export function createTokenReader(tools: {
  readonly strict: boolean;
  readonly literals: LiteralReadings;
  readonly follower: Follower;
  readonly report: Report;
}): (i: number, entry: TokenEntry) => Outcome {
  const { strict, literals, follower, report } = tools;

  function read(i: number, entry: TokenEntry): Outcome {
    const { token } = entry;
    const { type: ownNode, reading } = token.node;
    if (token.void) return FAILED;
    if (reading.kind === 'curly' && ownNode === null) {
      const next = follower.resolvedAt(reading.path);
      if (next?.typed != null) return { typed: next.typed, typeOrigin: { kind: 'reference', token: next.entry.token.path }, next };
    }
    if (ownNode !== null && !isTokenType(ownNode.value)) {
      report(unknownType(ownNode, token.path));
      return FAILED;
    }
    const tell: ReadContext['fault'] = (code, at, facts) => {
      report({ code, token: token.path, at, found: facts.found ?? quote(at), expected: facts.expected, hint: facts.hint ?? '' });
      return null;
    };
    switch (reading.kind) {
      case 'malformed': {
        const hint = 'A reference is the whole text: "{group.token}", or "#/group/token/$value" in $ref.';
        tell('ref-syntax', reading.at, { expected: 'a well formed reference', hint });
        return FAILED;
      }
      case 'siblings': {
        const hint = 'Copy the value out instead of changing a part of it.';
        tell('ref-siblings', reading.at, { expected: '$ref alone', hint });
        return FAILED;
      }
      case 'curly':
        return aliasOf(entry, follower.findToken(reading.path, reading.at, tell), tell);
      case 'pointer': {
        const { at, target } = reading;
        const inDocument = follower.isDocumentPointer(at);
        if (!inDocument && isAlias(reading)) return aliasOf(entry, follower.findToken(target.path, at, tell), tell);
        if (!inDocument && target.rest.length === 0) {
          follower.refuseBare(target.path, at, tell);
          return FAILED;
        }
        return ofType(typeInForce(entry, tell), (type) => follower.readPart(i, reading, type, tell));
      }
      case 'literal':
        return ofType(typeInForce(entry, tell), (type) => readLiteral(i, entry, type));
    }
  }

  function ofType(inForce: TypeInForce | null, readAs: (type: TokenType) => TypedValue | null): Outcome {
    return inForce === null ? FAILED : { typed: readAs(inForce.type), typeOrigin: inForce.origin, next: null };
  }

  function readLiteral(i: number, { token }: TokenEntry, type: TokenType): TypedValue | null {
    const { node, path } = token;
    if (node.value === null) return null;
    const constant = node.reading.kind === 'literal' && node.reading.mentions.length === 0;
    const known = constant ? literals.get(node) : undefined;
    if (known?.type === type) {
      for (const each of known.faults) report({ ...each, token: path });
      return known.typed;
    }
    const faults: FoundProblem[] = [];
    const context = follower.contextOf(i, (code, at, facts) => {
      faults.push({ code, token: path, at, found: facts.found ?? quote(at), expected: facts.expected, hint: facts.hint ?? '' });
      return null;
    });
    const value = readValueOfType(type, node.value, context);
    // Faults that only warn leave the value; an error of any part voids the whole.
    const typed = faults.some(({ code }) => levelOf(code, strict) === 'error') ? null : value;
    if (constant) literals.set(node, { type, typed, faults });
    for (const each of faults) report(each);
    return typed;
  }

  return read;
}

/** An alias has the type of its target; its own `$type` may only repeat it (F7.4.5). */
function aliasOf({ token }: TokenEntry, next: ResolvedToken | null, tell: ReadContext['fault']): Outcome {
  const typed = next?.typed ?? null;
  const own = token.node.type;
  if (next === null || typed === null) return FAILED;
  if (own === null) return { typed, typeOrigin: { kind: 'reference', token: next.entry.token.path }, next };
  if (own.value === typed.type) return { typed, typeOrigin: { kind: 'own', at: own }, next };
  const hint = 'Drop the $type: an alias has the type of its target.';
  tell('ref-type', own, { found: `$type "${own.value}" on a reference to a ${typed.type}`, expected: typed.type, hint });
  return { typed: null, typeOrigin: null, next };
}

/** Own type, else the nearest group's; never guessed from the value (F5.2.2). */
function typeInForce({ token, groupType }: TokenEntry, tell: ReadContext['fault']): TypeInForce | null {
  const own: JsonNode | null = token.node.type;
  if (own?.kind === 'string' && isTokenType(own.value)) return { type: own.value, origin: { kind: 'own', at: own } };
  if (groupType === 'unknown') return null;
  if (groupType !== null) return { type: groupType.type, origin: { kind: 'group', group: groupType.group, at: groupType.at } };
  const hint = 'Add "$type" to the token or to a group around it.';
  return tell('no-type', token.node.at, { found: 'a token without a type', expected: 'a $type on it or on a group', hint });
}
