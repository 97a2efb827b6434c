// Rules of the style sheets → ways to put a theme on that are worth trying, the likeliest first. Pure.
import type { ThemeApply } from '../../src/plan/configuration.ts';
import type { Switch } from './selector.ts';
import { soundsLikeTheme } from './scripts.ts';
import { switchesIn } from './selector.ts';
import type { WireRule } from '../page/wire/explore.ts';

export interface Candidate {
  /** Alternatives: the first that changes the page counts. */
  readonly applies: readonly ThemeApply[];
  /** What the theme may be called. */
  readonly name: string;
  readonly evidence: string;
  /** It redefines what the root defines, or sets `color-scheme`: a small change counts too. */
  readonly strong: boolean;
}

/** What the document has below the root: a class in use there names a part of the page, not a theme. */
export interface InUse {
  readonly classes: ReadonlySet<string>;
  /** `name=value` */
  readonly attributes: ReadonlySet<string>;
}

interface Tally {
  readonly found: Switch;
  readonly on: Set<string | null>;
  /** Custom properties it sets that the root sets too. */
  overlap: number;
  /** Colour declarations and properties on the carrier itself. */
  own: number;
  /** Rules for what is inside. */
  inside: number;
  scheme: boolean;
  readonly sheets: Set<string>;
}

type Judged = Tally & { readonly strong: boolean };

/** More are not tried: each costs a repaint (ours). */
const MOST_CANDIDATES = 60;

/** A root that shares fewer properties with a rule is no sign (ours: libraries set one or two by accident). */
const LEAST_OVERLAP = 2;
/** A part of the page redefines a few of many; a theme more (ours: 1 in 300 and 1 in 9 on two libraries). */
const LEAST_SHARE = 0.05;

export function switchCandidates(rules: readonly WireRule[], inUse: InUse): readonly Candidate[] {
  const root = new Set(rules.filter((rule) => rule.root || rule.selector.includes(':host')).flatMap((rule) => rule.properties));
  const tallies = new Map<string, Tally>();
  for (const rule of rules) {
    const overlap = rule.properties.filter((name) => root.has(name)).length;
    for (const use of switchesIn(rule.selector)) {
      const key = JSON.stringify(use.switch);
      const tally = tallies.get(key) ?? emptyTally(use.switch);
      tallies.set(key, tally);
      if (use.part === 'self') {
        tally.on.add(use.on);
        tally.overlap += overlap;
        tally.own += rule.properties.length + rule.colors;
        tally.scheme ||= rule.scheme !== '';
      } else {
        if (use.on === 'html' || use.on === 'body') tally.on.add(use.on);
        tally.inside += 1;
      }
      tally.sheets.add(rule.sheet);
    }
  }
  return [...tallies.values()]
    .map((tally): Judged => ({ ...tally, strong: isStrong(tally, root.size) }))
    .filter((tally) => (tally.strong || isPlausible(tally)) && !hasOwnMeaning(tally.found) && !isPart(tally, inUse))
    .sort((a, b) => score(b) - score(a))
    .slice(0, MOST_CANDIDATES)
    .map(toCandidate);
}

function emptyTally(found: Switch): Tally {
  return { found, on: new Set(), overlap: 0, own: 0, inside: 0, scheme: false, sheets: new Set() };
}

/** It redefines a good part of what the root defines, or is called like a theme and redefines some of it. */
function isStrong({ found, overlap, scheme }: Tally, rootSize: number): boolean {
  if (overlap >= LEAST_OVERLAP && (overlap >= LEAST_SHARE * rootSize || soundsLikeTheme(wordsOf(found)))) return true;
  return scheme && (overlap > 0 || soundsLikeTheme(wordsOf(found)));
}

/** Rules for several things inside, or colours on the root itself; what goes with several other classes varies parts of the page. */
function isPlausible({ inside, on, own }: Tally): boolean {
  const variants = [...on].filter((carrier) => carrier !== null && !['html', 'body', ':host'].includes(carrier));
  if (variants.length >= 2) return false;
  return inside >= 2 || (own > 0 && (on.has('html') || on.has('body')));
}

function wordsOf(found: Switch): string {
  return found.kind === 'class' ? found.name : `${found.name} ${found.value}`;
}

/** Attributes that HTML and ARIA give a meaning of their own are no theme switches. */
function hasOwnMeaning(found: Switch): boolean {
  return found.kind === 'attribute' && (found.name.startsWith('aria-') || HTML_ATTRIBUTES.has(found.name));
}

/** HTML Living Standard, "Attributes": those that style sheets commonly ask for. */
const HTML_ATTRIBUTES = new Set(
  `alt autocomplete autofocus checked cite class cols colspan contenteditable controls datetime dir disabled download draggable
  enctype for form height hidden href hreflang id inert inputmode kind label lang list loading max maxlength media method min
  minlength multiple muted name novalidate open part pattern placeholder popover readonly rel required reversed role rows
  rowspan scope selected shape size slot span spellcheck src start step style tabindex target title translate type value width wrap`.split(
    /\s+/,
  ),
);

/** In use below the root it is a part of the page; themes shown side by side are told by their names or their attribute. */
function isPart(tally: Judged, inUse: InUse): boolean {
  const { found } = tally;
  if (found.kind === 'class') return inUse.classes.has(found.name) && !soundsLikeTheme(found.name);
  return inUse.attributes.has(`${found.name}=${found.value}`) && !tally.strong;
}

function score(tally: Judged): number {
  const named = soundsLikeTheme(wordsOf(tally.found));
  return (tally.strong ? 1000 : 0) + (named ? 500 : 0) + tally.overlap * 4 + tally.inside + tally.own;
}

function toCandidate(tally: Judged): Candidate {
  const { found } = tally;
  const written = found.kind === 'class' ? `.${found.name}` : `[${found.name}="${found.value}"]`;
  const sheets = [...tally.sheets].map(shortSheet);
  const others = [...tally.on].filter((on): on is string => on !== null && !['html', 'body', ':host'].includes(on));
  const named = [...(tally.on.has('html') ? ['html'] : []), ...(tally.on.has('body') ? ['body'] : []), ...others];
  return {
    applies: [...new Set(tally.on.has(null) || named.length === 0 ? ['html', 'body', ...others] : named)].map((on) =>
      applyOf(found, on),
    ),
    name: themeName(found.kind === 'class' ? found.name : found.value === '' ? found.name : found.value),
    evidence: `${sheets.slice(0, 2).join(' and ')} ${sheets.length > 1 ? 'have' : 'has'} rules for ${written}`,
    strong: tally.strong,
  };
}

function applyOf(found: Switch, on: string): ThemeApply {
  return found.kind === 'class'
    ? { class: { on, add: [found.name], remove: [] } }
    : { attributes: [{ on, name: found.name, value: found.value }] };
}

/** `theme-dusk`, `dusk-mode`, `is-dusk` → `dusk`; safe as a name in a configuration. */
export function themeName(text: string): string {
  const words = text
    .replace(/([a-z])([A-Z])/g, '$1-$2')
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
  const telling = words.filter(
    (word) => !['theme', 'themes', 'mode', 'scheme', 'color', 'colour', 'is', 'data', 'skin', 'ui'].includes(word),
  );
  return (telling.length === 0 ? words : telling).join('-') || 'theme';
}

function shortSheet(sheet: string): string {
  if (sheet === '') return 'a style element';
  return sheet.split(/[?#]/)[0]?.split('/').at(-1) || sheet;
}

/** Ways that media features switch themes; each costs little, so they are tried without any sign too. */
export function mediaCandidates(rules: readonly WireRule[], scriptText: string): readonly Candidate[] {
  const conditions = rules.flatMap((rule) => rule.media).join(' ');
  const adapts = rules.some((rule) => rule.lightDark || /light.*dark|dark.*light/.test(rule.scheme));
  const asks = (feature: string): string =>
    conditions.includes(feature)
      ? `style sheets ask for ${feature}`
      : scriptText.includes(feature)
        ? `scripts ask for ${feature}`
        : feature === 'prefers-color-scheme' && adapts
          ? 'color-scheme follows the system (light-dark() or system colours)'
          : `the page changes with ${feature}`;
  return [
    { applies: [{ media: { colorScheme: 'dark' } }], name: 'dark', evidence: asks('prefers-color-scheme'), strong: true },
    { applies: [{ media: { contrast: 'more' } }], name: 'contrast', evidence: asks('prefers-contrast'), strong: true },
  ];
}
