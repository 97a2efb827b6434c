// What most ramps do at the same step is how they were designed (an accent step, a leap to the dark half), and no fault of five ramps.
import type { Ramp } from '../graph.ts';
import { groupBy } from '../group-by.ts';
import type { FaultCode, FaultFacts } from './token-fault.ts';

/** Ours: two ramps may share a slip that was copied, three share a habit … */
const LEAST_RAMPS = 3;
/** … if it is the habit of at least half of those that have the step. */
const SHARE = 0.5;

/** Opinions about one step of a ramp. What is outside sRGB or missing stays told: that is so whoever does it. */
const OF_SHAPE: ReadonlySet<FaultCode> = new Set([
  'ramp-off-course',
  'ramp-spacing',
  'ramp-hue-drift',
  'ramp-twins',
  'ramp-reversal',
]);

/** @param faults of all ramps, in their themes @returns those that are not the same at the same step of most ramps */
export function withoutDesigns(ramps: readonly Ramp[], faults: readonly FaultFacts[]): readonly FaultFacts[] {
  const placeOf = new Map(ramps.flatMap((ramp) => ramp.steps.map((path) => [path, { ramp, step: stepName(ramp, path) }] as const)));
  const having = new Map<string, number>();
  for (const { step } of placeOf.values()) having.set(step, (having.get(step) ?? 0) + 1);
  const keyOf = ({ code, token, themes }: FaultFacts): string => JSON.stringify([code, placeOf.get(token)?.step, themes]);
  const shared = groupBy(
    faults.filter(({ code, token }) => OF_SHAPE.has(code) && placeOf.has(token)),
    keyOf,
  );
  return faults.filter((fault) => {
    const place = placeOf.get(fault.token);
    const alike = shared.get(keyOf(fault));
    if (place === undefined || alike === undefined || !OF_SHAPE.has(fault.code)) return true;
    const families = new Set(alike.map(({ token }) => placeOf.get(token)?.ramp.family)).size;
    return families < LEAST_RAMPS || families < SHARE * (having.get(place.step) ?? 0);
  });
}

/** What the step is called in its family, as in `500`. */
function stepName({ family }: Ramp, path: string): string {
  return path.slice(family.length).replace(/^[.\-_ ]/, '');
}
