// How many findings are gone, by theme, check and owner: all of them, where the list of them is cut.
import { sql } from 'kysely';
import { BEFORE, baseRows } from './base-views.ts';
import type { LedgerContext, RunRow } from '../database/ledger-context.ts';
import type { GoneCount } from '../records.ts';

/** Of views that were judged again, each against the newest run that judged it before; exempt ones were not open. */
export async function countGone(context: LedgerContext, run: RunRow): Promise<readonly GoneCount[]> {
  const { rows } = await sql<GoneCount>`
    with seen (view, run, sheet) as materialized (${await baseRows(context, run, BEFORE)})
    select view.theme, finding."check", finding.owner, count(*) as count
    from seen
      join run_view as now on now.run = ${run.n} and now.view = seen.view and now.sheet is not null and now.sheet != seen.sheet
      join view on view.n = seen.view
      join finding on finding.sheet = seen.sheet
    where finding.exempt = 0
      and not exists (select 1 from finding as f where f.sheet = now.sheet and f.id = finding.id)
    group by view.theme, finding."check", finding.owner`.execute(context.db);
  return rows;
}
