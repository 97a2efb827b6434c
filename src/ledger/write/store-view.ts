// One view is stored: its blobs first, then its row in one transaction. A row never points at a blob that is not there.
import { viewUnknown } from '../../errors/ledger-errors.ts';
import type { CapturedView, ViewResult } from '../../samples/captured-view.ts';
import type { Blobs } from '../blobs/blobs.ts';
import { toJson } from '../database/json-column.ts';
import { type LedgerContext, openRunRow } from '../database/ledger-context.ts';
import type { ViewReceipt } from '../records.ts';
import { sampleCount } from '../../samples/sample-count.ts';
import { packProperties, packSamples } from '../sample-table.ts';
import { enterBlobs } from './enter-blobs.ts';
import type { Kept } from './enter-blobs.ts';

/** A view stored again replaces what was stored; its findings are then due again. @throws view-unknown, run-not-open */
export async function storeView(context: LedgerContext, runId: string, result: ViewResult): Promise<ViewReceipt> {
  const run = await openRunRow(context, runId);
  const kept = result.status === 'captured' ? await keepBlobs(context.store.blobs, result) : [];
  return context.db.transaction().execute(async (trx) => {
    const view = await trx.selectFrom('view').select('n').where('id', '=', result.view.id).executeTakeFirst();
    if (view === undefined) throw viewUnknown(runId, result.view.id);
    const numbers = await enterBlobs(trx, kept);
    const facts = { shot: numbers.shot ?? null, samples: numbers.samples ?? null, properties: numbers.properties ?? null };
    const { numUpdatedRows } = await trx
      .updateTable('run_view')
      .set({ ...outcome(result), ...facts, sheet: null })
      .where('run', '=', run.n)
      .where('view', '=', view.n)
      .executeTakeFirst();
    if (numUpdatedRows === 0n) throw viewUnknown(runId, result.view.id);
    const before = await trx
      .selectFrom('run_view')
      .select(['shot', 'samples', 'properties'])
      .where('run', '=', run.previous)
      .where('view', '=', view.n)
      .where('status', '=', 'captured')
      .executeTakeFirst();
    return {
      shot: kept.find((blob) => blob.kind === 'shot')?.hash ?? null,
      unchanged:
        result.status === 'captured' &&
        before?.shot === facts.shot &&
        before.samples === facts.samples &&
        before.properties === facts.properties,
    };
  });
}

async function keepBlobs(blobs: Blobs, view: CapturedView): Promise<readonly Kept[]> {
  return [
    { kind: 'shot', ...(await blobs.put(view.shot)) },
    { kind: 'samples', ...(await blobs.put(await packSamples(view.samples, view.masks ?? []))) },
    { kind: 'properties', ...(await blobs.put(await packProperties(view.properties))) },
  ];
}

function outcome(result: ViewResult) {
  if (result.status === 'failed') {
    return { status: 'failed' as const, ms: result.ms, code: result.code, error: result.error, sample_count: 0 };
  }
  const { page, notes } = result;
  return {
    status: 'captured' as const,
    ms: result.ms,
    code: null,
    error: null,
    sample_count: sampleCount(result.samples),
    title: page.title,
    width: page.widthCssPx,
    height: page.heightCssPx,
    scale: page.scale,
    notes: notes.length === 0 ? null : toJson(notes),
    fingerprint: result.fingerprint ?? null,
  };
}
