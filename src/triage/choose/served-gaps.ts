// A token is not missing where changes that are to be made anyway mend all that it was asked for: what it explained goes to them.
import type { Ground } from '../propose/candidate.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import type { CaseFault } from '../world.ts';
import type { Explanation } from './choose.ts';
import { evaluate } from './evaluate.ts';

/** @returns the others in their order, each with what it mends of the gaps that are gone */
export function withoutServedGaps(ground: Ground, explanations: readonly Explanation[]): readonly Explanation[] {
  const gaps = explanations.filter(isGap);
  if (gaps.length === 0) return explanations;
  const mending = explanations.flatMap((each) => (isGap(each) ? [] : [{ each, mends: openMending(ground, each) }]));
  const more = new Map<Explanation, readonly CaseFault[]>();
  const served = new Set<Explanation>();
  for (const gap of gaps) {
    const owners = gap.faults.map((fault) => mending.find(({ mends }) => mends(fault))?.each);
    if (owners.includes(undefined)) continue;
    served.add(gap);
    for (const owner of owners) {
      if (owner !== undefined) more.set(owner, [...(more.get(owner) ?? []), ...gap.faults.filter((_, at) => owners[at] === owner)]);
    }
  }
  return explanations.flatMap((each) => {
    if (served.has(each)) return [];
    const faults = new Set([...each.faults, ...(more.get(each) ?? [])]);
    return [{ ...each, faults: [...faults] }];
  });
}

function isGap({ layer }: Explanation): boolean {
  return layer === 'gap';
}

/** Of a change that breaks nothing; looks at one fault alone. */
function openMending({ world }: Ground, { changes }: Explanation): (fault: CaseFault) => boolean {
  const [first, ...rest] = changes.map((part) => part.recoloring);
  if (first === undefined) return () => false;
  const recoloring = rest.reduce(bothRecolorings, first);
  const touched = new Set(recoloring.touched);
  let isSafe: boolean | null = null;
  return (fault) => {
    if (!touched.has(fault.case.id)) return false;
    isSafe ??= evaluate(world, recoloring).broken.length === 0;
    return isSafe && evaluate(world, { ...recoloring, touched: [fault.case.id] }).mended.includes(fault);
  };
}
