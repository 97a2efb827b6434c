// Views of the plan → results, several pages side by side in one browser.
import type { ViewResult } from '../src/samples/captured-view.ts';
import type { Entry } from './app/access.ts';
import { openBrowsers } from './browser/browsers.ts';
import { openHopelessPages } from './visit/hopeless-pages.ts';
import type { RenderRequest } from './render-request.ts';
import { openRetries } from './visit/retry.ts';
import { openEntries, withoutSecrets } from './app/session.ts';
import { failed } from './visit/visit-page.ts';
import { apartWhereFew, byTheme, planVisits } from './visit/visits.ts';
import { openShownInPlace } from './visit/shown-in-place.ts';
import { visitQueue } from './visit/visit-queue.ts';
import type { VisitQueue } from './visit/visit-queue.ts';
import { workVisits } from './visit/work-visits.ts';
import { openRulesLookedUp } from './written/once-for-rules.ts';

/**
 * A view that kills its page leaves a fresh one to its neighbours of the same load; it is tried again itself as often as configured.
 * A browser that is held up or lost is followed by another one; what was under way then is tried again, one view after the other.
 */
export type Sink = (result: ViewResult) => Promise<void> | void;

/**
 * Hands each view's result to `sink`, one at a time, in any order. Views that fail are results as well.
 * The browser is closed when this returns, throws or is aborted; one that was handed in only when aborted.
 * @throws GloamError `browser-not-found`, `browser-failed`; what `sink` throws; the reason of an abort
 */
export async function render(request: RenderRequest, sink: Sink): Promise<void> {
  request.signal.throwIfAborted();
  const planned = planVisits(request.views, request.pages, request.configuration);
  const visits = request.apart === true ? planned.flatMap(byTheme) : apartWhereFew(planned, request.workers);
  if (visits.length === 0) return;
  const queue = visitQueue(visits);
  const browsers = openBrowsers(request.browser);
  const browser = await browsers.current();
  // Ends the other workers when one fails for good.
  const fault = new AbortController();
  const signal = AbortSignal.any([request.signal, fault.signal]);
  let stopping = Promise.resolve();
  const stop = (): void => {
    stopping = browsers.close(true);
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
    const wanted = Math.max(1, Math.min(request.workers, visits.length));
    const entries = await openEntries(browser, request.access, { workers: wanted, signal }).catch((error: unknown) => error);
    if (!Array.isArray(entries)) {
      request.signal.throwIfAborted();
      // Nobody is signed in: no page would show what is to be judged.
      for (const view of request.views) await deliver(failed(view, 0, entries));
      return;
    }
    const retries = openRetries(request.configuration.retries ?? 0, queue);
    const hopeless = openHopelessPages();
    const rulesLookedUp = openRulesLookedUp();
    const shownInPlace = openShownInPlace();
    const shared = { browsers, retries, hopeless, rulesLookedUp, shownInPlace };
    const suspects = visitQueue([]);
    const work = async (
      staff: readonly (Entry | undefined)[],
      place: { queue: VisitQueue; suspects: VisitQueue | null },
    ): Promise<void> => {
      const workers = staff.map(async (entry) => {
        try {
          await workVisits({ ...request, signal }, { ...shared, entry, ...place }, deliver);
        } catch (error) {
          fault.abort(error);
          throw error;
        }
      });
      const ends = await Promise.allSettled(workers);
      request.signal.throwIfAborted();
      if (fault.signal.aborted) throw fault.signal.reason;
      for (const end of ends) if (end.status === 'rejected') throw end.reason;
    };
    const staff: readonly (Entry | undefined)[] = entries;
    await work(staff, { queue, suspects });
    // Each in turn, so that what goes wrong now is its own doing.
    await work(staff.slice(0, 1), { queue: suspects, suspects: null });
    for (const result of retries.rest()) await deliver(withoutSecrets(result, request.access));
  } finally {
    signal.removeEventListener('abort', stop);
    await Promise.all([stopping, browsers.close(false)]);
  }
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
