// Tokens of one permutation → values (Format 2025.10, sections 5–7): fixes types, follows references, finds loops, reads
// literals. Every reference is kept as a hop, since the place of a fault is told by the chain.
import type { JsonNode, Source } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import { createFollower } from './follow-reference.ts';
import type { FlatGroup, FlatToken } from './flatten.ts';
import type { GroupType, TokenEntry } from './list-tokens.ts';
import { unknownType } from './list-tokens.ts';
import type { Fault, ProblemCode, Report } from './problem.ts';
import { levelOf } from './problem.ts';
import type { Target } from './reference.ts';
import type { ResolvedToken, TypeOrigin } from './resolved-token.ts';
import { isWhole } from './read-value.ts';
import { strongComponents } from './strong-components.ts';
import type { TokenNode } from './tree.ts';
import type { ReadContext } from './values/read-context.ts';
import { readValueOfType } from './values/read-value-of-type.ts';
import type { TokenType, TypedValue } from './values/token-value.ts';
import { isTokenType } from './values/token-value.ts';

export interface ResolveOptions {
  readonly root: FlatGroup;
  readonly strict: boolean;
  readonly literals: LiteralCache;
  /** Texts that are resolver documents: pointers in their inline tokens may address the document (F7.2.1 is silent). */
  readonly documents: ReadonlySet<Source>;
  readonly report: Report;
}

/** Literals without references read the same in every permutation. */
export type LiteralCache = Map<
  TokenNode,
  { readonly type: TokenType; readonly typed: TypedValue | null; readonly faults: readonly Fault[] }
>;

const NO_EDGES: readonly number[] = [];

export function resolveTokens(entries: readonly TokenEntry[], options: ResolveOptions): ReadonlyMap<string, ResolvedToken> {
  const { strict, report, literals } = options;
  const indexOf = new Map(entries.map(({ token }, i) => [token.path, i]));
  const resolved = new Map<string, ResolvedToken>();
  const follower = createFollower({ entries, indexOf, resolved, ...options });

  const edgesOf = (i: number, wholeOnly: boolean): readonly number[] => {
    const reading = entries[i]?.token.node.reading;
    if (reading === undefined || (reading.kind === 'literal' && reading.mentions.length === 0)) return NO_EDGES;
    if (reading.kind === 'curly') return edgesTo([reading.path]);
    if (reading.kind === 'pointer') return wholeOnly && !isAlias(reading) ? NO_EDGES : edgesTo([reading.target.path]);
    if (reading.kind !== 'literal') return NO_EDGES;
    return edgesTo(reading.mentions.filter((mention) => mention.whole || !wholeOnly).map(({ path }) => path));
  };
  const edgesTo = (paths: readonly string[]): readonly number[] =>
    paths.map((path) => indexOf.get(path)).filter((index) => index !== undefined);

  for (const component of strongComponents(entries.length, (i) => edgesOf(i, false))) {
    const [only] = component;
    if (component.length === 1 && only !== undefined && !edgesOf(only, false).includes(only)) resolve(only);
    else resolveEntangled(component);
  }
  return resolved;

  /** Tokens that refer to each other: a loop only where whole values do; parts may be borrowed both ways. */
  function resolveEntangled(component: readonly number[]): void {
    const local = new Map(component.map((i, at) => [i, at]));
    const wholeEdges = (at: number): readonly number[] =>
      edgesOf(component[at] ?? -1, true)
        .map((i) => local.get(i))
        .filter((index) => index !== undefined);
    for (const part of strongComponents(component.length, wholeEdges)) {
      const looped = part.length > 1 || part.some((at) => wholeEdges(at).includes(at));
      const indices = part.map((at) => component[at]).filter((i) => i !== undefined);
      for (const i of indices) {
        if (looped) failLoop(i, indices);
        else resolve(i);
      }
    }
  }

  function failLoop(i: number, loop: readonly number[]): void {
    const entry = entries[i];
    if (entry === undefined) return;
    const others = loop.map((index) => entries[index]?.token.path ?? '').slice(0, 8);
    fault(entry.token, 'ref-cycle', entry.token.node.value ?? entry.token.node.at, {
      found: `a loop of references: ${others.join(', ')}${loop.length > 8 ? ', …' : ''}`,
      expected: 'a chain that ends in a value',
      hint: 'Give one of them a value of its own.',
    });
    finish(entry, null, null, null);
  }

  function finish(entry: TokenEntry, typed: TypedValue | null, typeOrigin: TypeOrigin | null, next: ResolvedToken | null): void {
    resolved.set(entry.token.path, { entry, typed, typeOrigin, next });
  }

  function fault(
    token: FlatToken,
    code: ProblemCode,
    at: JsonNode,
    facts: { found?: string; expected: string; hint?: string },
  ): null {
    report({ code, token: token.path, at, found: facts.found ?? quote(at), expected: facts.expected, hint: facts.hint ?? '' });
    return null;
  }

  function resolve(i: number): void {
    const entry = entries[i];
    if (entry === undefined) return;
    const { token, groupType } = entry;
    const { type: own, reading, value } = token.node;
    if (token.void) {
      finish(entry, null, null, null);
      return;
    }
    if (own !== null && !isTokenType(own.value)) {
      report(unknownType(own, token.path));
      finish(entry, null, null, null);
      return;
    }
    const ownType = own !== null && isTokenType(own.value) ? { type: own.value, at: own } : null;
    switch (reading.kind) {
      case 'malformed': {
        const hint = 'A reference is the whole text: "{group.token}", or "#/group/token/$value" in $ref.';
        fault(token, 'ref-syntax', reading.at, { expected: 'a well formed reference', hint });
        finish(entry, null, null, null);
        return;
      }
      case 'siblings':
        fault(token, 'ref-siblings', reading.at, {
          expected: '$ref alone',
          hint: 'Copy the value out instead of changing a part of it.',
        });
        finish(entry, null, null, null);
        return;
      case 'curly':
        finishAlias(entry, ownType, follower.findToken(reading.path, reading.at, factsFor(token)));
        return;
      case 'pointer': {
        const inDocument = follower.isDocumentPointer(reading.at);
        if (!inDocument && !isAlias(reading) && reading.target.rest.length === 0) {
          follower.refuseBare(reading.target.path, reading.at, factsFor(token));
          finish(entry, null, null, null);
          return;
        }
        if (!inDocument && isAlias(reading)) {
          finishAlias(entry, ownType, follower.findToken(reading.target.path, reading.at, factsFor(token)));
          return;
        }
        const type = typeInForce(entry, ownType, groupType);
        const typed = type === null ? null : follower.readPart(i, reading, type.type, factsFor(token));
        finish(entry, typed, type?.origin ?? null, null);
        return;
      }
      case 'literal': {
        const type = typeInForce(entry, ownType, groupType);
        const typed = type === null || value === null ? null : readLiteral(i, entry, type.type, value);
        finish(entry, typed, type?.origin ?? null, null);
      }
    }
  }

  function factsFor(token: FlatToken): ReadContext['fault'] {
    return (code, at, facts) => fault(token, code, at, facts);
  }

  /** Own type, else the nearest group's; never guessed from the value (F5.2.2). */
  function typeInForce(
    { token }: TokenEntry,
    own: { type: TokenType; at: JsonNode } | null,
    group: GroupType | 'unknown' | null,
  ): { readonly type: TokenType; readonly origin: TypeOrigin } | null {
    if (own !== null) return { type: own.type, origin: { kind: 'own', at: own.at } };
    if (group === 'unknown') return null;
    if (group !== null) return { type: group.type, origin: { kind: 'group', group: group.group, at: group.at } };
    const hint = 'Add "$type" to the token or to a group around it.';
    return fault(token, 'no-type', token.node.at, {
      found: 'a token without a type',
      expected: 'a $type on it or on a group',
      hint,
    });
  }

  function finishAlias(entry: TokenEntry, own: { type: TokenType; at: JsonNode } | null, target: ResolvedToken | null): void {
    const found = target?.typed ?? null;
    if (target === null || found === null) {
      finish(entry, null, null, target);
    } else if (own !== null && own.type !== found.type) {
      const hint = 'Drop the $type: an alias has the type of its target.';
      fault(entry.token, 'ref-type', own.at, {
        found: `$type "${own.type}" on a reference to a ${found.type}`,
        expected: found.type,
        hint,
      });
      finish(entry, null, null, target);
    } else {
      const origin: TypeOrigin = own === null ? { kind: 'reference', token: target.entry.token.path } : { kind: 'own', at: own.at };
      finish(entry, found, origin, target);
    }
  }

  function readLiteral(i: number, entry: TokenEntry, type: TokenType, value: JsonNode): TypedValue | null {
    const { node, path } = entry.token;
    const constant = node.reading.kind === 'literal' && node.reading.mentions.length === 0;
    const known = constant ? literals.get(node) : undefined;
    if (known?.type === type) {
      for (const each of known.faults) report({ ...each, token: path });
      return known.typed;
    }
    const faults: Fault[] = [];
    const read = readValueOfType(
      type,
      value,
      follower.contextOf(i, (code, at, facts) => {
        faults.push({ code, token: path, at, found: facts.found ?? quote(at), expected: facts.expected, hint: facts.hint ?? '' });
        return null;
      }),
    );
    // Faults that only warn leave the value; an error of any part voids the whole.
    const typed = faults.some(({ code }) => levelOf(code, strict) === 'error') ? null : read;
    if (constant) literals.set(node, { type, typed, faults });
    for (const each of faults) report(each);
    return typed;
  }
}

/** The pointer stands for a whole token: `#/a` at the level of the token, or `#/a/$value`. */
function isAlias(reading: { readonly target: Target; readonly level: 'token' | 'value' }): boolean {
  return isWhole(reading.target) || (reading.level === 'token' && reading.target.rest.length === 0);
}
