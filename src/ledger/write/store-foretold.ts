// One view of a forecast is stored: samples and custom properties of a captured view with other colours. It has no picture, since nobody saw it.
import { viewUnknown } from '../../errors/ledger-errors.ts';
import type { PageProperty } from '../../samples/captured-view.ts';
import type { Sample } from '../../samples/sample.ts';
import type { Rect, View } from '../../samples/view.ts';
import { type LedgerContext, openRunRow } from '../database/ledger-context.ts';
import { together } from '../database/together.ts';
import { packProperties, packSamples } from '../sample-table.ts';
import { enterBlobs } from './enter-blobs.ts';
import type { Kept } from './enter-blobs.ts';

export interface ForetoldFacts {
  /** Id of the view it was made from. */
  readonly from: string;
  readonly samples: readonly Sample[];
  readonly properties: readonly PageProperty[];
  readonly masks: readonly Rect[];
}

/** @throws view-unknown, run-not-open */
export async function storeForetold(context: LedgerContext, runId: string, view: View, facts: ForetoldFacts): Promise<void> {
  const run = await openRunRow(context, runId);
  const {
    store: { blobs },
  } = context;
  const kept: readonly Kept[] = [
    { kind: 'samples', ...(await blobs.put(await packSamples(facts.samples, facts.masks))) },
    { kind: 'properties', ...(await blobs.put(await packProperties(facts.properties))) },
  ];
  await together(context, async (trx) => {
    const source = await trx
      .selectFrom('run_view')
      .innerJoin('view', 'view.n', 'run_view.view')
      .select(['run_view.title', 'run_view.width', 'run_view.height', 'run_view.scale', 'run_view.sample_count'])
      .where('run_view.run', '=', run.foretold_of)
      .where('view.id', '=', facts.from)
      .executeTakeFirst();
    if (source === undefined) throw viewUnknown(runId, facts.from);
    const numbers = await enterBlobs({ ...context, db: trx }, kept);
    const own = { samples: numbers.samples ?? null, properties: numbers.properties ?? null };
    await trx
      .updateTable('run_view')
      .set({ status: 'captured', ms: 0, ...source, ...own, sheet: null })
      .where('run', '=', run.n)
      .where('view', '=', (eb) => eb.selectFrom('view').select('n').where('id', '=', view.id))
      .execute();
  });
}
