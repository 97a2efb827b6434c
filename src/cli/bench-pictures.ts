// A view of the live app with a proposal worn, as a picture: rendered when somebody asks, one after the other, few waiting, each within
// its time, the last ones kept.
import { discoverPages } from '../../runner/app/discover-pages.ts';
import { openApp } from '../../runner/app/open-app.ts';
import type { Secrets } from '../../runner/app/secrets.ts';
import { render } from '../../runner/render.ts';
import { readTokens } from '../config/read-tokens.ts';
import { GloamError } from '../errors/gloam-error.ts';
import { benchBusy, benchUnable } from '../errors/server-errors.ts';
import type { ProposedChange } from '../forecast/proposal.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import type { Configuration } from '../plan/configuration.ts';
import { makePlan } from '../plan/make-plan.ts';
import type { ViewResult } from '../samples/captured-view.ts';
import { indexTable } from '../triage/tokens/table-index.ts';
import { propertiesUnder } from '../triage/worn-properties.ts';
import { readChanges } from './bench-changes.ts';
import { movesOf } from './bench-looks.ts';
import { readAccess } from './read-access.ts';
import type { Environment } from './read-access.ts';
import { dyedNames } from './run/execute-run.ts';
import { tableOfFiles } from './run/explain-run.ts';
import { wearing } from './run/render-worn.ts';

/** How the app is come by. */
export interface Reach {
  readonly env: Environment;
  readonly secrets: Secrets;
  readonly signal: AbortSignal;
}

const WITHIN_MS = 120_000;
const MOST_WAITING = 4;
const KEPT = 24;

export function openBenchPictures(
  configuration: Configuration,
  store: StorePlace,
  reach: Reach,
): (run: string, view: string, changes: string) => Promise<Uint8Array> {
  const kept = new Map<string, Promise<Uint8Array>>();
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();
  return (run, view, changes) => {
    const key = JSON.stringify([store, run, view, changes]);
    const known = kept.get(key);
    if (known !== undefined) return known;
    if (waiting >= MOST_WAITING) throw benchBusy(`${String(waiting)} pictures are asked for already`);
    waiting += 1;
    const made = last.then(() => pictureOf(configuration, reach, view, readChanges(changes)));
    last = made
      .catch(() => kept.delete(key))
      .finally(() => {
        waiting -= 1;
      });
    kept.set(key, made);
    const [oldest] = kept.keys();
    if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
    return made;
  };
}

/** @throws bench-unable */
async function pictureOf(
  configuration: Configuration,
  reach: Reach,
  id: string,
  changes: readonly ProposedChange[],
): Promise<Uint8Array> {
  const signal = AbortSignal.any([reach.signal, AbortSignal.timeout(WITHIN_MS)]);
  try {
    const accessAt = await readAccess(configuration, reach);
    const tokens = readTokens(configuration);
    if (tokens === null) throw benchUnable('no token files are configured.');
    const app = await openApp(configuration.app, signal);
    try {
      const access = accessAt(app.origin);
      const pages = await discoverPages(configuration.pages, app.origin, signal, access);
      const { themes, viewports } = configuration;
      const views = makePlan({ origin: app.origin, pages, themes, viewports }).filter((view) => view.id === id);
      const index = indexTable(tableOfFiles(configuration, tokens));
      const moves = movesOf(index, changes);
      let result: ViewResult | undefined;
      await render(
        {
          configuration,
          views,
          pages,
          dye: dyedNames(configuration, tokens),
          workers: 1,
          signal,
          wear: (view) => {
            const theme = index.themeAt(view.theme);
            return wearing(propertiesUnder(index, theme, (token) => moves(theme, token) ?? null));
          },
          ...(access === undefined ? {} : { access }),
        },
        (one) => {
          result = one;
        },
      );
      if (result === undefined) throw benchUnable(`the app has no view ${id} any more.`);
      if (result.status === 'failed') throw benchUnable(`${id}: ${result.error}`);
      return result.shot;
    } finally {
      await app.close();
    }
  } catch (error) {
    if (error instanceof GloamError && error.code === 'bench-unable') throw error;
    const why = signal.aborted && !reach.signal.aborted ? `it took longer than ${String(WITHIN_MS / 1_000)} s.` : wordsOf(error);
    throw benchUnable(reach.secrets.scrub(why));
  }
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
