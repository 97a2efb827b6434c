// How each view fared in the runs so far, for whoever must choose which to render first.
import type { LedgerContext } from '../database/ledger-context.ts';
import type { ViewStanding } from '../records.ts';

/** By view id; a view no finished run planned is not among them. */
export async function readStandings({ db }: LedgerContext): Promise<ReadonlyMap<string, ViewStanding>> {
  const rows = await db
    .selectFrom('run_view')
    .innerJoin('run', 'run.n', 'run_view.run')
    .innerJoin('view', 'view.n', 'run_view.view')
    .select(['view.id', 'run_view.view', 'run_view.run', 'run_view.status', 'run_view.shot'])
    .where('run.state', '=', 'finished')
    .where('run_view.status', '!=', 'files')
    .orderBy('run_view.run', 'desc')
    .execute();
  const first = await db
    .selectFrom('finding')
    .innerJoin('run_view', (join) => join.onRef('run_view.sheet', '=', 'finding.sheet').onRef('run_view.run', '=', 'finding.since'))
    .select(['run_view.view', 'run_view.run'])
    .distinct()
    .execute();
  const fresh = new Set(first.map(({ view, run }) => `${String(view)} ${String(run)}`));
  const byView = new Map<string, (typeof rows)[number][]>();
  for (const row of rows) {
    const history = byView.get(row.id);
    if (history === undefined) byView.set(row.id, [row]);
    else history.push(row);
  }
  return new Map(
    [...byView].map(([id, history]): [string, ViewStanding] => {
      const [last] = history;
      const [now, before] = history.filter((row) => row.status === 'captured');
      const isLast = last !== undefined && now?.run === last.run;
      return [
        id,
        {
          status: last?.status === 'captured' || last?.status === 'failed' ? last.status : 'planned',
          changed: isLast && before !== undefined && before.shot !== now.shot,
          // What a first run finds is new everywhere, and says nothing of a view.
          fresh: isLast && before !== undefined && fresh.has(`${String(now.view)} ${String(now.run)}`),
          capturedIn: now?.run ?? 0,
        },
      ];
    }),
  );
}
