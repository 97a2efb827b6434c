// A night on which nothing changed has the causes and the coverage of the last one: they are pointed at, not worked out again.
import { hashOf } from '../blobs/blobs.ts';
import { type LedgerContext, openRunRow } from '../database/ledger-context.ts';
import { together } from '../database/together.ts';

export interface ExplanationBasis {
  /** Whatever else causes and coverage depend on, hashed by the caller: configuration, token files, version. */
  readonly basis: string;
  /** Nothing is taken over; what it follows from is noted all the same. */
  readonly anew: boolean;
}

/**
 * To be asked once all views and findings of the run are stored. What it follows from is noted with the run, for the next night.
 * @returns whether the previous run's were taken over @throws run-not-open
 */
export async function carryExplanation(context: LedgerContext, runId: string, { basis, anew }: ExplanationBasis): Promise<boolean> {
  const run = await openRunRow(context, runId);
  return together(context, async (trx) => {
    const viewsOf = (n: number) =>
      trx
        .selectFrom('run_view')
        .leftJoin('sheet', 'sheet.n', 'run_view.sheet')
        .select(['run_view.view', 'run_view.status', 'run_view.samples', 'run_view.properties', 'run_view.sheet', 'sheet.hash'])
        .where('run_view.run', '=', n)
        .orderBy('run_view.view')
        .execute();
    const rows = await viewsOf(run.n);
    const explained = hashOf(JSON.stringify([basis, rows.map(({ sheet: _, ...row }) => row)]));
    await trx.updateTable('run').set({ explained }).where('n', '=', run.n).execute();
    if (anew || run.previous === null) return false;
    const before = await trx.selectFrom('run').select('explained').where('n', '=', run.previous).executeTakeFirst();
    if (before?.explained !== explained) return false;
    // Which finding has which cause is noted in the sheets.
    const sheets = new Map((await viewsOf(run.previous)).map((row) => [row.view, row.sheet]));
    if (rows.some(({ view, sheet }) => sheets.get(view) !== sheet)) return false;
    await trx.deleteFrom('run_cause').where('run', '=', run.n).execute();
    await trx.deleteFrom('coverage').where('run', '=', run.n).execute();
    await trx
      .insertInto('run_cause')
      .columns(['run', 'ord', 'cause'])
      .expression((eb) =>
        eb
          .selectFrom('run_cause')
          .select([eb.lit(run.n).as('run'), 'ord', 'cause'])
          .where('run', '=', run.previous),
      )
      .execute();
    await trx
      .insertInto('coverage')
      .columns(['run', 'page', 'theme', 'owner', 'uses', 'through_tokens'])
      .expression((eb) =>
        eb
          .selectFrom('coverage')
          .select([eb.lit(run.n).as('run'), 'page', 'theme', 'owner', 'uses', 'through_tokens'])
          .where('run', '=', run.previous),
      )
      .execute();
    return true;
  });
}
