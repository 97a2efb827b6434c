// Which tokens are ramps: as configured, else told from the aliases – literals at the end of other tokens' chains, with their
// siblings. Names never say that something is a ramp (Format 2025.10, F6, F9.2); they only give the order of its steps.
import { toOklch } from '../colour/lightness.ts';
import type { Ramp, TokenGraph } from './graph.ts';
import { pathMatcher } from './path-glob.ts';

/** Fewer colours are no ramp. Ours: two are a pair, three can already be out of order. */
const LEAST_STEPS = 3;
/** Unnumbered colours are a ramp only if their hues keep together this closely. Ours: twice the drift allowed within a ramp, and some. */
const HUE_SPREAD_DEG = 40;
/** Unnumbered greys are a ramp only if there are more than those that stand together by chance: black, white, a clear one. Ours. */
const LEAST_GREYS = 5;
/** Below this OKLCH chroma a hue says nothing (reference of the ramp checks: 0.03). */
const LEAST_CHROMA = 0.03;

interface Family {
  readonly name: string;
  readonly numbered: boolean;
  readonly steps: string[];
}

export function findRamps(graph: TokenGraph, globs: readonly string[]): readonly Ramp[] {
  const isColor = (path: string): boolean => graph.themes.some((theme) => graph.colorOf(path, theme) !== null);
  if (globs.length > 0) {
    const matchers = globs.map(pathMatcher);
    const named = [...graph.tokens.keys()].filter((path) => matchers.some((matches) => matches(path)) && isColor(path));
    return toRamps(familiesOf(named), 'configuration', 1);
  }
  const literals = [...graph.tokens.keys()].filter((path) => isColor(path) && isLiteral(graph, path));
  const ends = new Set(literals.filter((path) => graph.users(path).length > 0));
  return toRamps(
    familiesOf(literals).filter((family) => isRamp(graph, family, ends)),
    'aliases',
    LEAST_STEPS,
  );
}

/** In every theme it has a value of its own. */
function isLiteral(graph: TokenGraph, path: string): boolean {
  return (graph.tokens.get(path)?.themes ?? []).every((theme) => graph.stepOf(path, theme) === path);
}

/** Numbered steps may have unused ones; unnumbered siblings are a ramp only if most are aliased and look alike. */
function isRamp(graph: TokenGraph, family: Family, ends: ReadonlySet<string>): boolean {
  const used = family.steps.filter((path) => ends.has(path)).length;
  if (family.steps.length < LEAST_STEPS || used === 0) return false;
  return family.numbered || (used * 2 > family.steps.length && keepTogether(graph, family.steps));
}

function keepTogether(graph: TokenGraph, steps: readonly string[]): boolean {
  const hues = steps.flatMap((path) => {
    const theme = graph.tokens.get(path)?.themes[0];
    const color = theme === undefined ? null : graph.colorOf(path, theme);
    const oklch = color === null ? null : toOklch(color);
    return oklch !== null && oklch.chroma >= LEAST_CHROMA ? [oklch.hueDeg] : [];
  });
  const [first] = hues;
  if (first === undefined) return steps.length >= LEAST_GREYS;
  return hues.every((hue) => hues.every((other) => hueDistance(hue, other) <= HUE_SPREAD_DEG));
}

/** Degrees between two hues, 0–180. */
export function hueDistance(a: number, b: number): number {
  const apart = Math.abs(a - b) % 360;
  return apart > 180 ? 360 - apart : apart;
}

/** `silt.100`, `silt-200`, `--silt-300` → family and number; a path without a final number belongs to its group. */
function familiesOf(paths: readonly string[]): readonly Family[] {
  const families = new Map<string, Family>();
  for (const path of paths) {
    const numbered = /^(.*?)[.\-_ ]?(\d+)$/u.exec(path);
    const stem = numbered?.[1] ?? '';
    const cut = path.startsWith('--') ? path.lastIndexOf('-') : path.lastIndexOf('.');
    const name = numbered !== null && stem !== '' ? stem : path.slice(0, Math.max(0, cut));
    const key = `${numbered === null ? 'group' : 'stem'} ${name}`;
    const family = families.get(key);
    if (family === undefined) families.set(key, { name, numbered: numbered !== null, steps: [path] });
    else family.steps.push(path);
  }
  return [...families.values()];
}

function toRamps(families: readonly Family[], told: Ramp['told'], least: number): readonly Ramp[] {
  return families
    .filter(({ steps }) => steps.length >= least)
    .map(({ name, numbered, steps }) => ({
      family: name,
      steps: numbered ? steps.toSorted((a, b) => numberAtEnd(a) - numberAtEnd(b)) : steps,
      told,
    }));
}

function numberAtEnd(path: string): number {
  return Number(/\d+$/.exec(path)?.[0] ?? 0);
}
