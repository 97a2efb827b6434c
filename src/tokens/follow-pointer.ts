// A pointer → the place where it ends (Format 2025.10, F7.1.2): walks the flattened tree, then the token's JSON; a reference met on
// the way is followed, with a warning.
import type { Tell, TargetFinder, TokenSpace } from './find-target.ts';
import type { JsonNode, JsonString, Source } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import { parsePointer, stepInto, walkPointer } from './json/pointer.ts';
import type { Reading } from './read-value.ts';
import { isWhole, referenceIn } from './read-value.ts';
import type { Target } from './reference.ts';
import { hasBrace, parseCurly, parseTokenPointer } from './reference.ts';

/** Where a pointer ends. */
export interface PointerEnd {
  readonly node: JsonNode;
  /** The token it belongs to; null for a group's member or a place of the resolver document. */
  readonly owner: number | null;
  /** The node is that token's whole value. */
  readonly whole: boolean;
}

export interface PointerQuery {
  /** Index of the token that has the pointer. */
  readonly token: number;
  readonly at: JsonString;
  readonly target: Target;
  /** What stands in place of a value and is followed: loops back to it are the token's own. */
  readonly start: JsonNode;
  readonly tell: Tell;
}

/** References one behind the other while one pointer is followed; real files reach 3. */
const MOST_HOPS = 100;
/** The same for all pointers of one token together, so that a long list of long chains ends soon. */
const MOST_HOPS_OF_TOKEN = 10_000;

export function isDocumentPointer(at: JsonString, documents: ReadonlySet<Source>): boolean {
  return documents.has(at.source) && /^#\/(sets|modifiers|\$defs|resolutionOrder)(\/|$)/.test(at.value);
}

/** @returns null when the pointer ends nowhere (reported) */
export function createPointerWalker(
  { entries, indexOf, resolved }: TokenSpace,
  { groupAt, refuseBare, tellInvalid, tellMissing }: TargetFinder,
  documents: ReadonlySet<Source>,
): (query: PointerQuery) => PointerEnd | null {
  const hops = { token: -1, left: MOST_HOPS_OF_TOKEN };

  function follow({ token: asking, at, target, start, tell }: PointerQuery): PointerEnd | null {
    if (isDocumentPointer(at, documents)) return followInDocument(at, tell);
    if (hops.token !== asking) {
      hops.token = asking;
      hops.left = MOST_HOPS_OF_TOKEN;
    }
    const seen = new Set<JsonNode>([start]);
    let { path, rest } = target;
    let warned = false;
    const jump = (to: Target, from: JsonNode): boolean => {
      hops.left -= 1;
      if (seen.has(from) || seen.size > MOST_HOPS || hops.left < 0) return false;
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

  function followInGroup(path: string, rest: readonly string[], at: JsonString, tell: Tell): PointerEnd | null {
    const group = groupAt(path);
    if (group === null || rest.length === 0) return tellMissing(path, at, tell);
    for (const { at: object } of group.from.toReversed()) {
      const node = walkPointer(object, rest);
      if (node !== undefined) return { node, owner: null, whole: false };
    }
    return tellNowhere(at, tell);
  }

  function followInDocument(at: JsonString, tell: Tell): PointerEnd | null {
    if (/^#\/(modifiers|resolutionOrder)/.test(at.value)) {
      const hint = 'Only resolutionOrder may point into modifiers, nothing into resolutionOrder.';
      return tell('bad-pointer', at, { expected: 'a pointer into sets, $defs or the tokens', hint });
    }
    const segments = parsePointer(at.value.slice(1));
    const { root: document } = at.source;
    const node = segments === null || document === null ? undefined : walkPointer(document, segments);
    return node === undefined ? tellNowhere(at, tell) : { node, owner: null, whole: false };
  }

  return follow;
}

function tellNowhere(at: JsonNode, tell: Tell): null {
  return tell('ref-unresolved', at, {
    found: `${quote(at)}, where nothing stands`,
    expected: 'an existing place',
    hint: 'Check each segment; list items count from 0.',
  });
}

export function tellLoop(own: boolean, at: JsonNode, tell: Tell): null {
  const hint = 'Give one of the places a value of its own.';
  return tell(own ? 'ref-cycle' : 'ref-invalid-target', at, {
    found: `${quote(at)}, a loop of references`,
    expected: 'a chain that ends in a value',
    hint,
  });
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
