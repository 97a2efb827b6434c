// What a view of a run is counted against: the newest earlier run that judged that very view. A run that was narrowed, cut off or cut
// short says nothing of the views it did not look at, and as much as any of those it did.
import { type RawBuilder, sql } from 'kysely';
import { type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';

/** Each view's own base. Else the id of a run, which is the base of all. */
export const BEFORE = { kind: 'before' } as const;
export type Base = typeof BEFORE | { readonly kind: 'run'; readonly id: string };

/** @returns rows of `view`, `run`, `sheet`: what the views of the run are counted against; views without a base are not among them */
export async function baseRows(context: LedgerContext, run: RunRow, base: Base | null): Promise<RawBuilder<unknown>> {
  if (base === null) return sql`select view, run, sheet from run_view where false`;
  if (base.kind === 'run') {
    const { n } = await runRow(context, base.id);
    return sql`select view, run, sheet from run_view where run = ${n} and sheet is not null`;
  }
  return sql`
    select found.view, found.run, run_view.sheet
    from (select now.view, ${baseRunOf(run, sql`now.view`)} as run from run_view as now where now.run = ${run.n}) as found
      join run_view on run_view.run = found.run and run_view.view = found.view`;
}

/** Number of the newest earlier finished run that judged the view; of the run's own label before any other. */
export function baseRunOf(run: Pick<RunRow, 'n' | 'label' | 'foretold_of'>, view: RawBuilder<unknown>): RawBuilder<number | null> {
  // A forecast is held against what was known when its samples were taken.
  const end = run.foretold_of === null ? run.n : run.foretold_of + 1;
  // Read backwards from the index, each stops at its first hit.
  const newest = (which: RawBuilder<unknown>): RawBuilder<unknown> => sql`(
    select earlier.run from run_view as earlier join run as its on its.n = earlier.run
    where earlier.view = ${view} and earlier.run < ${end} and earlier.sheet is not null and its.state = 'finished' ${which}
    order by earlier.run desc limit 1)`;
  return sql<number | null>`coalesce(${newest(sql`and its.label is not distinct from ${run.label}`)}, ${newest(sql``)})`;
}

/** Ids of the runs that are the bases of a run's views, newest first. */
export async function readBases(context: LedgerContext, runId: string): Promise<readonly string[]> {
  return (await basesOf(context, await runRow(context, runId))).map(({ id }) => id);
}

/** Their numbers. */
export async function baseNumbers(context: LedgerContext, run: RunRow): Promise<readonly number[]> {
  return (await basesOf(context, run)).map(({ n }) => n);
}

async function basesOf(context: LedgerContext, run: RunRow): Promise<readonly { readonly n: number; readonly id: string }[]> {
  const rows = await baseRows(context, run, BEFORE);
  const found = await sql<{ readonly n: number; readonly id: string }>`
    select n, id from run where n in (select run from (${rows}) as found) order by n desc`.execute(context.db);
  return found.rows;
}
