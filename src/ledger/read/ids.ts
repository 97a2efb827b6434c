// Ids by how they begin: nobody types sixteen digits.
import { type LedgerContext, runRow } from '../database/ledger-context.ts';

/** Of findings and causes of a run, in order. @param start letters and digits alone @param most of each */
export async function readIdsFrom(context: LedgerContext, runId: string, start: string, most: number): Promise<readonly string[]> {
  const run = await runRow(context, runId);
  const findings = await context.db
    .selectFrom('run_view')
    .innerJoin('finding', 'finding.sheet', 'run_view.sheet')
    .select('finding.id')
    .distinct()
    .where('run_view.run', '=', run.n)
    .where('finding.id', 'like', `${start}%`)
    .orderBy('finding.id')
    .limit(most)
    .execute();
  const causes = await context.db
    .selectFrom('run_cause')
    .innerJoin('cause', 'cause.n', 'run_cause.cause')
    .select('cause.id')
    .where('run_cause.run', '=', run.n)
    .where('cause.id', 'like', `${start}%`)
    .orderBy('cause.id')
    .limit(most)
    .execute();
  return [...new Set([...findings, ...causes].map(({ id }) => id))].toSorted();
}
