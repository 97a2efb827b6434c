// Colours that are built from custom properties, as tokens: properties that hold bare numbers, functions of several of them, and what the
// page's own colour tokens are built from.
import type { Color } from '../../colour/color.ts';
import { builtColor, propertiesIn, wholeProperty, withoutAlpha } from '../../colour/built-color.ts';
import { isSameColor } from '../cases/paint-ref.ts';
import type { Built, Definition, TableTheme, TokenEntry } from './token-table.ts';

export interface BuiltFrom {
  readonly themes: readonly TableTheme[];
  /** Theme → custom property → its text, colour or not. */
  readonly texts: ReadonlyMap<string, ReadonlyMap<string, string>>;
  /** Custom property → the function in its declaration. */
  readonly builtFor: ReadonlyMap<string, string>;
  /** Functions that rules use themselves. */
  readonly builtInRules: ReadonlySet<string>;
}

/** @param tokens properties that are colours @returns those, and after them the ones that are a colour only within a function */
export function builtTokens(tokens: readonly TokenEntry[], from: BuiltFrom): readonly TokenEntry[] {
  const known = new Set(tokens.map(({ path }) => path));
  const bare = new Map<string, TokenEntry>();
  const functions = [...from.builtFor.values(), ...from.builtInRules].toSorted();
  for (const built of functions) {
    const whole = wholeIn(built, from);
    // A property may be whole in several functions: `rgb(var(--rgb))`, `rgba(var(--rgb), .5)`.
    if (whole !== null && !known.has(whole) && !bare.has(whole))
      bare.set(whole, bareToken(whole, [whole], withoutAlpha(built, whole), from));
  }
  for (const built of [...from.builtInRules].toSorted())
    if (wholeIn(built, from) === null) bare.set(built, bareToken(built, [], built, from));
  return [...tokens.map((token) => withBuilt(token, from, bare)), ...[...bare.values()].filter(isAnywhere)];
}

function wholeIn(built: string, { texts }: BuiltFrom): string | null {
  for (const here of texts.values()) {
    const whole = wholeProperty(built, (name) => here.get(name));
    if (whole !== null) return whole;
  }
  return null;
}

function isAnywhere({ definitions }: TokenEntry): boolean {
  return definitions.some((definition) => definition !== null);
}

function bareToken(path: string, properties: readonly string[], text: string, from: BuiltFrom): TokenEntry {
  const built = from.themes.map(({ name }) => builtHere(text, from.texts.get(name)));
  const definitions = built.map((each): Definition | null => {
    const color = each === null ? null : colorOfBuilt(each);
    return each === null || color === null ? null : { kind: 'literal', color, declared: { id: idOf(each) } };
  });
  return { path, properties, definitions, built, isBare: true, isComposite: true };
}

/** Equal where all numbers are: nobody says which declaration governs which themes. */
function idOf({ text, numbers }: Built): string {
  return [text, ...numbers.values()].join(' ');
}

function builtHere(text: string, texts: ReadonlyMap<string, string> | undefined): Built | null {
  const numbers = propertiesIn(text).flatMap((name) => {
    const own = texts?.get(name);
    return own === undefined ? [] : [[name, own] as const];
  });
  return numbers.length === 0 ? null : { text, numbers: new Map(numbers) };
}

export function colorOfBuilt({ text, numbers }: Built): Color | null {
  return builtColor(text, (name) => numbers.get(name));
}

/** A token whose numbers all stand in one property follows that property; others keep their colour, and how it is built. */
function withBuilt(token: TokenEntry, from: BuiltFrom, bare: ReadonlyMap<string, TokenEntry>): TokenEntry {
  const text = from.builtFor.get(token.path);
  if (text === undefined) return token;
  const whole = bare.get(wholeIn(text, from) ?? '');
  const built = from.themes.map(({ name }, at): Built | null => {
    const here = builtHere(text, from.texts.get(name));
    const color = here === null ? null : colorOfBuilt(here);
    const definition = token.definitions[at];
    // What is more than numbers in a function has no colour here: then it is known what it is built from, and no more.
    const isBuilt = definition?.kind === 'literal' && (color === null || isSameColor(color, definition.color));
    return isBuilt ? here : null;
  });
  const definitions = token.definitions.map((definition, at): Definition | null => {
    const target = whole?.definitions[at];
    const follows = built[at] !== null && definition?.kind === 'literal' && target?.kind === 'literal';
    if (!follows || !isSameColor(definition.color, target.color)) return definition;
    return { kind: 'alias', target: whole?.path ?? '', declared: { id: `${token.path} ${text}` } };
  });
  return { ...token, definitions, built };
}
