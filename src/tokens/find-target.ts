// A path in a reference → the token it names, or why it names none (Format 2025.10, F7.4.5).
import type { FlatGroup } from './flatten.ts';
import type { JsonNode, JsonString } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import type { TokenEntry } from './list-tokens.ts';
import type { ResolvedToken } from './resolved-token.ts';
import type { ReadContext } from './values/read-context.ts';

export type Tell = ReadContext['fault'];

/** The tokens of one permutation; those resolved so far have a result. */
export interface TokenSpace {
  readonly root: FlatGroup;
  readonly entries: readonly TokenEntry[];
  readonly indexOf: ReadonlyMap<string, number>;
  readonly resolved: (path: string) => ResolvedToken | undefined;
}

export interface TargetFinder {
  /** The token with its value; null when there is none (reported). */
  readonly findToken: (path: string, at: JsonNode, tell: Tell) => ResolvedToken | null;
  readonly groupAt: (path: string) => FlatGroup | null;
  /** Inside `$value` a pointer needs the full path: a token itself is no value. */
  readonly refuseBare: (path: string, at: JsonString, tell: Tell) => null;
  readonly tellInvalid: (path: string, at: JsonNode, tell: Tell) => null;
  readonly tellMissing: (path: string, at: JsonNode, tell: Tell) => null;
}

/** A longer path names nothing that a person wrote; looking for its ancestors would take long. */
const LONGEST_PATH = 1000;

export function createTargetFinder({ root, entries, indexOf, resolved }: TokenSpace): TargetFinder {
  let byLower: ReadonlyMap<string, string> | null = null;

  function findToken(path: string, at: JsonNode, tell: Tell): ResolvedToken | null {
    const index = indexOf.get(path);
    if (index === undefined) return tellMissing(path, at, tell);
    const found = resolved(path);
    if (found === undefined || found.typed === null) return tellInvalid(path, at, tell);
    return found;
  }

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
    const voided = path.length > LONGEST_PATH ? undefined : ancestorsOf(path).find((ancestor) => indexOf.has(ancestor));
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
    byLower ??= new Map(entries.map(({ token }) => [token.path.toLowerCase(), token.path]));
    const near = byLower.get(lower);
    return near === undefined ? 'Check the path; names are case-sensitive and not trimmed.' : `Write {${near}}.`;
  }

  return { findToken, groupAt, refuseBare, tellInvalid, tellMissing };
}

function ancestorsOf(path: string): readonly string[] {
  const names = path.split('.');
  return names.slice(1).map((_, i) => names.slice(0, i + 1).join('.'));
}
