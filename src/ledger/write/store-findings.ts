// The findings of views enter the ledger: since when they are there is looked up in the view's history, and a view whose findings are
// those of last time points at the same sheet.
import { type Insertable, sql, type Transaction } from 'kysely';
import { baseRunOf } from '../read/base-views.ts';
import type { Note } from '../../samples/note.ts';
import { viewNumbers } from './begin-run.ts';
import { fromJson, toJson } from '../database/json-column.ts';
import { batches, type LedgerContext, openRunRow, type RunRow } from '../database/ledger-context.ts';
import { together } from '../database/together.ts';
import { sheetHash } from '../database/sheet-hash.ts';
import type { FindingEntry, ViewFindings } from '../records.ts';
import type { FindingTable, LedgerSchema } from '../database/schema.ts';

type Trx = Transaction<LedgerSchema>;
type FindingRow = Required<Omit<Insertable<FindingTable>, 'n' | 'sheet' | 'cause'>>;

/** All views of the list in one transaction; a view without findings must be given with an empty list. @throws run-not-open */
export async function storeFindings(context: LedgerContext, runId: string, list: readonly ViewFindings[]): Promise<void> {
  const run = await openRunRow(context, runId);
  await together(context, async (trx) => {
    const numbers = await viewNumbers(
      { db: trx },
      list.map((entry) => entry.view),
    );
    for (const { view, findings, note } of list) {
      const number = numbers.get(view.id) ?? 0;
      await pointAt(trx, run, number, await sheetFor(trx, run, number, findings));
      if (note !== undefined) await addNote(trx, run, number, note);
    }
  });
}

/** The views' findings are those of the previous run: for views that are unchanged, under unchanged checks. @returns ids that had none */
export async function carryFindings(context: LedgerContext, runId: string, views: readonly string[]): Promise<readonly string[]> {
  const run = await openRunRow(context, runId);
  return together(context, async (trx) => {
    const without: string[] = [];
    for (const id of views) {
      const before = await trx
        .selectFrom('run_view')
        .innerJoin('view', 'view.n', 'run_view.view')
        .select(['view.n', 'run_view.sheet'])
        .where('view.id', '=', id)
        .where('run_view.run', '=', run.previous)
        .executeTakeFirst();
      if (before === undefined || before.sheet === null) without.push(id);
      else await pointAt(trx, run, before.n, before.sheet);
    }
    return without;
  });
}

async function addNote(trx: Trx, run: RunRow, view: number, note: Note): Promise<void> {
  const place = trx.selectFrom('run_view').select('notes').where('run', '=', run.n).where('view', '=', view);
  const stored = (await place.executeTakeFirst())?.notes ?? null;
  const notes = toJson([...(stored === null ? [] : fromJson(stored)), note]);
  await trx.updateTable('run_view').set({ notes }).where('run', '=', run.n).where('view', '=', view).execute();
}

async function pointAt(trx: Trx, run: RunRow, view: number, sheet: number): Promise<void> {
  await trx
    .insertInto('run_view')
    .values({ run: run.n, view, ord: -1, status: 'files', url: '', sample_count: 0, sheet })
    .onConflict((conflict) => conflict.columns(['run', 'view']).doUpdateSet({ sheet }))
    .execute();
}

async function sheetFor(trx: Trx, run: RunRow, view: number, findings: readonly FindingEntry[]): Promise<number> {
  const before = await sheetBefore(trx, run, view);
  const since = new Map<string, number>();
  if (before !== undefined) {
    for (const row of await trx.selectFrom('finding').select(['id', 'since']).where('sheet', '=', before.n).execute()) {
      since.set(row.id, row.since);
    }
  }
  const rows = findings.map((entry) => findingRow(entry, since.get(entry.id) ?? run.n)).sort((a, b) => (a.id < b.id ? -1 : 1));
  const hash = sheetHash(rows);
  if (before?.hash === hash) return before.n;
  const { n } = await trx.insertInto('sheet').values({ view, hash }).returning('n').executeTakeFirstOrThrow();
  for (const batch of batches(rows)) {
    await trx
      .insertInto('finding')
      .values(batch.map((row) => ({ ...row, sheet: n, cause: null })))
      .execute();
  }
  return n;
}

async function sheetBefore(
  trx: Trx,
  run: RunRow,
  view: number,
): Promise<{ readonly n: number; readonly hash: string } | undefined> {
  return trx
    .selectFrom('run_view')
    .innerJoin('sheet', 'sheet.n', 'run_view.sheet')
    .select(['sheet.n', 'sheet.hash'])
    .where('run_view.view', '=', view)
    .where('run_view.run', '=', baseRunOf(run, sql`${view}`))
    .executeTakeFirst();
}

function findingRow({ id, draft, owner, exempt }: FindingEntry, since: number): FindingRow {
  return {
    id,
    check: draft.check,
    level: draft.level,
    since,
    exempt: exempt === undefined ? 0 : 1,
    why_exempt: exempt ?? null,
    owner: owner ?? null,
    key: draft.key,
    selector: draft.selector,
    rect: toJson(draft.rect),
    message: draft.message,
    measured: toJson(draft.measured),
    expected: toJson(draft.expected),
  };
}
