// What each token paints in a run: every place at rest is counted under its token and under the step at the end of its chain, the first
// few of each view kept with where they are.
import type { PaintedAt } from '../../report-ui/server/sources.ts';
import { standardOf, verdictOnSample } from '../checks/verdict-on-sample.ts';
import type { Standard } from '../checks/verdict-on-sample.ts';
import { openLedger } from '../ledger/ledger.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import type { StoredView } from '../ledger/records.ts';
import type { Sample } from '../samples/sample.ts';
import { namesInUse } from '../samples/name-chain.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import { propertyNames } from '../tokens/property-names.ts';
import { allOf } from './choose-run.ts';

export interface Painted {
  /** Places by `theme step`, for ramps. */
  readonly uses: ReadonlyMap<string, number>;
  /** By `theme token`, tokens and steps alike. */
  readonly of: ReadonlyMap<string, { readonly count: number; readonly first: readonly PaintedAt[] }>;
}

/** Of one token in one theme; of one page no more than some, so that pages are seen side by side. */
const KEPT = 60;
const KEPT_OF_VIEW = 15;

export async function paintedPlaces(
  store: StorePlace,
  run: string,
  graph: TokenGraph,
  css: Parameters<typeof propertyNames>[1],
): Promise<Painted> {
  const tokenOf = new Map(
    [...graph.tokens.keys()].flatMap((path) => propertyNames(path, css).map((name) => [name, path] as const)),
  );
  const uses = new Map<string, number>();
  const of = new Map<string, { count: number; first: PaintedAt[] }>();
  const add = (theme: string, token: string, place: PaintedAt): void => {
    const there = of.get(`${theme} ${token}`) ?? { count: 0, first: [] };
    of.set(`${theme} ${token}`, there);
    there.count += 1;
    if (there.first.length < KEPT && there.first.filter(({ view }) => view === place.view).length < KEPT_OF_VIEW)
      there.first.push(place);
  };
  await using ledger = await openLedger(store, { access: 'read' });
  const standard = standardOf(await ledger.run(run));
  for (const view of await allOf((request) => ledger.views(run, request))) {
    if (view.status !== 'captured' || view.state !== 'rest') continue;
    for (const sample of (await ledger.samplesOf(run, view.id)).samples) {
      const origin = sample.kind === 'text' ? sample.ink.origin : sample.kind === 'picture' ? null : sample.paint.origin;
      const token =
        origin?.kind === 'token'
          ? namesInUse(origin).flatMap((name) => tokenOf.get(name) ?? [])[0]
          : origin?.kind === 'inferred'
            ? origin.token
            : undefined;
      if (token === undefined) continue;
      const step = graph.stepOf(token, view.theme);
      const place = paintedAt(sample, view, standard);
      add(view.theme, token, place);
      if (step === null) continue;
      uses.set(`${view.theme} ${step}`, (uses.get(`${view.theme} ${step}`) ?? 0) + 1);
      if (step !== token) add(view.theme, step, place);
    }
  }
  return { uses, of };
}

function paintedAt(sample: Sample, view: StoredView, standard: Standard): PaintedAt {
  const { key, selector, rect } = sample;
  const place = { view: view.id, key, selector, rect };
  const verdict = sample.kind === 'text' || sample.kind === 'graphic' ? verdictOnSample(sample, view, standard).verdict : null;
  switch (sample.kind) {
    case 'text':
      return { ...place, property: sample.ink.property, text: sample.text, contrast: sample.contrast.min, verdict };
    case 'graphic':
      return { ...place, property: sample.paint.property, text: sample.label ?? null, contrast: sample.contrast, verdict };
    case 'picture':
      return { ...place, property: '', text: null, contrast: null, verdict };
    case 'surface':
    case 'shadow':
      return { ...place, property: sample.paint.property, text: sample.label ?? null, contrast: null, verdict };
  }
}
