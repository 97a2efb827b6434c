// References inside values → what stands at their end, read as what is wanted (Format 2025.10, F7). Loops are judged per place, not
// per token: two colours may borrow different components from each other.
import type { Tell, TokenSpace } from './find-target.ts';
import { createTargetFinder } from './find-target.ts';
import { createPointerWalker, isDocumentPointer, tellLoop } from './follow-pointer.ts';
import type { JsonNode, JsonObject, JsonString, Source } from './json/json-node.ts';
import { memberOf, quote } from './json/json-node.ts';
import type { TokenEntry } from './list-tokens.ts';
import { levelOf } from './problem.ts';
import type { Reading } from './read-value.ts';
import type { Target } from './reference.ts';
import { parseCurly, parseTokenPointer } from './reference.ts';
import type { ResolvedToken } from './resolved-token.ts';
import type { ReadContext, ReadNode } from './values/read-context.ts';
import { readSubValue, readValueOfType } from './values/read-value-of-type.ts';
import type { TokenType, TypedValue } from './values/token-value.ts';
import { isTokenType } from './values/token-value.ts';

type PointerReading = Extract<Reading, { kind: 'pointer' }>;

export interface Follower {
  readonly resolvedAt: (path: string) => ResolvedToken | undefined;
  readonly findToken: (path: string, at: JsonNode, tell: Tell) => ResolvedToken | null;
  readonly refuseBare: (path: string, at: JsonString, tell: Tell) => null;
  readonly isDocumentPointer: (at: JsonString) => boolean;
  readonly readPart: (token: number, reading: PointerReading, type: TokenType, tell: Tell) => TypedValue | null;
  readonly contextOf: (token: number, tell: Tell) => ReadContext;
}

/** Places inside each other that a value is borrowed through; real files reach 2. */
const MOST_BORROWED = 50;

export function createFollower(
  space: TokenSpace & { readonly strict: boolean; readonly documents: ReadonlySet<Source> },
): Follower {
  const { strict, entries, resolved, documents } = space;
  const finder = createTargetFinder(space);
  const { findToken, refuseBare, tellInvalid } = finder;
  const follow = createPointerWalker(space, finder, documents);
  /** What is being read now, outermost first. */
  const stack: { readonly node: JsonNode; readonly owner: number | null }[] = [];

  function contextOf(token: number, tell: Tell): ReadContext {
    const context: ReadContext = {
      strict,
      fault: tell,
      subValue: (type, node) => readSubValue(type, node, context),
      token: (reference) => {
        const path = parseCurly(reference.value);
        if (path !== null) return findToken(path, reference, tell)?.typed ?? null;
        const hint = 'A reference is the whole text, e.g. "{group.token}".';
        return tell('ref-syntax', reference, { expected: 'a well formed reference', hint });
      },
      place: (reference, want, read) => {
        const target = targetOf(reference, tell);
        return target === null ? null : readAt({ token, at: target.at, target: target.target, want, tell }, reference, read);
      },
    };
    return context;
  }

  function readPart(token: number, reading: PointerReading, type: TokenType, tell: Tell): TypedValue | null {
    const { at, target } = reading;
    const read: ReadNode<TypedValue> = (node, inner) => readValueOfType(type, node, inner);
    return readAt({ token, at, target, want: type, tell }, at, read);
  }

  function targetOf(reference: JsonObject, tell: Tell): { readonly target: Target; readonly at: JsonString } | null {
    const at = memberOf(reference, '$ref');
    if (reference.members.length > 1) {
      return tell('ref-siblings', reference, {
        expected: '$ref alone',
        hint: 'Copy the value out instead of changing a part of it.',
      });
    }
    const target = at?.kind === 'string' ? parseTokenPointer(at.value) : null;
    if (at?.kind === 'string' && target !== null) return { target, at };
    const hint = 'Only the same document can be pointed into: "#/group/token/$value/…".';
    return tell('ref-syntax', at ?? reference, { expected: 'a JSON Pointer that begins with "#/"', hint });
  }

  function readAt<T>(
    query: {
      readonly token: number;
      readonly at: JsonString;
      readonly target: Target;
      readonly want: TokenType | null;
      readonly tell: Tell;
    },
    start: JsonNode,
    read: ReadNode<T>,
  ): T | null {
    const { token, at, want, tell } = query;
    const place = follow({ token, at, target: query.target, start, tell });
    if (place === null) return null;
    const owner = place.owner === null ? undefined : entries[place.owner];
    if (place.whole && owner !== undefined && want !== null) {
      const type = declaredType(owner);
      if (type !== null && type !== want) {
        return tell('ref-type', at, { found: `${quote(at)}, a ${type}`, expected: `a token of type ${want}` });
      }
    }
    const again = stack.findIndex(({ node }) => node === place.node);
    if (again !== -1 || stack.length >= MOST_BORROWED) {
      const own = again === -1 || stack.slice(again).some((entry) => entry.owner === token);
      return tellLoop(own, at, tell);
    }
    const failure: { code: 'ref-type' | 'ref-cycle' | 'ref-invalid-target' | null; found: string } = { code: null, found: '' };
    const inner = contextOf(token, (code, node, facts) => {
      if (levelOf(code, strict) === 'warning') return null;
      const isReference = code === 'ref-cycle' || code === 'ref-invalid-target';
      failure.code ??= isReference ? code : 'ref-type';
      failure.found = facts.found ?? quote(node);
      return null;
    });
    if (stack.length === 0) stack.push({ node: start, owner: token });
    stack.push({ node: place.node, owner: place.owner });
    const value = read(place.node, inner);
    stack.pop();
    if (stack.length === 1) stack.pop();
    if (failure.code === null) return value;
    if (failure.code === 'ref-cycle') return tellLoop(true, at, tell);
    const path = owner?.token.path;
    const invalid = path !== undefined && resolved(path)?.typed === null;
    if (path !== undefined && (invalid || failure.code === 'ref-invalid-target')) return tellInvalid(path, at, tell);
    return tell('ref-type', at, {
      found: `${quote(at)}, where ${failure.found} stands`,
      expected: want === null ? 'a value that fits here' : `a ${want}`,
    });
  }

  return {
    resolvedAt: resolved,
    findToken,
    refuseBare,
    isDocumentPointer: (at) => isDocumentPointer(at, documents),
    readPart,
    contextOf,
  };
}

function declaredType({ token, groupType }: TokenEntry): TokenType | null {
  const own = token.node.type?.value;
  if (own !== undefined) return isTokenType(own) ? own : null;
  return groupType === null || groupType === 'unknown' ? null : groupType.type;
}
