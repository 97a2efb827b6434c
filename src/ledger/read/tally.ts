// All findings of a run counted in one go, for whoever sorts them in several ways: the index alone is read, sheet by sheet in its order.
import { type LedgerContext, runRow } from '../database/ledger-context.ts';
import type { TallyCell } from '../records.ts';

export async function readTally(context: LedgerContext, runId: string): Promise<readonly TallyCell[]> {
  const { db } = context;
  const run = await runRow(context, runId);
  const sheets = await db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .select(['run_view.sheet', 'view.id', 'view.page', 'view.theme'])
    .where('run_view.run', '=', run.n)
    .where('run_view.sheet', 'is not', null)
    .orderBy('run_view.ord')
    .execute();
  const rows = await db
    .selectFrom('finding')
    .select(['sheet', 'check', 'level', 'since', 'exempt', 'owner', 'cause'])
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('sheet', 'in', (eb) => eb.selectFrom('run_view').select('sheet').where('run', '=', run.n).where('sheet', 'is not', null))
    .groupBy(['sheet', 'check', 'level', 'since', 'exempt', 'owner', 'cause'])
    .execute();
  const bySheet = new Map<number | null, (typeof rows)[number][]>();
  for (const row of rows) {
    const known = bySheet.get(row.sheet);
    if (known === undefined) bySheet.set(row.sheet, [row]);
    else known.push(row);
  }
  return sheets.flatMap(({ sheet, id, page, theme }) =>
    (bySheet.get(sheet) ?? []).map(({ check, level, since, exempt, owner, cause, count }): TallyCell => {
      const status = exempt === 1 ? 'exempt' : since === run.n ? 'new' : 'known';
      return { view: id, page, theme, check, level, status, owner, cause, count };
    }),
  );
}
