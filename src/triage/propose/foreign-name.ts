// A token whose name speaks of what the place has nothing to do with: of a state that nothing there is in (`--warning` for a plain button), of
// the brand (`--primary` for the outline of a field), of another kind of control (`--alert-face` for a button), or of a moment of one
// (`--face-hover` for a panel).
import type { Case } from '../cases/case.ts';
import { kindsIn, momentIn, saysBrand, stateIn, wordsIn } from '../cases/name-words.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import { tokensOf } from '../cases/paint-ref.ts';
import { lastPart } from '../cases/selectors.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** What it costs where a token's name speaks of something else (ours): about as much as a new token. */
export const FOREIGN = 2;

/**
 * @param path of the token
 * @param current path of the token in use; null for a literal, of which nobody knows what it means
 * @param words what the place is called: names of its rule, its element, its role
 */
export function isForeignName(
  path: string,
  { current, words }: { readonly current: string | null; readonly words: readonly string[] },
): boolean {
  const [own, used] = [wordsIn(path), current === null ? [] : wordsIn(current)];
  const kinds = new Set(kindsIn([...used, ...words]));
  if (kindsIn(own).some((kind) => !kinds.has(kind))) return true;
  const moments = new Set([...used, ...words].map(momentIn));
  if (own.map(momentIn).some((moment) => moment !== null && !moments.has(moment))) return true;
  if (current === null) return false;
  if (saysBrand(own) && !saysBrand(used) && !saysBrand(words)) return true;
  const states = new Set([...used, ...words].map(stateIn));
  return own.map(stateIn).some((state) => state !== null && !states.has(state));
}

/** @param names as `namesOfPlace` says */
export function isForeignTo(
  index: TableIndex,
  token: number,
  { ref, names }: { readonly ref: PaintRef; readonly names: readonly string[] },
): boolean {
  const inUse = tokensOf(ref);
  return isForeignName(index.pathOf(token), {
    current: inUse.length === 0 ? null : inUse.map(index.pathOf).join(' '),
    words: names,
  });
}

/** What rules, element and role call the place of a case. */
export function namesOfPlace({ wrote, place: { sample } }: Case): readonly string[] {
  const said = sample === null ? [] : [lastPart(sample.selector), sample.key.split('|', 1)[0]?.replace(/"[^"]*"/gu, '') ?? ''];
  return [...wrote.map(({ rule }) => lastPart(rule)), ...said].flatMap(wordsIn);
}
