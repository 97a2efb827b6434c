// What a place means by its token: a rule that is called after it (`.text-error` takes `--color-error`), or a token that is called after a
// state. Another token in its place would say something else.
import { propertiesIn } from '../../colour/built-color.ts';
import type { Color } from '../../colour/color.ts';
import { deltaEOk } from '../../colour/lightness.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import type { Case } from '../cases/case.ts';
import { isRule } from '../cases/own-rules.ts';
import { isUpon, saysWhatFor, stateIn, uponWhat, wordsIn } from '../cases/name-words.ts';
import { isOtherHue } from '../../tokens/match/fit.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** Words that every token of a set may have (common practice). */
const COMMON = new Set(['color', 'colour', 'clr', 'theme', 'token', 'sys', 'ref', 'default', 'base', 'main']);

/** What palettes call their colours (common practice). */
const HUES = new Set([
  ...['white', 'black', 'gray', 'grey', 'slate', 'zinc', 'neutral', 'stone', 'silver', 'brown', 'tan'],
  ...['red', 'orange', 'amber', 'yellow', 'gold', 'lime', 'green', 'emerald', 'teal', 'cyan', 'aqua', 'sky', 'blue', 'navy'],
  ...['indigo', 'violet', 'purple', 'magenta', 'fuchsia', 'pink', 'rose'],
]);

/** What palettes call shades of their colours (common practice). */
const SHADES = new Set(['light', 'dark', 'deep', 'pale', 'bright']);

/** ΔE OK from which a colour is another one than its name says: plainly seen; white and black are what they are (CSS Color 4 §13.2; ours). */
const OTHER_THAN_SAID = { hue: 0.1, extreme: 0.02 } as const;

/** Its name says the colour, and nothing of what it is for: `--white`, `red.500`. It is no repair to make white dark. */
export function belies(index: TableIndex, token: number, colors: { readonly from: Color; readonly to: Color }): boolean {
  const words = colourNameIn(index, token);
  if (words.length === 0) return false;
  const { from, to } = colors;
  const isExtreme = words.every((word) => word === 'white' || word === 'black');
  return isOtherHue(from, to) || deltaEOk(from, to) >= (isExtreme ? OTHER_THAN_SAID.extreme : OTHER_THAN_SAID.hue);
}

/** Its name says the colour and nothing else: what it means there nobody knows. */
export function saysColourOnly(index: TableIndex, token: number): boolean {
  return colourNameIn(index, token).length > 0;
}

/** Empty where its name says anything else. */
function colourNameIn(index: TableIndex, token: number): readonly string[] {
  const shared = sharedWords(index);
  const parts = index.pathOf(token).split('.').map(wordsIn);
  const own = parts
    .map((words) => words.filter((word) => !COMMON.has(word) && !shared.has(word)))
    .findLast((words) => words.length > 0);
  const isColour = own?.some((word) => HUES.has(word)) === true && own.every((word) => HUES.has(word) || SHADES.has(word));
  return isColour ? own : [];
}

/**
 * The words by which a rule is called after the token, or that of a state; empty where the token means nothing there. Of a literal the state
 * that its rule is called after, where the set has a token of it.
 */
export function wordsMeant(index: TableIndex, { fore, wrote }: Pick<Case, 'fore' | 'wrote'>): readonly string[] {
  if (fore.kind === 'literal') return stateOfRule(index, wrote);
  if (fore.kind !== 'token') return [];
  const own = ownWords(index, fore.token);
  // What a palette calls white means nothing: `.bg-white` wants whatever is light there.
  const isHue = own.every((word) => HUES.has(word));
  if (own.length > 0 && !isHue && wrote.some((place) => own.every((word) => calledBy(place).has(word)))) return own;
  // What is read on the colour of a state says nothing itself.
  return isUpon(own) ? [] : own.filter((word) => stateIn(word) !== null).slice(0, 1);
}

function stateOfRule(index: TableIndex, wrote: Case['wrote']): readonly string[] {
  const own = wrote.filter(isRule).flatMap((place) => [...calledBy(place)]);
  const state = own.map(stateIn).find((each) => each !== null) ?? null;
  return state !== null && statesOf(index).has(state) ? [state] : [];
}

/** @param meant as `wordsMeant` says */
export function saysTheSame(index: TableIndex, token: number, meant: readonly string[]): boolean {
  const own = ownWords(index, token);
  const has = (word: string): boolean => own.includes(word) || own.some((each) => isSameState(each, word));
  return meant.every(has) && (meant.length === 0 || isUpon(own) === isUpon(meant));
}

/** Its name says that it is read on that token: `on-primary` on `primary`, `error-content` on `error`. */
export function isReadOn(index: TableIndex, token: number, ground: number): boolean {
  const own = ownWords(index, token);
  if (!isUpon(own)) return false;
  const [upon, under] = [uponWhat(own), ownWords(index, ground)];
  return under.length > 0 && upon.length === under.length && under.every((word) => upon.includes(word));
}

/**
 * Tokens whose names say that they are read on that one; where none is called after it alone, those that are called after its kind:
 * `on-emphasis` on `danger-emphasis`.
 */
export function madeFor(index: TableIndex, ground: number): ReadonlySet<number> {
  const known = madeForKnown(index);
  let found = known.get(ground);
  if (found === undefined) known.set(ground, (found = tokensMadeFor(index, ground)));
  return found;
}

const madeForKnown = perSet((): Map<number, ReadonlySet<number>> => new Map());

function tokensMadeFor(index: TableIndex, ground: number): ReadonlySet<number> {
  const all = index.table.tokens.map((_, token) => token);
  const own = all.filter((token) => isReadOn(index, token, ground));
  if (own.length > 0) return new Set(own);
  const under = ownWords(index, ground);
  const ends = (words: readonly string[]): boolean =>
    words.length > 0 && words.every((word, at) => word === under.at(at - words.length));
  const ofKind = all.flatMap((token) => {
    const words = ownWords(index, token);
    const upon = uponWhat(words);
    return isUpon(words) && ends(upon) ? [{ token, upon }] : [];
  });
  const most = Math.max(0, ...ofKind.map(({ upon }) => upon.length));
  return new Set(ofKind.filter(({ upon }) => upon.length === most).map(({ token }) => token));
}

/** Its name says that it is read on something. */
export function isOnSomething(index: TableIndex, token: number): boolean {
  return isUpon(ownWords(index, token));
}

function isSameState(one: string, other: string): boolean {
  const state = stateIn(one);
  return state !== null && state === stateIn(other);
}

/** Of each token that was asked about. */
const wordsKnown = perSet((): Map<number, readonly string[]> => new Map());

function ownWords(index: TableIndex, token: number): readonly string[] {
  const known = wordsKnown(index);
  let words = known.get(token);
  if (words === undefined) known.set(token, (words = wordsOfToken(index, token)));
  return words;
}

/** What tells it from other tokens: the last part of its path that says anything; of a function, what its properties have in common. */
function wordsOfToken(index: TableIndex, token: number): readonly string[] {
  const path = index.pathOf(token);
  const shared = sharedWords(index);
  const [first, ...others] = propertiesIn(path).map(wordsIn);
  const parts =
    first === undefined ? path.split('.').map(wordsIn) : [first.filter((word) => others.every((each) => each.includes(word)))];
  const own = parts.map((words) => words.filter((word) => !COMMON.has(word) && !shared.has(word) && !saysWhatFor(word)));
  return own.findLast((words) => words.length > 0) ?? [];
}

/** Share of a set's tokens that have a word when it is the set's own, as its prefix is; and from how many tokens that can be told (ours). */
const SHARED = 0.6;
const FEWEST = 10;

/** Words that tell no token of the set from another. */
const sharedWords = perSet((index): ReadonlySet<string> => {
  const { tokens } = index.table;
  const times = new Map<string, number>();
  for (const { path } of tokens) for (const word of new Set(wordsIn(path))) times.set(word, (times.get(word) ?? 0) + 1);
  const isShared = ([, count]: readonly [string, number]): boolean => tokens.length >= FEWEST && count >= tokens.length * SHARED;
  return new Set([...times].filter(isShared).map(([word]) => word));
});

/** States that tokens of the set are called after. */
const statesOf = perSet(
  (index) => new Set(index.table.tokens.flatMap((_, token) => ownWords(index, token).flatMap((word) => stateIn(word) ?? []))),
);

/** Worked out once a set. */
function perSet<V>(make: (index: TableIndex) => V): (index: TableIndex) => V {
  const known = new WeakMap<TableIndex, { readonly value: V }>();
  return (index) => {
    const found = known.get(index) ?? { value: make(index) };
    known.set(index, found);
    return found.value;
  };
}

/** Classes of the elements that the rule matches, not of those around them; what holds for the whole page is called after nothing. */
function calledBy({ rule }: WrittenPlace): ReadonlySet<string> {
  const last = rule.split(',').flatMap((complex) => /[^\s>+~]*$/u.exec(complex.trim()) ?? []);
  return new Set(last.flatMap((compound) => compound.match(/\.[\w-]+/gu) ?? []).flatMap(wordsIn));
}
