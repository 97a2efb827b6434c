// The latest run finished without all of its views (its time was over, or it was ended by hand): it is taken up again.
import type { LedgerContext } from '../database/ledger-context.ts';
import { together } from '../database/together.ts';

/** @returns its id; null where the latest run lacks nothing */
export async function reopenRun(context: LedgerContext): Promise<string | null> {
  return together(context, async (trx) => {
    const latest = await trx
      .selectFrom('run')
      .select(['n', 'id', 'state'])
      .where('state', '!=', 'pruned')
      .where('foretold_of', 'is', null)
      .orderBy('n', 'desc')
      .limit(1)
      .executeTakeFirst();
    if (latest?.state !== 'finished') return null;
    const owed = await trx
      .selectFrom('run_view')
      .select('view')
      .where('run', '=', latest.n)
      .where('status', '=', 'planned')
      .limit(1)
      .executeTakeFirst();
    if (owed === undefined) return null;
    await trx
      .updateTable('run')
      .set({ state: 'running', finished_at: null, totals: null, explained: null, seal: null })
      .where('n', '=', latest.n)
      .execute();
    await trx.deleteFrom('tally').where('run', '=', latest.n).execute();
    for (const table of ['run_view', 'comparison'] as const)
      await trx.updateTable(table).set({ seal: null }).where('run', '=', latest.n).execute();
    return latest.id;
  });
}
