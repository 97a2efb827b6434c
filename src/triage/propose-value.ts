// Candidates that give a token another colour: a step of a ramp, or a literal that no ramp holds.
import type { Color } from '../colour/color.ts';
import { deltaEOk } from '../colour/lightness.ts';
import type { Candidate, Evidence, Ground, IsOpen, Proposal } from './candidate.ts';
import { scoreOf, visibility, weigh, weightIn } from './candidate.ts';
import { recoloringOf } from './change.ts';
import { evaluate } from './evaluate.ts';
import { between, nearbyColors } from './nearby-colors.ts';

/** A step off its course is the plain explanation; one that keeps to it would be bent by the change (ours, on planted faults). */
const BASE = { odd: 0.5, smooth: 1.4, none: 1.1 } as const;
/** What an added override costs over changing the declaration that is there (ours). */
const OVERRIDE = 0.25;
/** What speaks against bystanders, when they are put back where the ramp wants them (ours). */
const BACK_ON_COURSE = 0.2;

/** @param themes where the value is to change; all that the declaration governs, or fewer */
export function proposeValue(ground: Ground, token: number, themes: readonly number[]): Proposal {
  return { key: `value ${token} ${themes.join(',')}`, propose: (isOpen) => tryValues(ground, isOpen, token, themes) };
}

function tryValues(ground: Ground, isOpen: IsOpen, token: number, themes: readonly number[]): Candidate | null {
  const { world } = ground;
  const { index } = world;
  const [theme = -1] = themes;
  const start = index.colorOf(theme, token);
  if (start === null) return null;
  const course = ground.trend.courseOf(theme, token);
  const evidence: Evidence = course === null ? {} : { course: course.odd ? 'odd' : 'smooth' };
  const governed = index.governedBy(theme, token);
  const base = BASE[evidence.course ?? 'none'] + (themes.length < governed.length ? OVERRIDE : 0);

  const rate = (color: Color): { readonly gain: number; readonly score: number } => {
    const change = recoloringOf({ kind: 'value', token, themes, color }, index, world.casesOf);
    const seen = visibility(start, color) * (isBack(course, color) ? BACK_ON_COURSE : 1);
    const outcome = evaluate(world, change, { quick: true, visible: () => seen });
    const gain = weightIn(outcome.mended, isOpen);
    return {
      gain,
      score: scoreOf({ gain, bystanders: outcome.bystanders, harm: outcome.harm, base, size: deltaEOk(start, color) }),
    };
  };

  const faults = openFaults(ground, isOpen, token, themes);
  const most = faults.reduce((sum, fault) => sum + fault.weight, 0);
  const paler = faults.some(({ check }) => check === 'neon' || check === 'glow');
  let found: { readonly color: Color; readonly gain: number; readonly score: number } | null = null;
  for (const { color } of nearbyColors(start, paler)) {
    const rated = rate(color);
    if (rated.score > (found?.score ?? 0)) found = { color, ...rated };
    // Farther colours only get larger; nothing more can be gained.
    if (rated.gain >= most && found !== null && found.gain >= most) break;
  }
  if (found === null) return null;
  const color = nearest(start, found, rate);
  const seen = visibility(start, color) * (isBack(course, color) ? BACK_ON_COURSE : 1);
  return weigh(ground, isOpen, {
    change: { kind: 'value', token, themes, color },
    layer: index.stepOf(token) === null ? 'token' : 'ramp',
    base,
    size: deltaEOk(start, color),
    evidence,
    visible: () => seen,
  });
}

/** Towards the start as long as it mends as much and scores no worse. */
function nearest(
  start: Color,
  found: { readonly color: Color; readonly gain: number; readonly score: number },
  rate: (color: Color) => { readonly gain: number; readonly score: number },
): Color {
  let [bad, good] = [0, 1];
  let color = found.color;
  for (let halving = 0; halving < 5; halving += 1) {
    const middle = (bad + good) / 2;
    const tried = between(start, found.color, middle);
    const { gain, score } = rate(tried);
    if (gain >= found.gain && score >= found.score) [good, color] = [middle, tried];
    else bad = middle;
  }
  return color;
}

function isBack(course: { readonly odd: boolean; readonly expected: Color; readonly off: number } | null, color: Color): boolean {
  return course !== null && course.odd && deltaEOk(color, course.expected) < course.off;
}

export function openFaults(
  ground: Ground,
  isOpen: IsOpen,
  token: number,
  themes: readonly number[],
): readonly Candidate['outcome']['mended'][number][] {
  const { world } = ground;
  const found = new Map<number, Candidate['outcome']['mended'][number]>();
  for (const theme of themes) {
    for (const each of world.index.dependentsOf(theme, token)) {
      for (const id of world.casesOf(theme, each)) {
        const one = world.cases[id];
        for (const fault of one === undefined ? [] : world.faultsOf(one)) if (isOpen(fault)) found.set(fault.id, fault);
      }
    }
  }
  return [...found.values()].sort((one, other) => one.id - other.id);
}
