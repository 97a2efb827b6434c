// Pictures of a run become the accepted ones, and stop being so. What is accepted is a row; pictures live by hash.
import { acceptanceUndone, acceptanceUnknown, runForetold, viewNotCaptured } from '../../errors/ledger-errors.ts';
import { hashOf } from '../blobs/blobs.ts';
import { batches, type LedgerContext, runRow } from '../database/ledger-context.ts';
import { seal } from '../database/seals.ts';
import { type AcceptedRow, acceptedRows, readAcceptance } from '../read/accepted.ts';
import type { Acceptance, NewAcceptance } from '../records.ts';
import type { AcceptedPictureTable } from '../database/schema.ts';
import { together } from '../database/together.ts';

type Picture = Omit<AcceptedPictureTable, 'acceptance' | 'seal'>;

/** Views whose accepted picture is the run's already take no part. @throws run-unknown, run-foretold, view-unknown, view-not-captured */
export async function accept(context: LedgerContext, runId: string, request: NewAcceptance): Promise<Acceptance> {
  const run = await runRow(context, runId);
  if (run.foretold_of !== null) throw runForetold(runId);
  return together(context, async (trx) => {
    const inner = { ...context, db: trx };
    const captured = await trx
      .selectFrom('run_view')
      .innerJoin('view', 'view.n', 'run_view.view')
      .select(['view.id', 'run_view.view', 'run_view.shot', 'run_view.samples', 'run_view.properties'])
      .where('run_view.run', '=', run.n)
      .where('run_view.status', '=', 'captured')
      .execute();
    const byId = new Map(captured.map(({ id, ...picture }) => [id, picture]));
    const inForce = await acceptedRows(inner, request.set);
    const chosen = request.views === 'all' ? [...byId.keys()] : [...new Set(request.views)];
    const pictures = chosen.map((id): Picture => {
      const picture = byId.get(id);
      if (picture === undefined) throw viewNotCaptured(runId, id);
      return picture;
    });
    const dropped = inForce.filter((row) => request.dropped?.includes(row.id) === true).map((row) => emptyPlace(row.view));
    const changes = [...pictures.filter((picture) => differs(picture, inForce)), ...dropped];
    return recordAcceptance(inner, { ...request, run: runId }, changes);
  });
}

/** @throws acceptance-unknown, acceptance-undone */
export async function undoAcceptance(
  context: LedgerContext,
  id: string,
  undo: { readonly by: string; readonly at: string },
): Promise<Acceptance> {
  const found = await readAcceptance(context, id);
  if (found === undefined) throw acceptanceUnknown(id);
  if (found.undone !== null) throw acceptanceUndone(id, found.undone.at);
  await context.db.updateTable('acceptance').set({ undone_at: undo.at, undone_by: undo.by }).where('id', '=', id).execute();
  await seal(context.db, 'acceptance', { id });
  return { ...found, undone: undo };
}

/** Inside a transaction. */
export async function recordAcceptance(
  context: LedgerContext,
  facts: { readonly set: string; readonly who: string; readonly note: string; readonly at: string; readonly run: string | null },
  pictures: readonly Picture[],
): Promise<Acceptance> {
  const { set, who, note, at, run } = facts;
  const { n: turn } = await context.db
    .selectFrom('acceptance')
    .select((eb) => eb.fn.countAll<number>().as('n'))
    .executeTakeFirstOrThrow();
  const id = hashOf(JSON.stringify([set, who, note, at, run, turn])).slice(0, 12);
  const { n } = await context.db
    .insertInto('acceptance')
    .values({ id, collection: set, who, note, at, run, undone_at: null, undone_by: null })
    .returning('n')
    .executeTakeFirstOrThrow();
  for (const batch of batches(pictures)) {
    await context.db
      .insertInto('accepted_picture')
      .values(batch.map((picture) => ({ ...picture, acceptance: n })))
      .execute();
  }
  await seal(context.db, 'acceptance', { n });
  await seal(context.db, 'accepted_picture', { acceptance: n });
  return { id, set, who, note, at, run, undone: null, views: pictures.length };
}

const emptyPlace = (view: number): Picture => ({ view, shot: null, samples: null, properties: null });

function differs(picture: Picture, inForce: readonly AcceptedRow[]): boolean {
  const now = inForce.find((row) => row.view === picture.view);
  return now?.shot_n !== picture.shot || now.samples_n !== picture.samples || now.properties_n !== picture.properties;
}
