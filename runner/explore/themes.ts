// What was tried and how the page then looked → themes: ways that look alike are one theme, and the plainest way of them is kept.
import type { ObservedTheme } from '../../src/plan/observed-app.ts';
import type { ThemeApply } from '../../src/plan/configuration.ts';
import { themeName } from './candidates.ts';
import { soundsLikeTheme } from './scripts.ts';
import { difference, isRepainted, toneOf } from './look.ts';
import type { Difference, Look } from './look.ts';

/** One way of putting a theme on, and what came of it. */
export interface Tried {
  readonly apply: ThemeApply;
  readonly look: Look;
  readonly name: string;
  readonly evidence: string;
  /** A small change counts too. */
  readonly strong: boolean;
  /** A control of the app puts it on. */
  readonly isChosen?: true;
}

/** Two looks this close are the same (ours: clocks, carets and late pictures stay below it). */
const SAME = { elements: 0.01, pixels: 0.005 } as const;
/** Values of one attribute are themes of one family: they may differ in an accent only. */
const KIN = { elements: 0.001, pixels: 0.0005 } as const;
/** A theme repaints at least this much; a weakly founded guess must repaint a good part of the screen. */
const CHANGED = { strong: 0.04, weak: 0.25 } as const;

/** The page as it loads, untouched. */
export interface Base {
  readonly look: Look;
  /** Difference between two looks at it. */
  readonly noise: Difference;
  /** Value of an attribute as the page loads; undefined where it has none. */
  valueOf(on: string, name: string): string | undefined;
}

/** @returns the page as it loads first, then the others in the order they were tried */
export function toThemes(base: Base, tried: readonly Tried[]): readonly ObservedTheme[] {
  const { look, noise } = base;
  const groups: Tried[][] = [];
  for (const one of tried) {
    const change = difference(look, one.look);
    if (isSame(change, noise) || !isTheme(one, look, change, noise)) continue;
    const known = groups.find(([first]) => first !== undefined && areOne(first, one, noise));
    if (known === undefined) groups.push([one]);
    else known.push(one);
  }
  for (const one of tried.filter((maybe) => groups.some(([first]) => first !== undefined && areKin(first, maybe)))) {
    if (groups.some((group) => group.includes(one)) || isSame(difference(look, one.look), noise, KIN)) continue;
    const known = groups.find(([first]) => first !== undefined && areOne(first, one, noise));
    if (known === undefined) groups.push([one]);
    else known.push(one);
  }
  const others = founded(groups).flatMap((group): ObservedTheme[] => {
    const best = plainest(group);
    if (best === undefined) return [];
    const evidence = [...new Set(group.map((one) => one.evidence))];
    return [{ name: nameOf(group, best), tone: toneOf(best.look), apply: best.apply, evidence }];
  });
  return withOwnNames(oncePutOn([asLoaded(base, tried, others), ...others]));
}

/** Where a way is well founded, or called like a theme, the others are parts of the page that happen to paint much of it. */
function founded(groups: readonly (readonly Tried[])[]): readonly (readonly Tried[])[] {
  const sound = groups.filter((group) => group.some(({ strong, name }) => strong || soundsLikeTheme(name)));
  const chosen = groups.flat().filter(({ isChosen }) => isChosen === true);
  // Where people choose a theme by a control, rules for something else mostly colour parts of pages, unless they are called like themes.
  const isOfChoice = (one: Tried): boolean =>
    classOrAttribute(one.apply) === undefined || soundsLikeTheme(saidBy(one.apply)) || chosen.some((other) => areKin(one, other));
  const kept = chosen.length === 0 ? sound : sound.filter((group) => group.some(isOfChoice));
  return kept.length > 0 ? kept : groups;
}

function classOrAttribute({ attributes = [], class: classes }: ThemeApply): unknown {
  return attributes[0] ?? classes;
}

function saidBy({ attributes = [], class: classes }: ThemeApply): string {
  return [...attributes.map(({ name, value }) => `${name} ${value}`), ...(classes?.add ?? [])].join(' ');
}

/** Named as the app itself names it, where the switch of another theme has a value for it. */
function asLoaded(base: Base, tried: readonly Tried[], others: readonly ObservedTheme[]): ObservedTheme {
  const tone = toneOf(base.look);
  const evidence = ['as the app loads'];
  for (const { apply } of others) {
    const { attributes = [] } = apply;
    const [first] = attributes;
    if (first === undefined || attributes.some(({ name }) => name === 'style')) continue;
    const own = attributes.map((each) => ({ ...each, value: base.valueOf(each.on, each.name) ?? '' }));
    if (own.every(({ value }) => value !== ''))
      return { name: themeName(own[0]?.value ?? ''), tone, apply: { attributes: own }, evidence };
    const alike = tried.filter((one) => {
      const [its, ...more] = one.apply.attributes ?? [];
      const isOfIt = its?.name === first.name && its.on === first.on && its.value !== '' && more.length === 0;
      return isOfIt && one.strong && isSame(difference(base.look, one.look), base.noise);
    });
    // Values that mean nothing there look the same as well: of several nobody can tell.
    const [same, ...others] = new Map(alike.map((one) => [one.apply.attributes?.[0]?.value, one])).values();
    if (same !== undefined && others.length === 0)
      return { name: same.name, tone, apply: same.apply, evidence: [...evidence, same.evidence] };
  }
  return { name: tone, tone, apply: {}, evidence };
}

function isSame(change: Difference, noise: Difference, most: Difference = SAME): boolean {
  return change.elements <= most.elements + 2 * noise.elements && change.pixels <= most.pixels + 2 * noise.pixels;
}

function areOne(a: Tried, b: Tried, noise: Difference): boolean {
  return isSame(difference(a.look, b.look), noise, areKin(a, b) ? KIN : SAME);
}

/** Two values of one attribute. */
function areKin(a: Tried, b: Tried): boolean {
  const [[one, ...more] = [], [other, ...others] = []] = [a.apply.attributes, b.apply.attributes];
  if (one === undefined || other === undefined || more.length + others.length > 0) return false;
  return one.on === other.on && one.name === other.name && one.value !== other.value;
}

function isTheme({ strong, look: now }: Tried, before: Look, change: Difference, noise: Difference): boolean {
  // A value that the app makes an address of, which leads nowhere: the page without its styles.
  if (now.lostSheets > before.lostSheets) return false;
  if (strong && change.elements - noise.elements >= CHANGED.strong) return true;
  // Colours of few elements may repaint much; that things move repaints nothing.
  if (strong && change.pixels - noise.pixels >= CHANGED.strong && isRepainted(before, now)) return true;
  // A class that moves things or hides text is no theme.
  return change.pixels - noise.pixels >= CHANGED.weak && isRepainted(before, now);
}

/** In place before media before reloads: the quicker a theme is put on, the quicker a run is. Of equals what the app itself does. */
function plainest(group: readonly Tried[]): Tried | undefined {
  const isChosen = (one: Tried): number => (one.isChosen === true ? 0 : 1);
  return [...group].sort((a, b) => rank(a) - rank(b) || isChosen(a) - isChosen(b))[0];
}

function rank({ apply, isChosen }: Tried): number {
  const { attributes = [], class: classes, media, storage, cookie, query } = apply;
  const [attribute] = attributes;
  const parts = Object.keys(apply).length - 1 + Math.max(0, attributes.length - 1);
  // A style attribute is somebody's implementation, not a switch.
  const inPlace = attribute?.name === 'style' ? 45 : (attribute ?? classes)?.on === 'html' ? 10 : 15;
  const own =
    storage !== undefined ? 50 : cookie !== undefined ? 60 : query !== undefined ? 40 : media !== undefined ? 30 : inPlace;
  // What the app's own control takes away belongs to its theme.
  return own + parts + (classes === undefined ? 0 : 2 + (isChosen === true ? 0 : classes.remove.length));
}

function nameOf(group: readonly Tried[], best: Tried): string {
  const telling = (name: string): boolean => !/^(true|on|yes|\d+|theme)$/.test(name);
  return telling(best.name) ? best.name : (group.find(({ name }) => telling(name))?.name ?? toneOf(best.look));
}

/** What is put on in the same way is one theme, though the page looked otherwise at another moment (a menu that opened, a late picture). */
function oncePutOn(themes: readonly ObservedTheme[]): readonly ObservedTheme[] {
  const byWay = new Map<string, ObservedTheme>();
  for (const theme of themes) {
    const way = wayOf(theme.apply);
    const known = byWay.get(way);
    const evidence = [...new Set([...(known?.evidence ?? []), ...theme.evidence])];
    byWay.set(way, { ...(known ?? theme), evidence });
  }
  return [...byWay.values()];
}

/** Equal where the members are, in whatever order they were written. */
function wayOf(apply: ThemeApply): string {
  const sorted = (value: unknown): unknown =>
    typeof value !== 'object' || value === null || Array.isArray(value)
      ? value
      : Object.entries(value)
          .sort(([a], [b]) => (a < b ? -1 : 1))
          .map(([name, member]) => [name, sorted(member)]);
  return JSON.stringify(sorted(apply));
}

function withOwnNames(themes: readonly ObservedTheme[]): readonly ObservedTheme[] {
  const used = new Set<string>();
  return themes.map((theme) => {
    let name = theme.name;
    for (let n = 2; used.has(name); n += 1) name = `${theme.name}-${String(n)}`;
    used.add(name);
    return { ...theme, name };
  });
}
