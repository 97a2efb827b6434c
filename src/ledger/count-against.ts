// Findings of a run held against those of another: new, known, gone. Exempt ones count in neither.
import { sql } from 'kysely';
import { type LedgerContext, runRow } from './ledger-context.ts';
import type { RunDifference } from './records.ts';

/** @throws run-unknown */
export async function countAgainst(context: LedgerContext, runId: string, baseId: string): Promise<RunDifference> {
  const run = await runRow(context, runId);
  const base = await runRow(context, baseId);
  const { rows } = await sql<Omit<RunDifference, 'run'>>`
    with
      seen (view, sheet) as (select view, sheet from run_view where run = ${base.n} and sheet is not null),
      now (view, sheet) as (select view, sheet from run_view where run = ${run.n} and sheet is not null),
      here (known, unseen) as (
        select
          exists (select 1 from finding as f where f.sheet = seen.sheet and f.id = finding.id and not f.exempt),
          seen.sheet is null
        from now join finding on finding.sheet = now.sheet left join seen on seen.view = now.view
        where not finding.exempt)
    select
      (select count(*) from here where not known) as fresh,
      (select count(*) from here where unseen) as unseen,
      (select count(*) from here where known) as known,
      (select count(*) from seen join now on now.view = seen.view join finding on finding.sheet = seen.sheet
        where not finding.exempt
          and not exists (select 1 from finding as f where f.sheet = now.sheet and f.id = finding.id)) as gone`.execute(context.db);
  const [counts = { fresh: 0, unseen: 0, known: 0, gone: 0 }] = rows;
  return { run: base.id, ...counts };
}
