// Contrast reached inside a ramp, or between two: for every distance of steps the least ratio, and the distance that suffices.
// "Five steps apart always reads" is what people choose tokens by.
import { luminanceRatio } from '../../colour/contrast-ratio.ts';
import type { Ramp, TokenGraph } from '../graph.ts';
import type { StepView } from './ramp-view.ts';
import { rampViews } from './ramp-view.ts';

/** Ratios people need (WCAG 2.2, SC 1.4.3, 1.4.6, 1.4.11). */
export const NEEDED_RATIOS = [3, 4.5, 7] as const;

export interface RampContrast {
  readonly theme: string;
  readonly ink: Ramp['family'];
  readonly surface: Ramp['family'];
  /** Least ratio of any two steps that far apart; index 0 is distance 1. */
  readonly leastAt: readonly number[];
  /** Smallest distance from which on every two steps reach 3, 4.5 and 7; null where none does. */
  readonly distanceFor: readonly (number | null)[];
}

/**
 * Nobody counts steps in a longer ramp, nor reads a table of more pairs (ours; real sets have up to 13 steps and two dozen ramps).
 * Without a bound the work grows with the square of both.
 */
const MOST_STEPS = 100;
const MOST_RAMPS = 60;

/**
 * Every ramp of up to 100 steps with itself and, where there are no more than 60, with every other; in every theme. Steps are counted by
 * their place in the ramp.
 */
export function rampContrasts(graph: TokenGraph): readonly RampContrast[] {
  const views = rampViews(graph);
  return graph.themes.flatMap((theme) => {
    const here = views.filter(({ steps, ...view }) => view.theme === theme && steps.length > 1 && steps.length <= MOST_STEPS);
    const others = here.length > MOST_RAMPS ? 1 : here.length;
    return here.flatMap((a, i) =>
      here.slice(i, i + others).map((b) => contrastOf(theme, { ...a, family: a.ramp.family }, { ...b, family: b.ramp.family })),
    );
  });
}

interface Side {
  readonly family: string;
  readonly steps: readonly StepView[];
}

function contrastOf(theme: string, a: Side, b: Side): RampContrast {
  const longest = Math.max(a.steps.length, b.steps.length) - 1;
  const leastAt = Array.from({ length: longest }, (_, i) => leastRatio(a.steps, b.steps, i + 1)).filter(Number.isFinite);
  const distanceFor = NEEDED_RATIOS.map((need) => {
    const last = leastAt.findLastIndex((ratio) => ratio < need);
    return last + 1 < leastAt.length ? last + 2 : null;
  });
  return { theme, ink: a.family, surface: b.family, leastAt, distanceFor };
}

function leastRatio(a: readonly StepView[], b: readonly StepView[], distance: number): number {
  let least = Infinity;
  for (const [i, step] of a.entries()) {
    for (const other of [b[i + distance], b[i - distance]]) {
      if (other !== undefined) least = Math.min(least, luminanceRatio(step.luminance, other.luminance));
    }
  }
  return least;
}
