// One worker: takes visits from the queue and renders them in a tab of its own, until none is left.
import type { Browser } from 'playwright';
import { pageHopeless } from '../../src/errors/capture-errors.ts';
import type { ViewResult } from '../../src/samples/captured-view.ts';
import { leavesStorage } from '../app/access.ts';
import type { Entry } from '../app/access.ts';
import type { Browsers } from '../browser/browsers.ts';
import type { HopelessPages } from './hopeless-pages.ts';
import { LIMITS, limitsWithin } from '../tab/limits.ts';
import type { RenderRequest } from '../render-request.ts';
import type { Retries } from './retry.ts';
import { ruleSelectors } from '../../src/plan/rule-selectors.ts';
import { rulesFor } from './rules-for.ts';
import { withoutSecrets } from '../app/session.ts';
import { Tab } from '../tab/tab.ts';
import type { TabWishes } from '../tab/tab.ts';
import type { RulesLookedUp } from '../written/once-for-rules.ts';
import type { ShownInPlace } from './shown-in-place.ts';
import { openSignedOut } from './signed-out.ts';
import type { VisitQueue } from './visit-queue.ts';
import { failed, visitPage } from './visit-page.ts';
import type { Left } from './visit-page.ts';
import type { Task, Visit } from './visits.ts';

/** A tab that works closes in a tenth of this (ours). */
const CLOSE_MS = 5_000;
/** What a browser that is held up makes of a page that is not to blame. */
const MAY_BE_ANOTHERS: ReadonlySet<string> = new Set(['view-out-of-time', 'page-timeout', 'page-crashed', 'page-unreachable']);

export interface WorkPlace {
  readonly browsers: Browsers;
  readonly queue: VisitQueue;
  readonly retries: Retries;
  readonly hopeless: HopelessPages;
  readonly entry: Entry | undefined;
  readonly rulesLookedUp: RulesLookedUp;
  readonly shownInPlace: ShownInPlace;
  /** Takes up what was under way when a browser was held up or lost: one of them is to blame. Null: they are alone by now. */
  readonly suspects: VisitQueue | null;
}

export async function workVisits(
  request: RenderRequest,
  place: WorkPlace,
  done: (result: ViewResult) => Promise<void>,
): Promise<void> {
  const { browsers, queue, retries, hopeless, entry, suspects } = place;
  const tabWishes = { ...tabWishesOf(request), ...(entry === undefined ? {} : { entry }) };
  const signedOut = entry === undefined ? null : openSignedOut(entry, request.pages);
  let used: { readonly tab: Tab; readonly browser: Browser } | null = null;

  /** The browser is held up or gone, and whose fault that is cannot be told. */
  const isSuspect = async (browser: Browser): Promise<boolean> => {
    if (suspects === null || (await browsers.isWell(browser))) return false;
    request.signal.throwIfAborted();
    await browsers.end(browser);
    return true;
  };
  const leave = async (): Promise<void> => {
    if (used === null) return;
    const { tab, browser } = used;
    used = null;
    if (!(await tab.closeWithin(CLOSE_MS))) await browsers.end(browser);
  };

  const workOn = async (current: Visit): Promise<void> => {
    const lost = hopeless.reason(current);
    if (lost !== null) {
      for (const { view } of current.tasks)
        await done(withoutSecrets(failed(view, 0, pageHopeless(view.url, lost)), request.access));
      return;
    }
    const browser = await browsers.current();
    if (used !== null && used.browser !== browser) await leave();
    const seen = { trouble: false };
    const set: Task[] = [];
    const watched = async (result: ViewResult): Promise<void> => {
      seen.trouble ||= result.status === 'failed';
      const isForeign = result.status === 'failed' && (MAY_BE_ANOTHERS.has(result.code) || !browser.isConnected());
      if (isForeign && (await isSuspect(browser))) {
        set.push(...current.tasks.filter(({ view }) => view.id === result.view.id));
        return;
      }
      hopeless.take(current, result);
      const kept = retries.judge(current, result, suspects === null || hopeless.reason(current) !== null);
      if (kept !== null) await done(withoutSecrets(kept, request.access));
    };
    try {
      used ??= { tab: await Tab.open(browser, tabWishes), browser };
      const { tab } = used;
      const left = await visitPage(
        tab,
        current,
        {
          rules: rulesFor(request.configuration, current.page),
          ruled: [...new Set(ruleSelectors(request.configuration).map(({ selector }) => selector))],
          dye: request.dye,
          wearFor: request.wear ?? (() => null),
          knownFor: request.known ?? (() => Promise.resolve(undefined)),
          rulesLookedUp: place.rulesLookedUp,
          shownInPlace: place.shownInPlace,
          signedOut,
          isOver: request.isOver ?? (() => false),
        },
        watched,
      );
      request.onVisit?.(current.page, tab.traffic.requested);
      queue.giveBack(visitsOf(current, left));
      seen.trouble ||= leavesStorage(entry);
      if (!seen.trouble) seen.trouble = !(await tab.storage.clear());
    } catch (error) {
      request.signal.throwIfAborted();
      // The tab could not be opened or tidied: the next visit gets a fresh one.
      if (used === null) for (const task of current.tasks) await watched(failed(task.view, 0, error));
      seen.trouble = true;
    }
    if (set.length > 0) suspects?.again(current, set);
    if (seen.trouble) await leave();
  };

  try {
    for (let visit = queue.take(); visit !== undefined; visit = queue.take()) {
      try {
        request.signal.throwIfAborted();
        if (request.isOver?.() === true) break;
        await workOn(visit);
      } finally {
        // Whoever waits for its look waits no longer.
        if (visit.proof?.by === 'showing') place.shownInPlace.show(visit.proof.view, null);
      }
    }
  } finally {
    await leave();
  }
}

function visitsOf(visit: Visit, { tasks, apart }: Left): readonly Visit[] {
  if (tasks.length === 0) return [];
  if (!apart) return [{ ...visit, tasks }];
  const themes = [...new Set(tasks.map((task) => task.theme))];
  return themes.map((theme) => ({ ...visit, tasks: tasks.filter((task) => task.theme === theme) }));
}

function tabWishesOf({ limits, signal, watch, configuration: { clock, limits: configured } }: RenderRequest): TabWishes {
  return {
    limits: { ...(configured === undefined ? LIMITS : limitsWithin(configured.viewMs)), ...limits },
    signal,
    ...(watch === undefined ? {} : { watch }),
    ...(clock === undefined ? {} : { clock: new Date(clock) }),
  };
}
