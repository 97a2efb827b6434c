// A run is finished: its totals are counted where they are stored, and the file is put in order.
import type { CheckId } from '../../samples/finding.ts';
import { toJson } from '../database/json-column.ts';
import { batches, type LedgerContext, openRunRow, type RunRow } from '../database/ledger-context.ts';
import { sealRun } from '../database/seals.ts';
import { together } from '../database/together.ts';
import { coverageShares } from '../read/coverage.ts';
import { storeTally } from './store-tally.ts';
import type { CoverageFact, RunTotals } from '../records.ts';
import { countFindings, isCounted } from '../../samples/what-counts.ts';

/** Replaces what was stored of the run's coverage. @throws run-not-open */
export async function storeCoverage(context: LedgerContext, runId: string, facts: readonly CoverageFact[]): Promise<void> {
  const run = await openRunRow(context, runId);
  await together(context, async (trx) => {
    await trx.deleteFrom('coverage').where('run', '=', run.n).execute();
    for (const batch of batches(facts)) {
      const rows = batch.map(({ page, theme, owner, uses, throughTokens }) => ({
        run: run.n,
        page,
        theme,
        owner: owner ?? '',
        uses,
        through_tokens: throughTokens,
      }));
      await trx.insertInto('coverage').values(rows).execute();
    }
  });
}

/** @param finishedAt ISO 8601 with zone @param cut it was ended by hand @throws run-not-open */
export async function finishRun(context: LedgerContext, runId: string, finishedAt: string, cut = false): Promise<RunTotals> {
  const totals = await together(context, async (trx) => {
    const within = { ...context, db: trx };
    const run = await openRunRow(within, runId);
    const counted = await countTotals(within, run);
    await storeTally(within, runId);
    await trx
      .updateTable('run')
      .set({
        state: run.foretold_of === null ? 'finished' : 'foretold',
        finished_at: finishedAt,
        totals: toJson(counted),
        cut: cut ? 1 : 0,
      })
      .where('n', '=', run.n)
      .execute();
    await sealRun(trx, run.n);
    return counted;
  });
  await context.engine.settle();
  return totals;
}

async function countTotals({ db }: LedgerContext, run: RunRow): Promise<RunTotals> {
  const views = await db
    .selectFrom('run_view')
    .select((eb) => [
      eb.fn.countAll<number>().as('views'),
      eb.fn.coalesce(eb.fn.sum<number>('sample_count'), eb.lit(0)).as('samples'),
      eb.fn.countAll<number>().filterWhere('status', '=', 'failed').as('failed'),
    ])
    .where('run', '=', run.n)
    .where('status', '!=', 'files')
    .executeTakeFirstOrThrow();
  const checks = await db
    .selectFrom('run_view')
    .innerJoin('finding', 'finding.sheet', 'run_view.sheet')
    .select((eb) => ['finding.check', 'finding.exempt', eb.fn.countAll<number>().as('count')])
    .where('run_view.run', '=', run.n)
    .groupBy(['finding.check', 'finding.exempt'])
    .orderBy('finding.check')
    .execute();
  const findings: Record<CheckId, number> = {};
  const cells = checks.map(({ check, exempt, count }) => ({
    check,
    count,
    status: exempt === 1 ? ('exempt' as const) : ('known' as const),
  }));
  for (const { check, count } of cells.filter(isCounted)) findings[check] = count;
  return { ...views, findings, exempt: countFindings(cells).exempt, coverage: await coverageShares({ db }, run.n) };
}
