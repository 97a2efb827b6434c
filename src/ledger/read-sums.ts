// What whole nights came to, several at a time: sheets that nights share are counted once.
import { type LedgerContext, type RunRow, runRow } from './ledger-context.ts';
import type { RunSum } from './records.ts';

/** By id of the run, in the order asked. @throws run-unknown */
export async function readSums(context: LedgerContext, runIds: readonly string[]): Promise<ReadonlyMap<string, readonly RunSum[]>> {
  const runs: RunRow[] = [];
  for (const id of runIds) runs.push(await runRow(context, id));
  const cells = new Map<number, Cell[]>();
  for (const cell of await cellsOf(context, runs)) {
    const known = cells.get(cell.sheet);
    if (known === undefined) cells.set(cell.sheet, [cell]);
    else known.push(cell);
  }
  const sums = new Map<string, readonly RunSum[]>();
  for (const run of runs) sums.set(run.id, sumOf(run, await placesOf(context, run), cells));
  return sums;
}

type Cell = Awaited<ReturnType<typeof cellsOf>>[number];
type Place = Awaited<ReturnType<typeof placesOf>>[number];

/** From the index alone, in its order: nothing may be joined to it. */
function cellsOf({ db }: LedgerContext, runs: readonly RunRow[]) {
  const numbers = runs.map(({ n }) => n);
  return db
    .selectFrom('finding')
    .select(['sheet', 'check', 'level', 'since', 'exempt', 'owner'])
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where('sheet', 'in', (eb) =>
      eb.selectFrom('run_view').select('sheet').where('run', 'in', numbers).where('sheet', 'is not', null),
    )
    .groupBy(['sheet', 'check', 'level', 'since', 'exempt', 'owner'])
    .execute();
}

function placesOf({ db }: LedgerContext, run: RunRow) {
  return db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .select(['run_view.sheet', 'view.theme'])
    .where('run_view.run', '=', run.n)
    .execute();
}

function sumOf(run: RunRow, places: readonly Place[], cells: ReadonlyMap<number, readonly Cell[]>): readonly RunSum[] {
  const sums = new Map<string, RunSum>();
  for (const { sheet, theme } of places) {
    for (const { check, level, since, exempt, owner, count } of cells.get(sheet ?? -1) ?? []) {
      const status = exempt === 1 ? 'exempt' : since === run.n ? 'new' : 'known';
      const key = [theme, check, level, status, owner ?? ''].join('\n');
      sums.set(key, { theme, check, level, status, owner, count: (sums.get(key)?.count ?? 0) + count });
    }
  }
  return [...sums.values()];
}
