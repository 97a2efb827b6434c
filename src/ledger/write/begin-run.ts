// A run enters the ledger with its whole plan, so that what a killed run still owes can be told.
import { sealNew } from '../database/seals.ts';
import { randomBytes } from 'node:crypto';
import { runExists, runNotFinished } from '../../errors/ledger-errors.ts';
import type { ViewRef } from '../../samples/view.ts';
import { hashOf } from '../blobs/blobs.ts';
import { batches, type LedgerContext } from '../database/ledger-context.ts';
import { toJson } from '../database/json-column.ts';
import { together } from '../database/together.ts';
import type { ForecastNote, NewRun } from '../records.ts';

/** @returns the run's id @throws run-exists */
export async function beginRun(context: LedgerContext, run: NewRun): Promise<string> {
  const id = run.id ?? runIdAt(run.startedAt);
  await together(context, async (trx) => {
    const taken = await trx.selectFrom('run').select('n').where('id', '=', id).executeTakeFirst();
    if (taken !== undefined) throw runExists(id);
    const plan = planHash(run.views);
    const source =
      run.foretold === undefined
        ? null
        : await trx
            .selectFrom('run')
            .select('n')
            .where('id', '=', run.foretold.of)
            .where('state', '=', 'finished')
            .executeTakeFirst();
    if (source === undefined) throw runNotFinished(run.foretold?.of ?? '');
    const previous = await trx
      .selectFrom('run')
      .select('n')
      .where('state', '=', 'finished')
      .orderBy((eb) =>
        eb
          .case()
          .when('label', 'is not distinct from', run.label ?? null)
          .then(0)
          .else(1)
          .end(),
      )
      // The same plan, else a whole run: one that was narrowed says little of what this one looks at.
      .orderBy((eb) =>
        eb
          .case()
          .when(
            eb.and([eb('plan', '=', plan), eb('part_index', 'is not distinct from', run.part?.index ?? null), eb('cut', '=', 0)]),
          )
          .then(0)
          .when(eb.and([eb('narrowed', '=', 0), eb('part_index', 'is', null), eb('cut', '=', 0)]))
          .then(1)
          .else(2)
          .end(),
      )
      .orderBy('n', 'desc')
      .limit(1)
      .executeTakeFirst();
    const { n } = await trx
      .insertInto('run')
      .values({
        id,
        state: 'running',
        started_at: run.startedAt,
        finished_at: null,
        gloam: run.gloam,
        browser: run.browser,
        reference: run.reference,
        themes: toJson(run.themes),
        label: run.label ?? null,
        narrowed: run.narrowed === true ? 1 : 0,
        part_index: run.part?.index ?? null,
        part_of: run.part?.of ?? null,
        plan,
        cut: 0,
        previous: source?.n ?? previous?.n ?? null,
        totals: null,
        explained: null,
        standard: run.standard === undefined ? null : toJson(run.standard),
        foretold_of: source?.n ?? null,
        foretold: run.foretold === undefined ? null : toJson(noteOf(run.foretold)),
      })
      .returning('n')
      .executeTakeFirstOrThrow();
    const numbers = await viewNumbers({ db: trx }, run.views);
    const mine = run.part === undefined ? undefined : new Set(run.part.views);
    const rows = run.views.flatMap((view, ord) =>
      mine === undefined || mine.has(view.id)
        ? [{ run: n, view: numbers.get(view.id) ?? 0, ord, status: 'planned' as const, url: view.url, sample_count: 0 }]
        : [],
    );
    for (const batch of batches(rows)) await trx.insertInto('run_view').values(batch).execute();
  });
  return id;
}

function noteOf({ of: _, ...note }: NonNullable<NewRun['foretold']>): ForecastNote {
  return note;
}

/** Sorts by time; two runs begun in one second still differ. */
function runIdAt(startedAt: string): string {
  const stamp = new Date(startedAt).toISOString().replace(/[-:]/g, '').slice(0, 15);
  return `${stamp}-${randomBytes(2).toString('hex')}`;
}

/** Tells whether two runs have the same plan. */
export function planHash(views: readonly ViewRef[]): string {
  return hashOf(JSON.stringify(views.map((view) => view.id)));
}

/** Numbers of views by id; views met for the first time are entered. */
export async function viewNumbers(
  { db }: Pick<LedgerContext, 'db'>,
  views: readonly ViewRef[],
): Promise<ReadonlyMap<string, number>> {
  const numbers = new Map<string, number>();
  for (const batch of batches(views)) {
    const rows = batch.map(({ id, page, theme, state, viewport }) => ({ id, page, theme, state, viewport }));
    await db
      .insertInto('view')
      .values(rows)
      .onConflict((conflict) => conflict.column('id').doNothing())
      .execute();
    const ids = rows.map((row) => row.id);
    // One that was there before keeps the seal it has.
    await sealNew(db, 'view');
    for (const row of await db.selectFrom('view').select(['n', 'id']).where('id', 'in', ids).execute()) numbers.set(row.id, row.n);
  }
  return numbers;
}
