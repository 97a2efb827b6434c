// Views → groups as the queue hands them out. Pure.
import type { StoredView } from '../../ledger/records.ts';
import { planGroups } from '../../plan/plan-groups.ts';
import type { Group } from '../../queue/work-queue.ts';
import type { View } from '../../samples/view.ts';
import type { WorkGroup } from './work-plan.ts';

/** A group has ten times its views' limit before its worker counts as hung: retries and second looks are in it (ours). */
const PATIENCE = 10;
const LEAST_WITHIN_S = 120;
const MOST_WITHIN_S = 12 * 3600;
const USUAL_VIEW_MS = 60_000;

/** @param before of the last run, which tells how long views take @param ordered the same views by their worth, where the time may not do for all of them */
export function sharedGroups(
  views: readonly View[],
  before: readonly StoredView[],
  ordered: readonly View[] | null,
  viewMs = USUAL_VIEW_MS,
): readonly Group[] {
  const tookMs = new Map(before.flatMap(({ id, ms }) => (ms === null ? [] : [[id, ms] as const])));
  const groups = planGroups(ordered ?? views, tookMs);
  return groups.map((group, place): Group => {
    const { name, page, viewport, views: ids, expectedMs } = group;
    const withinS = Math.ceil((ids.length * viewMs * PATIENCE) / 1000);
    return {
      name,
      data: { name, page, viewport, views: ids } satisfies WorkGroup,
      // Where the time may not do for all of them, what is worth most comes first; else what takes longest.
      weight: ordered === null ? expectedMs : groups.length - place,
      withinS: Math.min(MOST_WITHIN_S, Math.max(LEAST_WITHIN_S, withinS)),
    };
  });
}
