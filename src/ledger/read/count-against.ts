// Findings of a run held against those of another: new, known, gone. Exempt ones count in neither.
import { sql } from 'kysely';
import { type Base, baseRows, readBases } from './base-views.ts';
import { type LedgerContext, runRow } from '../database/ledger-context.ts';
import type { RunDifference } from '../records.ts';

/** @returns null where no view has anything before it @throws run-unknown */
export async function countAgainst(context: LedgerContext, runId: string, base: Base): Promise<RunDifference | null> {
  const run = await runRow(context, runId);
  const runs = base.kind === 'run' ? [(await runRow(context, base.id)).id] : await readBases(context, runId);
  if (runs.length === 0) return null;
  const { rows } = await sql<Omit<RunDifference, 'runs'>>`
    with
      seen (view, run, sheet) as materialized (${await baseRows(context, run, base)}),
      now (view, sheet) as (select view, sheet from run_view where run = ${run.n} and sheet is not null),
      here (known, unseen) as (
        select
          exists (select 1 from finding as f where f.sheet = seen.sheet and f.id = finding.id and f.exempt = 0),
          seen.sheet is null
        from now join finding on finding.sheet = now.sheet left join seen on seen.view = now.view
        where finding.exempt = 0)
    select
      (select count(*) from here where not known) as fresh,
      (select count(*) from here where unseen) as unseen,
      (select count(*) from here where known) as known,
      (select count(*) from seen join now on now.view = seen.view join finding on finding.sheet = seen.sheet
        where finding.exempt = 0
          and not exists (select 1 from finding as f where f.sheet = now.sheet and f.id = finding.id)) as gone`.execute(context.db);
  const [counts = { fresh: 0, unseen: 0, known: 0, gone: 0 }] = rows;
  return { runs, ...counts };
}
