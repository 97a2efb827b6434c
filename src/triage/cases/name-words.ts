// The words of a token's name, and what they say that it is for: of tokens that nothing uses yet, no use tells.
import type { Role } from './case.ts';

type Said = 'ink' | 'ground' | 'line' | 'shadow';

/** Words of token names (common practice). */
const WORDS: Readonly<Record<Said, readonly string[]>> = {
  ink: ['text', 'ink', 'mark', 'foreground', 'fg', 'icon', 'label', 'caption', 'placeholder'],
  ground: ['background', 'bg', 'ground', 'surface', 'face', 'fill', 'panel', 'paper', 'canvas', 'backdrop'],
  line: ['border', 'bdr', 'edge', 'line', 'outline', 'stroke', 'divider', 'separator', 'rule', 'ring'],
  shadow: ['shadow', 'fall', 'elevation'],
};
const SAID = new Map((Object.keys(WORDS) as Said[]).flatMap((said) => WORDS[said].map((word) => [word, said] as const)));

const OF_ROLE: Readonly<Record<Role, Said | null>> = {
  ink: 'ink',
  glyph: 'ink',
  surface: 'ground',
  face: 'ground',
  edge: 'line',
  ring: 'line',
  shadow: 'shadow',
  picture: null,
};

/** The last word that says anything decides: `--menu-border-color`, `field.line`. @returns true as well where none does */
export function mayServeAs(role: Role, path: string): boolean {
  const said = saidIn(path);
  return said === undefined || said === OF_ROLE[role];
}

/** Its name says so. */
export function isCalledFor(role: Role, path: string): boolean {
  return saidIn(path) === OF_ROLE[role];
}

function saidIn(path: string): Said | undefined {
  return SAID.get(wordsIn(path).findLast((word) => SAID.has(word)) ?? '');
}

/** What it is drawn as, and nothing of what it means. */
export function saysWhatFor(word: string): boolean {
  return SAID.has(word);
}

/** Of two tokens that differ in nothing else, `icon-on-brand` is not for text, nor `text-on-brand` for icons. */
export function saysOtherInk(role: Role, path: string): boolean {
  const words = wordsIn(path);
  const [isIcon, isText] = [words.includes('icon'), words.includes('text')];
  return isIcon !== isText && ((role === 'ink' && isIcon) || (role === 'glyph' && isText));
}

const UPON = new Set(['content', 'contrast', 'inverse', 'invert']);
/** What any colour may be meant to be read on (common practice). */
const PAGES = new Set(['scheme', 'page', 'body', 'light', 'dark', 'white', 'black']);

/**
 * Of a token that is read on another one, which has the same name without (common practice): `error-content`, `on-error`. `error-on-page` is
 * the error itself.
 */
export function isUpon(words: readonly string[]): boolean {
  const on = words.indexOf('on');
  return words.some((word) => UPON.has(word)) || on === 0 || (on > 0 && words.slice(on + 1).some((word) => !PAGES.has(word)));
}

/** What it is read on: the words that are left without those that say so. */
export function uponWhat(words: readonly string[]): readonly string[] {
  return words.filter((word) => word !== 'on' && !UPON.has(word));
}

type State = 'error' | 'warning' | 'success' | 'info';

/** What sets call the states that a colour may tell of (common practice). */
const STATES: Readonly<Record<State, readonly string[]>> = {
  error: ['error', 'danger', 'critical', 'destructive', 'negative', 'invalid'],
  warning: ['warning', 'warn', 'caution'],
  success: ['success', 'positive', 'valid'],
  info: ['info', 'information', 'informative'],
};
const STATE_OF = new Map((Object.keys(STATES) as State[]).flatMap((state) => STATES[state].map((word) => [word, state] as const)));

/** @returns null where the word tells of none */
export function stateIn(word: string): State | null {
  return STATE_OF.get(word) ?? null;
}

/** What sets call the moments of a control (common practice). */
const MOMENTS: Readonly<Record<string, readonly string[]>> = {
  hover: ['hover', 'hovered'],
  press: ['press', 'pressed', 'click', 'clicked', 'active', 'activated'],
  focus: ['focus', 'focused'],
  choose: ['selected', 'checked'],
  off: ['disabled'],
  visit: ['visited'],
};
const MOMENT_OF = new Map(Object.entries(MOMENTS).flatMap(([moment, words]) => words.map((word) => [word, moment] as const)));

/** @returns null where the word tells of none */
export function momentIn(word: string): string | null {
  return MOMENT_OF.get(word) ?? null;
}

/** What sets call the colours of a brand (common practice). */
const BRAND = new Set(['primary', 'accent', 'brand']);

/** `--primary`; `--text-primary` is the first of several texts. */
export function saysBrand(words: readonly string[]): boolean {
  return words.some((word) => BRAND.has(word)) && !words.some(saysWhatFor);
}

/**
 * Kinds of controls and parts of pages that sets have tokens for (common practice), and what else a place of the kind may be called; what such
 * words begin is meant as well (`menuitem`), where that is no other word.
 */
const KINDS: Readonly<Record<string, RegExp>> = {
  field: /^(?:form(?:s|control|element|field)?|fields?|inputs?|textarea|select)$/u,
  button: /^(?:button|btn)/u,
  menu: /^(?:menu|dropdown|popover|listbox)/u,
  code: /^(?:code|kbd|pre|samp)$/u,
  table: /^(?:table(?!t)|thead|tbody|(?:td|th|tr)$)/u,
  navigation: /^(?:nav(?!y)|sidebar|topbar|appbar|shell)/u,
  footer: /^foot/u,
  tab: /^tabs?$/u,
  chart: /^(?:chart|graph(?!it)|plot|series)/u,
  image: /^(?:image|img|picture|photo)/u,
  highlight: /^(?:highlight|selection)/u,
  edit: /^(?:del|ins|deleted|inserted)$/u,
};
const OWN_KINDS =
  /^(?:accordion|alert|avatar|badge|blockquote|breadcrumb|calendar|carousel|checkbox|chip|dialog|modal|drawer|indicat|pagination|progress|radio|rating|scroll|skeleton|slider|snackbar|spinner|stepper|switch|toast|toggle|tooltip)/u;

/** What kinds of things a name speaks of. */
export function kindsIn(words: readonly string[]): readonly string[] {
  return words.flatMap((word) => {
    const shared = Object.keys(KINDS).find((kind) => KINDS[kind]?.test(word));
    return shared ?? OWN_KINDS.exec(word)?.[0] ?? [];
  });
}

/** What stands before two hyphens, as sets part a component from what it has a colour for: `--kit-logbook--face`. Empty without. */
export function componentIn(path: string): string {
  return /^--(.+)--/u.exec(path)?.[1] ?? '';
}

/** Numbers count things or steps, and single letters say nothing. */
export function wordsIn(text: string): readonly string[] {
  const parted = text.replace(/(?<=[a-z])(?=[A-Z])/gu, ' ').toLowerCase();
  return parted.split(/[^a-z]+/u).filter((word) => word.length > 1);
}
