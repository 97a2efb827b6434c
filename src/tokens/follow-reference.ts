// References inside values → what stands at their end (Format 2025.10, F7). Loops are judged per place, not per token: two
// colours may borrow different components from each other.
import type { JsonNode, JsonObject, JsonString, Source } from './json/json-node.ts';
import { memberOf, quote } from './json/json-node.ts';
import { parsePointer, stepInto, walkPointer } from './json/pointer.ts';
import type { FlatGroup } from './flatten.ts';
import type { TokenEntry } from './list-tokens.ts';
import { levelOf } from './problem.ts';
import type { Reading } from './read-value.ts';
import { isWhole, referenceIn } from './read-value.ts';
import type { Target } from './reference.ts';
import { hasBrace, parseCurly, parseTokenPointer } from './reference.ts';
import type { ResolvedToken } from './resolved-token.ts';
import type { ReadContext, ReadNode } from './values/read-context.ts';
import { readSubValue, readValueOfType } from './values/read-value-of-type.ts';
import type { TokenType, TypedValue } from './values/token-value.ts';
import { isTokenType } from './values/token-value.ts';

type Tell = ReadContext['fault'];
type PointerReading = Extract<Reading, { kind: 'pointer' }>;

interface Tokens {
  readonly root: FlatGroup;
  readonly strict: boolean;
  readonly entries: readonly TokenEntry[];
  readonly indexOf: ReadonlyMap<string, number>;
  readonly resolved: (path: string) => ResolvedToken | undefined;
  readonly documents: ReadonlySet<Source>;
}

/** What a pointer leads to. */
interface Place {
  readonly node: JsonNode;
  /** The token it belongs to; null for a group's member or a place of the resolver document. */
  readonly owner: number | null;
  /** The node is that token's whole value. */
  readonly whole: boolean;
}

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
/** References one behind the other while one pointer into a value is followed; real files reach 3. */
const MOST_HOPS = 100;

export function createFollower(tokens: Tokens): Follower {
  const { root, strict, entries, indexOf, resolved, documents } = tokens;
  /** What is being read now, outermost first. */
  const stack: { readonly node: JsonNode; readonly owner: number | null }[] = [];

  function isDocumentPointer(at: JsonString): boolean {
    return documents.has(at.source) && /^#\/(sets|modifiers|\$defs|resolutionOrder)(\/|$)/.test(at.value);
  }

  function findToken(path: string, at: JsonNode, tell: Tell): ResolvedToken | null {
    const index = indexOf.get(path);
    if (index === undefined) return tellMissing(path, at, tell);
    const found = resolved(path);
    if (found === undefined || found.typed === null) return tellInvalid(path, at, tell);
    return found;
  }

  /** Inside `$value` a pointer needs the full path: a token itself is no value. */
  function refuseBare(path: string, at: JsonString, tell: Tell): null {
    if (!indexOf.has(path)) return tellMissing(path, at, tell);
    const hint = `Write "${at.value}/$value".`;
    return tell('bad-value', at, { found: `${quote(at)}, a token`, expected: 'a pointer to a value', hint });
  }

  function tellInvalid(path: string, at: JsonNode, tell: Tell): null {
    return tell('ref-invalid-target', at, {
      found: `a reference to ${path}, which is invalid`,
      expected: 'a token with a value',
      hint: `Mend ${path} first.`,
    });
  }

  function tellMissing(path: string, at: JsonNode, tell: Tell): null {
    const group = groupAt(path);
    if (group !== null) {
      const hint = group.children.has('$root') ? `Write {${path}.$root} for the group's own value.` : 'Name a token inside it.';
      return tell('ref-not-token', at, { found: `${quote(at)}, a group`, expected: 'a token', hint });
    }
    const voided = ancestorsOf(path).find((ancestor) => indexOf.has(ancestor));
    if (voided !== undefined && entries[indexOf.get(voided) ?? -1]?.token.void === true) return tellInvalid(voided, at, tell);
    return tell('ref-unresolved', at, {
      found: `${quote(at)}, which does not exist`,
      expected: 'an existing token',
      hint: nearest(path),
    });
  }

  function groupAt(path: string): FlatGroup | null {
    let here = root;
    for (const name of path === '' ? [] : path.split('.')) {
      const child = here.children.get(name);
      if (child?.kind !== 'group') return null;
      here = child;
    }
    return here;
  }

  function nearest(path: string): string {
    const lower = path.trim().toLowerCase().replaceAll(' ', '');
    const near = entries.find(({ token }) => token.path.toLowerCase() === lower)?.token.path;
    return near === undefined ? 'Check the path; names are case-sensitive and not trimmed.' : `Write {${near}}.`;
  }

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
    const place = follow(query.target, at, start, tell);
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

  /** Walks the flattened tree, then the token's JSON; a reference met on the way is followed, with a warning. */
  function follow(target: Target, at: JsonString, start: JsonNode, tell: Tell): Place | null {
    if (isDocumentPointer(at)) return followInDocument(at, tell);
    const seen = new Set<JsonNode>([start]);
    let { path, rest } = target;
    let warned = false;
    const jump = (to: Target, from: JsonNode): boolean => {
      if (seen.has(from) || seen.size > MOST_HOPS) return false;
      seen.add(from);
      ({ path, rest } = to);
      return true;
    };
    const warn = (): void => {
      if (!warned) {
        const hint = 'Point at the token that has the value.';
        tell('ref-through-alias', at, {
          found: `${quote(at)}, which runs through an alias`,
          expected: 'a pointer to a literal',
          hint,
        });
      }
      warned = true;
    };
    for (;;) {
      const owner = indexOf.get(path);
      if (owner === undefined) return followInGroup(path, rest, at, tell);
      const entry = entries[owner];
      if (entry === undefined) return null;
      const { token } = entry;
      if (token.void) return tellInvalid(path, at, tell);
      if (rest.length === 0) return refuseBare(path, at, tell);
      if (rest[0] !== '$value') {
        const node = walkPointer(token.node.at, rest);
        return node === undefined ? tellNowhere(at, tell) : { node, owner, whole: false };
      }
      const { reading, value } = token.node;
      if (
        reading.kind === 'malformed' ||
        reading.kind === 'siblings' ||
        (resolved(path)?.typed === null && isWhole({ path, rest }))
      ) {
        return tellInvalid(path, at, tell);
      }
      if (reading.kind !== 'literal' || value === null) {
        if (reading.kind === 'literal') return tellInvalid(path, at, tell);
        if (rest.length > 1) warn();
        const to = aliasTarget(reading);
        const next = { path: to.path, rest: [...to.rest, ...rest.slice(1)] };
        if (!jump(next, reading.at)) return tellLoop(reading.at === start, at, tell);
        continue;
      }
      let node: JsonNode = value;
      let moved = false;
      for (let depth = 1; ; depth += 1) {
        const onward = referenceAt(node);
        const segment = rest[depth];
        if (onward !== null) {
          if (segment !== undefined) warn();
          const from: JsonNode = node;
          if (!jump({ path: onward.path, rest: [...onward.rest, ...rest.slice(depth)] }, from))
            return tellLoop(from === start, at, tell);
          moved = true;
          break;
        }
        if (segment === undefined) break;
        const below = stepInto(node, segment);
        if (below === undefined) return tellNowhere(at, tell);
        node = below;
      }
      if (!moved) return { node, owner, whole: rest.length === 1 };
    }
  }

  function followInGroup(path: string, rest: readonly string[], at: JsonString, tell: Tell): Place | null {
    const group = groupAt(path);
    if (group === null || rest.length === 0) return tellMissing(path, at, tell);
    for (const { at: object } of group.from.toReversed()) {
      const node = walkPointer(object, rest);
      if (node !== undefined) return { node, owner: null, whole: false };
    }
    return tellNowhere(at, tell);
  }

  function followInDocument(at: JsonString, tell: Tell): Place | null {
    if (/^#\/(modifiers|resolutionOrder)/.test(at.value)) {
      const hint = 'Only resolutionOrder may point into modifiers, nothing into resolutionOrder.';
      return tell('bad-pointer', at, { expected: 'a pointer into sets, $defs or the tokens', hint });
    }
    const segments = parsePointer(at.value.slice(1));
    const { root: document } = at.source;
    const node = segments === null || document === null ? undefined : walkPointer(document, segments);
    return node === undefined ? tellNowhere(at, tell) : { node, owner: null, whole: false };
  }

  return { resolvedAt: resolved, findToken, refuseBare, isDocumentPointer, readPart, contextOf };
}

function tellNowhere(at: JsonNode, tell: Tell): null {
  return tell('ref-unresolved', at, {
    found: `${quote(at)}, where nothing stands`,
    expected: 'an existing place',
    hint: 'Check each segment; list items count from 0.',
  });
}

function tellLoop(own: boolean, at: JsonNode, tell: Tell): null {
  const hint = 'Give one of the places a value of its own.';
  return tell(own ? 'ref-cycle' : 'ref-invalid-target', at, {
    found: `${quote(at)}, a loop of references`,
    expected: 'a chain that ends in a value',
    hint,
  });
}

function ancestorsOf(path: string): readonly string[] {
  const names = path.split('.');
  return names.slice(1).map((_, i) => names.slice(0, i + 1).join('.'));
}

/** Where an alias leads, as a pointer to a value. */
function aliasTarget(reading: Extract<Reading, { kind: 'curly' | 'pointer' }>): Target {
  if (reading.kind === 'curly') return { path: reading.path, rest: ['$value'] };
  const { target } = reading;
  return target.rest.length === 0 ? { path: target.path, rest: ['$value'] } : target;
}

/** The reference that stands in place of a value, if one does. */
function referenceAt(node: JsonNode): Target | null {
  if (node.kind === 'string') {
    const path = hasBrace(node.value) ? parseCurly(node.value) : null;
    return path === null ? null : { path, rest: ['$value'] };
  }
  const ref = referenceIn(node);
  return ref?.kind === 'string' ? parseTokenPointer(ref.value) : null;
}

function declaredType({ token, groupType }: TokenEntry): TokenType | null {
  const own = token.node.type?.value;
  if (own !== undefined) return isTokenType(own) ? own : null;
  return groupType === null || groupType === 'unknown' ? null : groupType.type;
}
