// A token whose name speaks of what the place has nothing to do with: of a state that nothing there is in (`--warning` for a plain button), of
// the brand (`--primary` for the outline of a field), of another kind of control (`--alert-face` for a button), of another component
// (`--kit-logbook--face` for a card), or of a moment of one (`--face-hover` for a panel).
import type { Case } from '../cases/case.ts';
import { componentIn, kindsIn, momentIn, saysBrand, stateIn, wordsIn } from '../cases/name-words.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import { tokensOf } from '../cases/paint-ref.ts';
import { lastPart } from '../cases/selectors.ts';
import { isOtherHue } from '../../tokens/match/fit.ts';
import { saysColourOnly } from './named-for.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** What it costs where a token's name speaks of something else (ours): about as much as a new token. */
export const FOREIGN = 2;

/**
 * @param path of the token
 * @param current path of the token in use; null for a literal or a colour’s name, of which nobody knows what it means
 * @param words what the place is called: names of its rule, its element, its role
 * @param isKin whether the token's colour is kin to such a one: red that is written out may mean an error, grey does not
 */
export function isForeignName(
  path: string,
  {
    current,
    words,
    isKin = true,
  }: { readonly current: string | null; readonly words: readonly string[]; readonly isKin?: boolean },
): boolean {
  const [own, used] = [wordsIn(path), current === null ? [] : wordsIn(current)];
  const kinds = new Set(kindsIn([...used, ...words]));
  if (kindsIn(own).some((kind) => !kinds.has(kind))) return true;
  const component = componentIn(path);
  const isOwn = component === (current === null ? '' : componentIn(current));
  if (component !== '' && !isOwn && !wordsIn(component).some((word) => words.includes(word))) return true;
  const moments = new Set([...used, ...words].map(momentIn));
  if (own.map(momentIn).some((moment) => moment !== null && !moments.has(moment))) return true;
  if (current === null && isKin) return false;
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
  const inUse = tokensOf(ref).filter((each) => !saysColourOnly(index, each));
  const color = index.colorOf(index.table.reference, token);
  return isForeignName(index.pathOf(token), {
    current: inUse.length === 0 ? null : inUse.map(index.pathOf).join(' '),
    words: names,
    isKin: color === null || !isOtherHue(ref.color, color),
  });
}

/** What rules, element and role call the place of a case. */
export function namesOfPlace({ wrote, place: { sample } }: Case): readonly string[] {
  const said = sample === null ? [] : [lastPart(sample.selector), sample.key.split('|', 1)[0]?.replace(/"[^"]*"/gu, '') ?? ''];
  return [...wrote.map(({ rule }) => lastPart(rule)), ...said].flatMap(wordsIn);
}
