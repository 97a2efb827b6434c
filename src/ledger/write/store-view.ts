// One view is stored: its blobs first, then its row in one transaction. A row never points at a blob that is not there.
import { viewUnknown } from '../../errors/ledger-errors.ts';
import type { CapturedView, ViewResult } from '../../samples/captured-view.ts';
import type { Blobs } from '../blobs/blobs.ts';
import { toJson } from '../database/json-column.ts';
import { type LedgerContext, openRunRow } from '../database/ledger-context.ts';
import { together } from '../database/together.ts';
import type { ViewReceipt } from '../records.ts';
import type { ViewRef } from '../../samples/view.ts';
import { sampleCount } from '../../samples/sample-count.ts';
import { packProperties, packSamples } from '../sample-table.ts';
import { enterBlobs } from './enter-blobs.ts';
import type { Kept } from './enter-blobs.ts';

/** A view whose blobs are kept; its row is not written yet. */
export interface KeptView {
  readonly view: ViewRef;
  readonly blobs: readonly Kept[];
  readonly row: ReturnType<typeof outcome>;
}

/** A view stored again replaces what was stored; its findings are then due again. @throws view-unknown, run-not-open */
export async function storeView(context: LedgerContext, runId: string, result: ViewResult): Promise<ViewReceipt> {
  // Before its blobs are written for nothing.
  await openRunRow(context, runId);
  return storeKept(context, runId, await keepView(context, result));
}

export async function keepView({ store }: Pick<LedgerContext, 'store'>, result: ViewResult): Promise<KeptView> {
  const blobs = result.status === 'captured' ? await keepBlobs(store.blobs, result) : [];
  const { id, page, theme, state, viewport } = result.view;
  return { view: { id, page, theme, state, viewport }, blobs, row: outcome(result) };
}

/** @throws view-unknown, run-not-open */
export async function storeKept(context: LedgerContext, runId: string, kept: KeptView): Promise<ViewReceipt> {
  const run = await openRunRow(context, runId);
  return together(context, async (trx) => {
    const view = await trx.selectFrom('view').select('n').where('id', '=', kept.view.id).executeTakeFirst();
    if (view === undefined) throw viewUnknown(runId, kept.view.id);
    const numbers = await enterBlobs({ ...context, db: trx }, kept.blobs);
    const facts = { shot: numbers.shot ?? null, samples: numbers.samples ?? null, properties: numbers.properties ?? null };
    const { numUpdatedRows } = await trx
      .updateTable('run_view')
      .set({ ...kept.row, ...facts, sheet: null })
      .where('run', '=', run.n)
      .where('view', '=', view.n)
      .executeTakeFirst();
    if (numUpdatedRows === 0n) throw viewUnknown(runId, kept.view.id);
    const before = await trx
      .selectFrom('run_view')
      .select(['shot', 'samples', 'properties'])
      .where('run', '=', run.previous)
      .where('view', '=', view.n)
      .where('status', '=', 'captured')
      .executeTakeFirst();
    return {
      shot: shotOf(kept),
      unchanged:
        kept.row.status === 'captured' &&
        before?.shot === facts.shot &&
        before.samples === facts.samples &&
        before.properties === facts.properties,
    };
  });
}

/** Hash of its picture; null for a view that failed. */
export function shotOf({ blobs }: KeptView): string | null {
  return blobs.find((blob) => blob.kind === 'shot')?.hash ?? null;
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
