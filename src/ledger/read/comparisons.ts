// How the pictures of a run compare with the accepted ones.
import type { Difference } from '../../samples/difference.ts';
import { viewNumbers } from '../write/begin-run.ts';
import { pageLimit, parseCursor, toCursor } from '../database/cursor.ts';
import { fromJson, toJson } from '../database/json-column.ts';
import { type LedgerContext, openRunRow, runRow } from '../database/ledger-context.ts';
import { together } from '../database/together.ts';
import { seal } from '../database/seals.ts';
import type { ChangeGroup, Comparison, ComparisonEntry, ComparisonVerdict, PageRequest, Slice } from '../records.ts';

/** What an earlier comparison of the same two pictures under the same settings found. */
export async function knownDifference(
  { db }: LedgerContext,
  pair: { readonly accepted: string; readonly shot: string; readonly settings: string },
): Promise<Difference | undefined> {
  const row = await db
    .selectFrom('difference')
    .innerJoin('blob as before', 'before.n', 'difference.accepted')
    .innerJoin('blob as now', 'now.n', 'difference.shot')
    .select('difference.body')
    .where('before.hash', '=', pair.accepted)
    .where('now.hash', '=', pair.shot)
    .where('difference.settings', '=', pair.settings)
    .executeTakeFirst();
  return row === undefined ? undefined : fromJson(row.body);
}

/** Replaces what was stored for these views. @throws run-not-open */
export async function storeComparisons(context: LedgerContext, runId: string, entries: readonly ComparisonEntry[]): Promise<void> {
  const run = await openRunRow(context, runId);
  await together(context, async (trx) => {
    const numbers = await viewNumbers(
      { db: trx },
      entries.map((entry) => entry.view),
    );
    const blobNumber = async (hash: string | undefined): Promise<number | null> => {
      if (hash === undefined) return null;
      return (await trx.selectFrom('blob').select('n').where('hash', '=', hash).executeTakeFirst())?.n ?? null;
    };
    for (const entry of entries) {
      const view = numbers.get(entry.view.id) ?? 0;
      const accepted = await blobNumber(entry.accepted);
      const { shot } = (await trx
        .selectFrom('run_view')
        .select('shot')
        .where('run', '=', run.n)
        .where('view', '=', view)
        .executeTakeFirst()) ?? { shot: null };
      let difference: number | null = null;
      if (entry.difference !== undefined && accepted !== null && shot !== null) {
        const pair = { accepted, shot, settings: entry.difference.settings };
        const { n } = await trx
          .insertInto('difference')
          .values({ ...pair, body: toJson(entry.difference.found) })
          .onConflict((conflict) =>
            conflict.columns(['accepted', 'shot', 'settings']).doUpdateSet((eb) => ({ body: eb.ref('excluded.body') })),
          )
          .returning('n')
          .executeTakeFirstOrThrow();
        await seal(trx, 'difference', { n });
        difference = n;
      }
      const facts = { verdict: entry.verdict, accepted, difference };
      await trx
        .insertInto('comparison')
        .values({ run: run.n, view, ...facts })
        .onConflict((conflict) => conflict.columns(['run', 'view']).doUpdateSet(facts))
        .execute();
    }
  });
}

/** By view id, page by page. */
export async function readComparisons(
  context: LedgerContext,
  runId: string,
  { limit, after, verdict }: { readonly verdict?: ComparisonVerdict } & PageRequest = {},
): Promise<Slice<Comparison>> {
  const run = await runRow(context, runId);
  const most = pageLimit(limit);
  let query = comparisonRows(context, run.n)
    .orderBy('view.id')
    .limit(most + 1);
  if (verdict !== undefined) query = query.where('comparison.verdict', '=', verdict);
  if (after !== undefined) query = query.where('view.id', '>', parseCursor(after).id);
  const rows = (await query.execute()).map(({ body, ...row }) => ({ ...row, difference: body === null ? null : fromJson(body) }));
  const last = rows.length > most ? rows[most - 1] : undefined;
  return { items: rows.slice(0, most), next: last === undefined ? null : toCursor(0, last.id) };
}

/** How many views of the run have each verdict. */
export async function countComparisons(
  context: LedgerContext,
  runId: string,
): Promise<Readonly<Record<ComparisonVerdict, number>>> {
  const run = await runRow(context, runId);
  const rows = await context.db
    .selectFrom('comparison')
    .select((eb) => ['verdict', eb.fn.countAll<number>().as('count')])
    .where('run', '=', run.n)
    .groupBy('verdict')
    .execute();
  return { same: 0, changed: 0, new: 0, vanished: 0, ...Object.fromEntries(rows.map((row) => [row.verdict, row.count])) };
}

/** Changes of the whole run, those of most views first. */
export async function readChangeGroups(context: LedgerContext, runId: string): Promise<readonly ChangeGroup[]> {
  const run = await runRow(context, runId);
  const groups = new Map<
    string,
    { readonly rows: { readonly id: string; readonly page: string; readonly theme: string }[] } & Sum
  >();
  for (const row of await comparisonRows(context, run.n).where('comparison.verdict', '=', 'changed').orderBy('view.id').execute()) {
    if (row.body === null) continue;
    const difference = fromJson(row.body);
    for (const { group, change, pixels } of difference.explanations) {
      const sum = groups.get(group) ?? { change, rows: [], pixels: 0, ofPixels: 0 };
      groups.set(group, sum);
      if (sum.rows.at(-1)?.id !== row.id) {
        sum.rows.push(row);
        sum.ofPixels += difference.changedPixels;
      }
      sum.pixels += pixels;
    }
  }
  return [...groups]
    .map(([group, { change, rows, pixels, ofPixels }]) => ({
      group,
      change,
      views: rows.map((row) => row.id),
      pages: new Set(rows.map((row) => row.page)).size,
      themes: [...new Set(rows.map((row) => row.theme))].sort(),
      pixels,
      ofPixels,
    }))
    .sort((a, b) => b.views.length - a.views.length || b.pixels - a.pixels || (a.group < b.group ? -1 : 1));
}

interface Sum {
  readonly change: ChangeGroup['change'];
  pixels: number;
  ofPixels: number;
}

function comparisonRows({ db }: LedgerContext, run: number) {
  return db
    .selectFrom('comparison')
    .innerJoin('view', 'view.n', 'comparison.view')
    .leftJoin('run_view', (join) =>
      join.onRef('run_view.view', '=', 'comparison.view').onRef('run_view.run', '=', 'comparison.run'),
    )
    .leftJoin('blob as before', 'before.n', 'comparison.accepted')
    .leftJoin('blob as now', 'now.n', 'run_view.shot')
    .leftJoin('difference', 'difference.n', 'comparison.difference')
    .select(['view.id', 'view.page', 'view.theme', 'view.state', 'view.viewport', 'comparison.verdict'])
    .select(['before.hash as accepted', 'now.hash as shot', 'run_view.width as widthCssPx', 'run_view.height as heightCssPx'])
    .select('difference.body')
    .where('comparison.run', '=', run);
}
