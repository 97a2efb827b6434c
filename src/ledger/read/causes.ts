// Causes of a run, best first.
import type { Cause } from '../../samples/finding.ts';
import { fromJson } from '../database/json-column.ts';
import { type LedgerContext, runRow } from '../database/ledger-context.ts';

export async function readCauses(context: LedgerContext, runId: string): Promise<readonly Cause[]> {
  const run = await runRow(context, runId);
  const rows = await causeRows(context, run.n).execute();
  return rows.map((row) => fromJson(row.body));
}

/** Undefined where the run has no such cause. */
export async function readCause(context: LedgerContext, runId: string, id: string): Promise<Cause | undefined> {
  const run = await runRow(context, runId);
  const row = await causeRows(context, run.n).where('cause.id', '=', id).executeTakeFirst();
  return row === undefined ? undefined : fromJson(row.body);
}

function causeRows({ db }: LedgerContext, run: number) {
  return db
    .selectFrom('run_cause')
    .innerJoin('cause', 'cause.n', 'run_cause.cause')
    .select('cause.body')
    .where('run_cause.run', '=', run)
    .orderBy('run_cause.ord');
}
