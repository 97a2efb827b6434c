// Views of the plan → results, several pages side by side in one browser.
import type { Browser } from 'playwright';
import type { ContrastLevel } from '../src/colour/text-requirement.ts';
import type { Configuration, Page } from '../src/plan/configuration.ts';
import type { KnownView, ViewResult } from '../src/samples/captured-view.ts';
import type { View } from '../src/samples/view.ts';
import { leavesStorage } from './access.ts';
import type { Access, Entry } from './access.ts';
import { findBrowser } from './find-browser.ts';
import { launchBrowser } from './launch-browser.ts';
import type { Limits } from './limits.ts';
import { LIMITS } from './limits.ts';
import { openRetries } from './retry.ts';
import type { Retries } from './retry.ts';
import { exemptFor, rulesFor } from './rules-for.ts';
import { openEntries, withoutSecrets } from './session.ts';
import type { Stopwatch } from './stopwatch.ts';
import { Tab } from './tab.ts';
import type { TabWishes } from './tab.ts';
import { failed, visitPage } from './visit-page.ts';
import type { Left } from './visit-page.ts';
import type { Visit } from './visits.ts';
import { planVisits } from './visits.ts';
import type { Wear } from './wear.ts';

export interface RenderRequest {
  readonly configuration: Configuration;
  readonly views: readonly View[];
  readonly pages: readonly Page[];
  /** Custom properties to trace, besides those that the style sheets declare. */
  readonly dye: readonly string[];
  /** Pages side by side, from 1. */
  readonly workers: number;
  /** Changed colours to put on each view, to see what a repair would do. */
  readonly wear?: (view: View) => Wear | null;
  /** What an earlier run kept of a view: taken over where the view is still the same. */
  readonly known?: (view: View) => Promise<KnownView | undefined>;
  readonly level: ContrastLevel;
  readonly signal: AbortSignal;
  readonly limits?: Partial<Limits>;
  readonly watch?: Stopwatch;
  /** One that is open already and stays so, except after an abort. */
  readonly browser?: Browser;
  /** How the app is come by: headers, cookies, a sign-in for each worker. */
  readonly access?: Access;
  /** Asked before each view: the time for new ones is over. */
  readonly isOver?: () => boolean;
  /** Told after each load of a page: every address it asked for, its own among them. */
  readonly onVisit?: (page: Page, requested: readonly string[]) => void;
}

/** A view that kills its page leaves a fresh one to its neighbours of the same load; it is tried again itself as often as configured. */
export type Sink = (result: ViewResult) => Promise<void> | void;

/**
 * Hands each view's result to `sink`, one at a time, in any order. Views that fail are results as well.
 * The browser is closed when this returns, throws or is aborted; one that was handed in only when aborted.
 * @throws GloamError `browser-not-found`, `browser-failed`; what `sink` throws; the reason of an abort
 */
export async function render(request: RenderRequest, sink: Sink): Promise<void> {
  request.signal.throwIfAborted();
  const queue = [...planVisits(request.views, request.pages, request.configuration)];
  if (queue.length === 0) return;
  const browser = request.browser ?? (await launchBrowser(await findBrowser(process.env)));
  // Ends the other workers when one fails for good.
  const fault = new AbortController();
  const signal = AbortSignal.any([request.signal, fault.signal]);
  const stop = (): void => {
    browser.close().catch(() => undefined);
  };
  signal.addEventListener('abort', stop, { once: true });
  const handOver = oneAtATime(sink);
  try {
    // A sink that fails ends the run, whatever its caller makes of the error.
    const deliver = async (result: ViewResult): Promise<void> => {
      try {
        await handOver(result);
      } catch (error) {
        fault.abort(error);
        throw error;
      }
    };
    const wanted = Math.max(1, Math.min(request.workers, queue.length));
    const entries = await openEntries(browser, request.access, { workers: wanted, signal }).catch((error: unknown) => error);
    if (!Array.isArray(entries)) {
      request.signal.throwIfAborted();
      // Nobody is signed in: no page would show what is to be judged.
      for (const view of request.views) await deliver(failed(view, 0, entries));
      return;
    }
    const retries = openRetries(request.configuration.retries ?? 0, queue);
    const workers = entries.map(async (entry: Entry | undefined) => {
      try {
        await work({ ...request, signal }, { browser, queue, retries, entry }, deliver);
      } catch (error) {
        fault.abort(error);
        throw error;
      }
    });
    const ends = await Promise.allSettled(workers);
    request.signal.throwIfAborted();
    if (fault.signal.aborted) throw fault.signal.reason;
    for (const end of ends) if (end.status === 'rejected') throw end.reason;
    for (const result of retries.rest()) await deliver(withoutSecrets(result, request.access));
  } finally {
    signal.removeEventListener('abort', stop);
    if (request.browser === undefined) await browser.close().catch(() => undefined);
  }
}

async function work(
  request: RenderRequest,
  by: {
    readonly browser: Browser;
    readonly queue: Visit[];
    readonly retries: Retries;
    readonly entry: Entry | undefined;
  },
  done: (result: ViewResult) => Promise<void>,
): Promise<void> {
  const today = new Date().toISOString().slice(0, 10);
  const { browser, queue, retries, entry } = by;
  const tabWishes = { ...tabWishesOf(request), ...(entry === undefined ? {} : { entry }) };
  let tab: Tab | null = null;
  try {
    for (let visit = queue.shift(); visit !== undefined; visit = queue.shift()) {
      request.signal.throwIfAborted();
      if (request.isOver?.() === true) break;
      const current = visit;
      const seen = { trouble: false };
      const watched = async (result: ViewResult): Promise<void> => {
        seen.trouble ||= result.status === 'failed';
        const kept = retries.judge(current, result);
        if (kept !== null) await done(withoutSecrets(kept, request.access));
      };
      try {
        tab ??= await Tab.open(browser, tabWishes);
        const rules = rulesFor(request.configuration, visit.page);
        const left = await visitPage(
          tab,
          visit,
          {
            level: request.level,
            rules,
            dye: request.dye,
            wearFor: request.wear ?? (() => null),
            knownFor: request.known ?? (() => Promise.resolve(undefined)),
            configuredFor: (view) => exemptFor(request.configuration, view, today),
            isOver: request.isOver ?? (() => false),
          },
          watched,
        );
        request.onVisit?.(visit.page, [...tab.requested]);
        queue.unshift(...visitsOf(visit, left));
        seen.trouble ||= leavesStorage(entry);
        if (!seen.trouble) seen.trouble = !(await tab.clearStorage());
      } catch (error) {
        request.signal.throwIfAborted();
        if (!browser.isConnected()) throw error;
        // The tab could not be opened or tidied: the next visit gets a fresh one.
        if (tab === null) for (const task of visit.tasks) await done(failed(task.view, 0, error));
        seen.trouble = true;
      }
      if (seen.trouble) {
        await tab?.close();
        tab = null;
      }
    }
  } finally {
    await tab?.close();
  }
}

function visitsOf(visit: Visit, { tasks, apart }: Left): readonly Visit[] {
  if (tasks.length === 0) return [];
  if (!apart) return [{ ...visit, tasks }];
  const themes = [...new Set(tasks.map((task) => task.theme))];
  return themes.map((theme) => ({ ...visit, tasks: tasks.filter((task) => task.theme === theme) }));
}

function tabWishesOf({ limits, signal, watch, configuration: { clock } }: RenderRequest): TabWishes {
  return {
    limits: { ...LIMITS, ...limits },
    signal,
    ...(watch === undefined ? {} : { watch }),
    ...(clock === undefined ? {} : { clock: new Date(clock) }),
  };
}

/** Sinks write to one store; they never see two results at once. */
function oneAtATime(sink: Sink): (result: ViewResult) => Promise<void> {
  let last: Promise<void> = Promise.resolve();
  return (result) => {
    const next = last.then(() => sink(result));
    last = next.catch(() => undefined);
    return next;
  };
}
