// What came and went between two runs, counted in the database over every finding of both: view by view, where both judged the view.
// Exempt findings count on neither side, as in count-against.ts.
import { type RawBuilder, sql } from 'kysely';
import type { CheckId, Finding } from '../../samples/finding.ts';
import { type LedgerContext, runRow } from '../database/ledger-context.ts';
import { findingsByNumber } from './findings.ts';
import type { ComparedRuns } from '../records.ts';

/** @param most findings listed of each side @throws run-unknown */
export async function compareRuns(context: LedgerContext, idA: string, idB: string, most: number): Promise<ComparedRuns> {
  const { db } = context;
  const [a, b] = [await runRow(context, idA), await runRow(context, idB)];
  const pairs = sql`pairs (view, was, now) as materialized (
    select a.view, a.sheet, b.sheet from run_view as a join run_view as b on b.view = a.view and b.run = ${b.n}
    where a.run = ${a.n} and a.sheet is not null and b.sheet is not null)`;
  const counts = async (side: 'was' | 'now', which: RawBuilder<unknown>): Promise<readonly Count[]> => {
    const { rows } = await sql<Count>`
      with ${pairs}
      select finding."check", view.theme, count(*) as count
      from pairs join finding on finding.sheet = pairs.${sql.ref(side)} join view on view.n = pairs.view
      where finding.exempt = 0 ${which}
      group by finding."check", view.theme`.execute(db);
    return rows;
  };
  const listed = async (side: 'was' | 'now', which: RawBuilder<unknown>): Promise<readonly Finding[]> => {
    const run = side === 'was' ? a : b;
    const { rows } = await sql<{ readonly n: number }>`
      with ${pairs}
      select finding.n from pairs join finding on finding.sheet = pairs.${sql.ref(side)}
        join run_view on run_view.run = ${run.n} and run_view.view = pairs.view
      where finding.exempt = 0 ${which} order by run_view.ord, finding.id limit ${most}`.execute(db);
    return findingsByNumber(
      context,
      run,
      rows.map(({ n }) => n),
    );
  };
  const cells = new Map<string, ComparedRuns['rows'][number]>();
  const add = (side: 'before' | 'after' | 'fresh' | 'gone', found: readonly Count[]): void => {
    for (const { check, theme, count } of found) {
      const key = `${check}\n${theme}`;
      cells.set(key, { ...(cells.get(key) ?? { check, theme, before: 0, after: 0, fresh: 0, gone: 0 }), [side]: count });
    }
  };
  add('before', await counts('was', sql``));
  add('after', await counts('now', sql``));
  add('fresh', await counts('now', FRESH));
  add('gone', await counts('was', GONE));
  const views = await sql<{ readonly shared: number; readonly one: number }>`
    with ${pairs}
    select (select count(*) from pairs) as shared,
      (select count(distinct view) from run_view where run in (${a.n}, ${b.n}) and status != 'files'
        and view not in (select view from pairs)) as one`.execute(db);
  return {
    rows: [...cells.values()],
    fresh: await listed('now', FRESH),
    gone: await listed('was', GONE),
    viewsInBoth: views.rows[0]?.shared ?? 0,
    viewsInOne: views.rows[0]?.one ?? 0,
  };
}

interface Count {
  readonly check: CheckId;
  readonly theme: string;
  readonly count: number;
}

/** Open now, and not open then. Where both runs point at one sheet nothing differs. */
const FRESH = sql`and pairs.was != pairs.now
  and not exists (select 1 from finding as f where f.sheet = pairs.was and f.id = finding.id and f.exempt = 0)`;
/** Open then, and not there now: one that became exempt has not gone. */
const GONE = sql`and pairs.was != pairs.now
  and not exists (select 1 from finding as f where f.sheet = pairs.now and f.id = finding.id)`;
