// What it takes to recolour any view of a stored run: read once for all its samples, whatever is proposed then.
import { openRootFilters } from '../../forecast/root-filters.ts';
import type { Sample } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';
import { openPaintReader } from '../../triage/cases/paint-ref.ts';
import type { PaintReader } from '../../triage/cases/paint-ref.ts';
import { findBuildFaults, hangsOnStale } from '../../triage/tokens/build-faults.ts';
import type { ServedProperty } from '../../triage/tokens/build-faults.ts';
import type { TableIndex } from '../../triage/tokens/table-index.ts';
import { inferenceFor } from './explain-run.ts';
import type { EachView } from './explain-run.ts';

export interface SeenRun {
  readonly index: TableIndex;
  readonly infer: (view: ViewRef, samples: readonly Sample[]) => readonly Sample[];
  readonly readPaint: PaintReader;
  readonly filters: ReturnType<typeof openRootFilters>;
}

/** @param served custom properties as its pages had them @param eachView called more than once */
export async function openSeen(index: TableIndex, served: readonly ServedProperty[], eachView: EachView): Promise<SeenRun> {
  const infer = await inferenceFor(index.table, served, eachView);
  const filters = openRootFilters();
  await eachView((view, samples) => {
    filters.add(view.theme, samples);
  });
  return { index, infer, filters, readPaint: openPaintReader(index, hangsOnStale(index, findBuildFaults(index, served))) };
}
