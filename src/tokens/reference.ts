// References of the Format module: `{group.token}` (F7.1.1) and JSON Pointers `#/group/token/$value` (F7.1.2).
import { parsePointer } from './json/pointer.ts';

/** A token, or with `rest` a place inside what stands at that path: `['$value', 'components', '0']`. */
export interface Target {
  readonly path: string;
  readonly rest: readonly string[];
}

/** Braces anywhere: meant as a reference, whether well formed or not. */
export function hasBrace(text: string): boolean {
  return text.includes('{') || text.includes('}');
}

/** `{a.b}` → path; null when it is not one whole, well formed reference. Only the last name may be `$root`. */
export function parseCurly(text: string): string | null {
  const path = /^\{([^{}]+)\}$/.exec(text)?.[1];
  if (path === undefined) return null;
  const names = path.split('.');
  const wellFormed = names.every(
    (name, i) => name !== '' && (!name.startsWith('$') || (name === '$root' && i === names.length - 1)),
  );
  return wellFormed ? path : null;
}

/** `#/a/b/$value/c` → the path `a.b` and the rest; null when it is no pointer into the same document. */
export function parseTokenPointer(text: string): Target | null {
  if (!text.startsWith('#/')) return null;
  const segments = parsePointer(text.slice(1));
  if (segments === null) return null;
  const cut = segments.findIndex((segment) => segment.startsWith('$') && segment !== '$root');
  const names = cut === -1 ? segments : segments.slice(0, cut);
  return { path: names.map(asName).join('.'), rest: cut === -1 ? [] : segments.slice(cut) };
}

/** No token name is empty or has a dot; such a segment must not look like the root, or like two names. */
function asName(segment: string): string {
  return segment === '' ? '\u0000' : segment.replaceAll('.', '\u0000');
}

/** Where a group's `$extends` or `$ref` points: `{a.b}` or `#/a/b`, both allowed (F6.4.5). */
export function parseGroupReference(text: string): Target | null {
  if (text.startsWith('#')) return parseTokenPointer(text);
  const path = parseCurly(text);
  return path === null ? null : { path, rest: [] };
}
