// Cases under a contrast requirement → inequalities that are linear in the logarithm of luminance, exact for opaque colours and tangent
// where alpha, gradients of opacity or filters lie between a token and what is seen.
import type { Color } from '../colour/color.ts';
import { isOpaque } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import type { Case } from '../triage/cases/case.ts';
import { MARGIN } from '../triage/recolor/judge.ts';
import { tokensOf } from '../triage/cases/paint-ref.ts';
import { pairsOf, recolor } from '../triage/recolor/recolor.ts';
import type { SeenPair } from '../triage/recolor/seen-pair.ts';
import type { World } from '../triage/world.ts';
import type { Assignment, Driver } from './assignment.ts';
import { colorUnder, driverKey, driverOf, recoloringUnder } from './assignment.ts';
import { colorAt, LEAST_LOG, logLuminance, MIDDLE_LOG, MOST_LOG } from './log-luminance.ts';
import type { Movable } from './movable.ts';

/** What the difference of ink and ground gains when a driver's logarithm grows by one. */
export interface Pull {
  readonly theme: number;
  readonly driver: Driver;
  readonly factor: number;
}

export interface Requirement {
  /** Equal for requirements that ask the same of the same colours; stands for all its cases. */
  readonly key: string;
  readonly theme: number;
  /** The ink is the lighter one: 1; the darker one: −1. */
  readonly side: 1 | -1;
  /** Ink minus ground, on the scale of logarithms, as assigned now. */
  readonly difference: number;
  /** Logarithm of the ratio asked for, margin included. */
  readonly least: number;
  /** What is aimed at beyond that, because rounding took it away before. */
  readonly spare: number;
  readonly pulls: readonly Pull[];
  readonly cases: readonly Case[];
}

export interface RequirementsUnder {
  readonly requirements: readonly Requirement[];
  /** Cases under a requirement whose colours no movable declaration decides, or in a way that is not recomputed. */
  readonly outOfReach: readonly Case[];
}

/** Ratios from here tell which of the two is meant to be the lighter (ours: two near greys do not). */
const PLAIN_SIDE = Math.log(1.6);
/** Most colours round to within this. */
const LEAST_SPARE = 0.002;
/** How far a driver is moved to see what it pulls. */
const NUDGE = 0.06;

interface Setting {
  readonly world: World;
  readonly movable: Movable;
  readonly assignment: Assignment;
  /** Ids of cases that are no matter of the palette. */
  readonly others: ReadonlySet<number>;
}

/** @param spare by key */
export function requirementsUnder(setting: Setting, spare: ReadonlyMap<string, number>): RequirementsUnder {
  const { world, movable } = setting;
  const recoloring = recoloringUnder(world, movable, setting.assignment);
  const found = new Map<string, Requirement & { readonly cases: Case[] }>();
  const outOfReach: Case[] = [];
  for (const one of world.cases) {
    if (one.required === 0 || !one.judged || setting.others.has(one.id)) continue;
    const recolored = recolor(one, recoloring);
    const pairs = recolored.kind === 'pairs' ? recolored.pairs : pairsOf(one);
    const drivers = recolored.kind === 'unsure' || isStrange(one) ? [] : driversOf(setting, one);
    if (drivers.length === 0) {
      outOfReach.push(one);
      continue;
    }
    pairs.forEach((pair, at) => {
      const pulls = pullsOf(setting, one, { pair, at, drivers });
      const difference = differenceOf(pair);
      const key = requirementKey(one, drivers, pulls, at);
      const known = found.get(key);
      if (known !== undefined) {
        if (known.cases.at(-1) !== one) known.cases.push(one);
        return;
      }
      const asked = { least: Math.log(one.required * MARGIN), spare: spare.get(key) ?? LEAST_SPARE };
      found.set(key, { key, theme: one.theme, side: sideOf(one, pair), difference, ...asked, pulls, cases: [one] });
    });
  }
  return { requirements: [...found.values()], outOfReach };
}

/** What a filter turned, and what a page serves otherwise than its files, follows no palette: filter and build come first. */
function isStrange(one: Case): boolean {
  return one.filters.length > 0 || one.fore.kind === 'stale' || one.back.at(-1)?.ref.kind === 'stale';
}

export function differenceOf({ fore, back }: SeenPair): number {
  return logLuminance(fore) - logLuminance(back);
}

/** What moves the case's colours, each once. */
function driversOf({ world, movable }: Setting, one: Case): readonly Driver[] {
  const drivers = new Map<string, Driver>();
  for (const ref of [one.fore, ...one.back.map((layer) => layer.ref)]) {
    if (ref.kind !== 'token') continue;
    for (const token of tokensOf(ref)) {
      const driver = driverOf(world.index, movable, one.theme, token);
      if (driver !== null) drivers.set(driverKey(driver), driver);
    }
  }
  return [...drivers.values()];
}

function pullsOf(
  setting: Setting,
  one: Case,
  of: { readonly pair: SeenPair; readonly at: number; readonly drivers: readonly Driver[] },
): readonly Pull[] {
  return of.drivers.flatMap((driver): Pull[] => {
    const factor = plainFactor(setting, one, driver) ?? nudgedFactor(setting, one, driver, of);
    return Math.abs(factor) < 1e-4 ? [] : [{ theme: one.theme, driver, factor }];
  });
}

/** Where ink and ground are opaque and nothing lies over them: 1 for the ink, −1 for the ground. Null elsewhere. */
function plainFactor({ world, movable }: Setting, one: Case, driver: Driver): number | null {
  if (one.filters.length > 0 || one.foreFixed || one.backFixed || one.foreOpacity * one.share < 1) return null;
  const top = one.back.at(-1);
  if (top === undefined || top.tint !== undefined || top.opacity < 1 || top.blend !== 'normal') return null;
  if (!isOpaque(one.fore.color) || !isOpaque(top.ref.color)) return null;
  const isIt = (token: number): boolean => {
    const own = driverOf(world.index, movable, one.theme, token);
    return own !== null && driverKey(own) === driverKey(driver);
  };
  const ink = one.fore.kind === 'token' && isIt(one.fore.token) ? 1 : 0;
  const ground = top.ref.kind === 'token' && isIt(top.ref.token) ? 1 : 0;
  return ink - ground;
}

function nudgedFactor(setting: Setting, one: Case, driver: Driver, of: { readonly pair: SeenPair; readonly at: number }): number {
  const { world, movable, assignment } = setting;
  const step = driver.kind === 'step' ? driver.at : driver.step;
  const declaration = movable.steps[step];
  if (declaration === undefined) return 0;
  const now = colorUnder({ index: world.index, movable, assignment }, one.theme, tokenOf(movable, driver));
  if (now === null) return 0;
  const from = logLuminance(now);
  const to = from + NUDGE > MOST_LOG ? from - NUDGE : from + NUDGE;
  const nudged = colorAt(now, Math.max(LEAST_LOG, to));
  const moved = logLuminance(nudged) - from;
  if (moved === 0) return 0;
  const recolored = recolor(one, nudge(setting, one.theme, driver, nudged));
  const pair = recolored.kind === 'pairs' ? recolored.pairs[of.at] : undefined;
  return pair === undefined ? 0 : (differenceOf(pair) - differenceOf(of.pair)) / moved;
}

function tokenOf(movable: Movable, driver: Driver): number {
  return (driver.kind === 'step' ? movable.steps[driver.at]?.token : movable.aliases[driver.at]?.token) ?? -1;
}

/** As assigned, but for one driver in one theme. */
function nudge(setting: Setting, theme: number, driver: Driver, color: Color): ReturnType<typeof recoloringUnder> {
  const { world, movable, assignment } = setting;
  const base = recoloringUnder(world, movable, assignment);
  const key = driverKey(driver);
  return {
    ...base,
    colorOf: (one, at) => {
      const ref = at === -1 ? one.fore : one.back[at]?.ref;
      if (ref?.kind === 'token' && one.theme === theme) {
        const own = driverOf(world.index, movable, theme, ref.token);
        if (own !== null && driverKey(own) === key) return { ...color, alpha: color.alpha * ref.alpha };
      }
      return base.colorOf(one, at);
    },
  };
}

/** Ink above or below its ground: as it is where that is plain, else the side with more room. */
function sideOf(one: Case, pair: SeenPair): 1 | -1 {
  const [first] = pairsOf(one);
  const before = differenceOf(first ?? pair);
  if (Math.abs(before) >= PLAIN_SIDE) return before > 0 ? 1 : -1;
  return logLuminance(pair.back) > MIDDLE_LOG ? -1 : 1;
}

/** The same under every assignment, so that what rounding took from a requirement is made up for in the next round. */
function requirementKey(one: Case, drivers: readonly Driver[], pulls: readonly Pull[], at: number): string {
  const moved = drivers.map(driverKey).join('|');
  const isPlain = pulls.length === drivers.length && pulls.every(({ factor }) => Math.abs(factor) === 1);
  const pair = pairsOf(one)[at];
  // Where all of it moves, the drivers say it all; what shines through or stays is known by what was seen.
  const seen =
    isPlain && drivers.length === 2 ? '' : ` ${toCssText(pair?.fore ?? one.seenFore)} ${toCssText(pair?.back ?? one.seenFore)}`;
  return `${one.theme} ${one.required} ${moved}${seen}`;
}
