// Which views to render first where the time may not do for all of them.
import type { ViewStanding } from '../../ledger/records.ts';
import type { ViewRef } from '../../samples/view.ts';

/** The higher, the sooner. The rest takes turns: what was captured longest ago comes first. */
function worthOf(standing: ViewStanding | undefined): number {
  if (standing === undefined) return 2;
  if (standing.status === 'failed') return 5;
  if (standing.changed) return 4;
  if (standing.fresh) return 3;
  return standing.status === 'planned' ? 1 : 0;
}

/** Views of one page and viewport stay together: they share loads, and are judged against each other. */
export function worthFirst<V extends ViewRef>(views: readonly V[], standings: ReadonlyMap<string, ViewStanding>): readonly V[] {
  const together = new Map<string, V[]>();
  for (const view of views) {
    const key = JSON.stringify([view.page, view.viewport]);
    const members = together.get(key);
    if (members === undefined) together.set(key, [view]);
    else members.push(view);
  }
  const rated = [...together.values()].map((members) => {
    const all = members.map(({ id }) => standings.get(id));
    return {
      members,
      worth: Math.max(...all.map(worthOf)),
      capturedIn: Math.min(...all.map((standing) => standing?.capturedIn ?? 0)),
    };
  });
  return rated.sort((a, b) => b.worth - a.worth || a.capturedIn - b.capturedIn).flatMap(({ members }) => members);
}
