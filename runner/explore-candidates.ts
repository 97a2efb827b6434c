// Rules of the style sheets → ways to put a theme on that are worth trying, the likeliest first. Pure.
import type { ThemeApply } from '../src/plan/configuration.ts';
import type { Switch } from './explore-selector.ts';
import { soundsLikeTheme } from './explore-scripts.ts';
import { switchesIn } from './explore-selector.ts';
import type { WireRule } from './page/explore-wire.ts';

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

/** More are not tried: each costs a repaint (ours). */
const MOST_CANDIDATES = 60;

/** A root that shares fewer properties with a rule is no sign (ours: libraries set one or two by accident). */
const LEAST_OVERLAP = 2;

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
    .filter((tally) => (isStrong(tally) || isPlausible(tally)) && !isPart(tally, inUse))
    .sort((a, b) => score(b) - score(a))
    .slice(0, MOST_CANDIDATES)
    .map(toCandidate);
}

function emptyTally(found: Switch): Tally {
  return { found, on: new Set(), overlap: 0, own: 0, inside: 0, scheme: false, sheets: new Set() };
}

function isStrong(tally: Tally): boolean {
  return tally.overlap >= LEAST_OVERLAP || tally.scheme;
}

/** Rules for several things inside, or colours on the root itself. */
function isPlausible({ inside, on, own, overlap }: Tally): boolean {
  return overlap > 0 || inside >= 2 || (own > 0 && (on.has('html') || on.has('body')));
}

/** In use below the root it is a part of the page; themes shown side by side are told by their names or their attribute. */
function isPart(tally: Tally, inUse: InUse): boolean {
  const { found } = tally;
  if (found.kind === 'class') return inUse.classes.has(found.name) && !soundsLikeTheme(found.name);
  return inUse.attributes.has(`${found.name}=${found.value}`) && !isStrong(tally);
}

function score(tally: Tally): number {
  const named = soundsLikeTheme(tally.found.kind === 'class' ? tally.found.name : `${tally.found.name} ${tally.found.value}`);
  return (isStrong(tally) ? 1000 : 0) + (named ? 500 : 0) + tally.overlap * 4 + tally.inside + tally.own;
}

function toCandidate(tally: Tally): Candidate {
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
    strong: isStrong(tally),
  };
}

function applyOf(found: Switch, on: string): ThemeApply {
  return found.kind === 'class'
    ? { class: { on, add: [found.name], remove: [] } }
    : { attribute: { on, name: found.name, value: found.value } };
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
