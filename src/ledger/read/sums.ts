// What whole nights came to, several at a time: sheets that nights share are counted once.
import { type Expression, type ExpressionBuilder, sql, type SqlBool } from 'kysely';
import { baseRunOf } from './base-views.ts';
import { batches, type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';
import type { RunSum } from '../records.ts';
import type { LedgerSchema } from '../database/schema.ts';

/**
 * By id of the run, in the order asked. A view that a run did not come to, or that failed, counts as the newest run before left it: a
 * night that was cut short is comparable with the others.
 * @throws run-unknown
 */
export async function readSums(context: LedgerContext, runIds: readonly string[]): Promise<ReadonlyMap<string, readonly RunSum[]>> {
  const runs: RunRow[] = [];
  for (const id of runIds) runs.push(await runRow(context, id));
  const places = new Map<RunRow, readonly RunSheet[]>();
  for (const run of runs) places.set(run, await placesOf(context, run));
  const cells = new Map<number, Cell[]>();
  for (const cell of await cellsOf(context, runs, [...places.values()].flat())) {
    const known = cells.get(cell.sheet);
    if (known === undefined) cells.set(cell.sheet, [cell]);
    else known.push(cell);
  }
  return new Map(runs.map((run) => [run.id, sumOf(run, places.get(run) ?? [], cells)]));
}

type Cell = Awaited<ReturnType<typeof cellCounts>>[number];
type RunSheet = Awaited<ReturnType<typeof placesOf>>[number];

async function cellsOf(context: LedgerContext, runs: readonly RunRow[], places: readonly RunSheet[]): Promise<readonly Cell[]> {
  const numbers = runs.map(({ n }) => n);
  const own = await cellCounts(context, (eb) =>
    eb('sheet', 'in', eb.selectFrom('run_view').select('sheet').where('run', 'in', numbers).where('sheet', 'is not', null)),
  );
  const there = new Set(own.map(({ sheet }) => sheet));
  const taken = [...new Set(places.flatMap(({ taken: sheet }) => (sheet === null || there.has(sheet) ? [] : [sheet])))];
  const more: Cell[] = [];
  for (const batch of batches(taken)) more.push(...(await cellCounts(context, (eb) => eb('sheet', 'in', batch))));
  return [...own, ...more];
}

/** From the index alone, in its order: nothing may be joined to it. */
function cellCounts({ db }: LedgerContext, which: (eb: ExpressionBuilder<LedgerSchema, 'finding'>) => Expression<SqlBool>) {
  return db
    .selectFrom('finding')
    .select(['sheet', 'check', 'level', 'since', 'exempt', 'owner'])
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where(which)
    .groupBy(['sheet', 'check', 'level', 'since', 'exempt', 'owner'])
    .execute();
}

/** `taken`: sheet of the view's newest earlier run, where this one has none. */
function placesOf({ db }: LedgerContext, run: RunRow) {
  return db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .select(['run_view.sheet', 'view.theme'])
    .select(
      sql<number | null>`case when run_view.sheet is null then (
        select before.sheet from run_view as before
        where before.view = run_view.view and before.run = ${baseRunOf(run, sql`run_view.view`)}) end`.as('taken'),
    )
    .where('run_view.run', '=', run.n)
    .execute();
}

function sumOf(run: RunRow, places: readonly RunSheet[], cells: ReadonlyMap<number, readonly Cell[]>): readonly RunSum[] {
  const sums = new Map<string, RunSum>();
  for (const { sheet, taken, theme } of places) {
    for (const { check, level, since, exempt, owner, count } of cells.get(sheet ?? taken ?? -1) ?? []) {
      const status = exempt === 1 ? 'exempt' : since === run.n ? 'new' : 'known';
      const key = [theme, check, level, status, owner ?? ''].join('\n');
      sums.set(key, { theme, check, level, status, owner, count: (sums.get(key)?.count ?? 0) + count });
    }
  }
  return [...sums.values()];
}
