// One browser tab, reused for many pages: navigation, calls into a world of its own in the page, pictures. Every wait has a
// deadline, ends on abort, and ends when the tab dies. All waits go through it, hence the length.
import type { Browser, BrowserContext, CDPSession, Page as BrowserPage, Request } from 'playwright';
import {
  captureFailed,
  pageCrashed,
  pageFloods,
  pageHttpError,
  pageLeft,
  pageReloads,
  pageTimeout,
  pageWithoutRoot,
  viewOutOfTime,
} from '../../src/errors/capture-errors.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { Viewport } from '../../src/plan/configuration.ts';
import { within } from '../browser/browser-process.ts';
import { watchFloods } from './floods.ts';
import type { Floods } from './floods.ts';
import { NO_ROOT } from '../page/reasons.ts';
import type { PageCall, PageCalls } from '../page/wire/wire.ts';
import { cookiesOf } from '../app/access.ts';
import type { Entry } from '../app/access.ts';
import type { Limits } from './limits.ts';
import { loadFault } from './load-fault.ts';
import { sendOwnHeaders } from '../app/own-headers.ts';
import { pageCode } from '../page-code.ts';
import { paintsBeyond } from '../browser/paints-beyond.ts';
import { Stopwatch } from './stopwatch.ts';
import { watchTimersScript } from './watch-timers.ts';
import { openViewTime } from './view-time.ts';
import type { ViewTime } from './view-time.ts';

/** For what has to be there before the page's own scripts run. */
export const EARLY_WORLD = 'gloam-early';
/** The world of our own in each page. */
const WORLD = 'gloam';
/** Making a tab is the browser's work alone; one that takes longer is held up (ours). */
const OPEN_MS = 20_000;

/** Kinds of requests behind which scripts build on. */
const BUILDING: ReadonlySet<string> = new Set(['fetch', 'xhr', 'script']);

export interface TabWishes {
  readonly limits: Limits;
  readonly signal: AbortSignal;
  /** Instant at which the pages' clock stands still (timers go on). */
  readonly clock?: Date;
  readonly watch?: Stopwatch;
  /** Headers, cookies and sign-in that the app asks for. */
  readonly entry?: Entry;
}

export class Tab {
  /** Requests without an answer yet, and since when (ms, monotonic). */
  readonly inFlight = new Map<Request, number>();
  /** Addresses asked for since the last `goto`, its own among them. */
  readonly requested = new Set<string>();
  /** What waits, to be told when the tab dies or the run is aborted; each for as long as it waits, so that no answer is kept alive. */
  readonly #waiting = new Set<(error: Error) => void>();
  #death: Error | null = null;
  readonly #abort = (): void => {
    this.#die(this.signal.reason);
  };
  #world: number | null = null;
  #url = 'about:blank';
  /** CSS px from the page's top left that are painted; the viewport at least. */
  #painted = { width: 0, height: 0 };
  readonly #paintsBeyond: boolean;
  #navigations = 0;
  #answers = 0;
  #ticks = true;
  #closing: Promise<void> | null = null;
  /** Origins that may have stored something since the storage was cleared. */
  readonly #origins = new Set<string>();
  /** Of the script that runs at the start of each document, besides our own code. */
  #early: string | null = null;
  readonly #time: ViewTime;
  readonly #floods: Floods;
  readonly context: BrowserContext;
  readonly page: BrowserPage;
  readonly cdp: CDPSession;
  readonly limits: Limits;
  readonly signal: AbortSignal;
  readonly watch: Stopwatch;
  readonly entry: Entry | undefined;

  private constructor(parts: { context: BrowserContext; page: BrowserPage; cdp: CDPSession; beyond: boolean; wishes: TabWishes }) {
    this.context = parts.context;
    this.page = parts.page;
    this.cdp = parts.cdp;
    this.#paintsBeyond = parts.beyond;
    this.limits = parts.wishes.limits;
    this.signal = parts.wishes.signal;
    this.watch = parts.wishes.watch ?? new Stopwatch();
    this.entry = parts.wishes.entry;
    this.#time = openViewTime(this.limits.viewMs, () => performance.now());
    this.#floods = watchFloods(this.page, (what) => {
      this.#die(pageFloods(this.#url, what));
    });
    this.#listen();
  }

  #die(error: unknown): void {
    this.#death ??= error instanceof Error ? error : new Error(String(error));
    for (const tell of [...this.#waiting]) tell(this.#death);
  }

  /** @throws GloamError `page-timeout` where the browser is held up */
  static async open(browser: Browser, wishes: TabWishes): Promise<Tab> {
    const opening = Tab.#open(browser, wishes);
    if (!(await within(OPEN_MS, opening))) {
      opening.then(
        (tab) => tab.close(),
        () => undefined,
      );
      throw pageTimeout('about:blank', 'opening a tab', OPEN_MS);
    }
    return opening;
  }

  static async #open(browser: Browser, wishes: TabWishes): Promise<Tab> {
    const { clock, entry } = wishes;
    const context = await browser.newContext({
      viewport: null,
      acceptDownloads: false,
      ignoreHTTPSErrors: true,
      serviceWorkers: 'block',
      ...(entry?.state == null ? {} : { storageState: entry.state }),
    });
    if (entry !== undefined) await context.addCookies(cookiesOf(entry));
    if (clock !== undefined) await context.clock.setFixedTime(clock);
    const page = await context.newPage();
    const cdp = await context.newCDPSession(page);
    await cdp.send('Page.enable');
    // Sent once, there in every document to come.
    const source = `if(globalThis===globalThis.top){${await pageCode()}}`;
    await cdp.send('Page.addScriptToEvaluateOnNewDocument', { source, worldName: WORLD });
    await cdp.send('Page.addScriptToEvaluateOnNewDocument', { source: watchTimersScript() });
    if (entry !== undefined) await sendOwnHeaders(cdp, entry.access);
    return new Tab({ context, page, cdp, beyond: await paintsBeyond(browser, page, cdp), wishes });
  }

  /** It crashed, was aborted or closed. */
  get dead(): boolean {
    return this.#death !== null || this.#closing !== null;
  }

  get url(): string {
    return this.#url;
  }

  /** Where it is by now, as far as the browser has told. */
  get place(): string {
    return this.page.url();
  }

  /** How many requests that scripts go on from have ended since the tab was opened. */
  get answers(): number {
    return this.#answers;
  }

  /** Whether timers and frames come to code in the page: not where its policy lets no scripts run. */
  get ticks(): boolean {
    return this.#ticks;
  }

  /** How often the main document changed since the tab was opened. */
  get navigations(): number {
    return this.#navigations;
  }

  #listen(): void {
    const { page, context } = this;
    page.on('crash', () => {
      this.#die(pageCrashed(this.#url));
    });
    page.on('close', () => {
      this.#die(pageCrashed(this.#url));
    });
    page.on('dialog', (dialog) => {
      // Leaving is allowed, everything else is declined, as a visitor who does not answer.
      const answer = dialog.type() === 'beforeunload' ? dialog.accept() : dialog.dismiss();
      answer.catch(() => undefined);
      this.#floods.count('dialogs');
    });
    context.on('page', (other) => {
      if (other !== page) other.close().catch(() => undefined);
    });
    // Not told of changes of the address within a document, which keep the world.
    this.cdp.on('Page.frameNavigated', ({ frame }) => {
      if (frame.parentId === undefined) this.#world = null;
    });
    page.on('framenavigated', (frame) => {
      if (frame !== page.mainFrame()) return;
      this.#navigations += 1;
      const { origin } = new URL(frame.url());
      if (origin !== 'null') this.#origins.add(origin);
    });
    page.on('request', (request) => {
      this.inFlight.set(request, performance.now());
      this.requested.add(request.url());
    });
    const over = (request: Request): void => {
      this.inFlight.delete(request);
      if (BUILDING.has(request.resourceType())) this.#answers += 1;
    };
    page.on('requestfinished', over);
    page.on('requestfailed', over);
    if (this.signal.aborted) this.#abort();
    else this.signal.addEventListener('abort', this.#abort, { once: true });
  }

  /** The next view begins, and has all the time of a view. */
  beginView(): void {
    this.#time.begin();
    this.#floods.begin();
  }

  /** The view's time is over: the page is not to be trusted with another one. */
  #outOfTime(doing: string): void {
    const { viewMs } = this.limits;
    this.#die(viewOutOfTime(this.#url, { doing, viewMs, spent: this.#time.spentOn(), meanwhile: this.#floods.told() }));
  }

  /**
   * Waits for `what`, at most `ms`, and no longer than the view's time.
   * @throws GloamError `page-timeout`, `view-out-of-time`, `page-floods`, `page-crashed`; the reason of an abort
   */
  async guard<T>(doing: string, what: Promise<T>, ms = this.limits.callMs): Promise<T> {
    what.catch(() => undefined);
    if (this.#death !== null) throw this.#death;
    const left = this.#time.left();
    const started = performance.now();
    return new Promise<T>((resolve, reject) => {
      const over = (): void => {
        clearTimeout(timer);
        this.#waiting.delete(fail);
        this.#time.spend(doing, performance.now() - started);
      };
      const fail = (error: Error): void => {
        over();
        reject(error);
      };
      const timer = setTimeout(
        () => {
          this.#time.spend(doing, performance.now() - started);
          if (left <= ms) this.#outOfTime(doing);
          else fail(pageTimeout(this.#url, doing, Math.round(ms), this.#floods.told()));
        },
        Math.min(ms, left),
      );
      this.#waiting.add(fail);
      what.then((value) => {
        over();
        resolve(value);
      }, fail);
    });
  }

  async setViewport(viewport: Viewport): Promise<void> {
    const { widthCssPx: width, heightCssPx: height, scale } = viewport;
    await this.guard(
      'setting the viewport',
      this.cdp.send('Emulation.setDeviceMetricsOverride', { width, height, deviceScaleFactor: scale, mobile: false }),
    );
    this.#painted = { width, height };
  }

  /**
   * Has at least this much of the page painted, from its top left, CSS px. The page does not notice: its viewport stays, with heights
   * in vh, fixed parts and what it asks about its window.
   * @returns whether it could be done
   */
  async paint(width: number, height: number): Promise<boolean> {
    const is = this.#painted;
    if (width <= is.width && height <= is.height) return true;
    if (!this.#paintsBeyond) return false;
    const size = { width: Math.max(width, is.width), height: Math.max(height, is.height) };
    await this.guard('showing the whole page', this.cdp.send('Emulation.setVisibleSize', size));
    this.#painted = size;
    return true;
  }

  /**
   * @param status one of 400 and above that the page is meant to answer with
   * @throws GloamError `page-unreachable`, `page-http-error`, `page-is-download`, `page-timeout`, `page-crashed`
   */
  async goto(url: string, status?: number): Promise<void> {
    this.#url = url;
    this.inFlight.clear();
    this.requested.clear();
    if (isSameDocument(this.page.url(), url)) await this.guard('loading', this.page.goto('about:blank'), this.limits.loadMs);
    const loading = this.page.goto(url, { waitUntil: 'domcontentloaded', timeout: this.limits.loadMs });
    let answer;
    try {
      answer = await this.guard('loading', loading, this.limits.loadMs + 1_000);
    } catch (error) {
      if (error instanceof GloamError || this.signal.aborted) throw error;
      throw loadFault(error, url, { ...this.limits, meanwhile: this.#floods.told() });
    }
    this.#ticks = !isScriptless(answer?.headers()['content-security-policy'] ?? '');
    if (answer !== null && answer.status() >= 400 && answer.status() !== status) throw pageHttpError(url, answer.status(), status);
  }

  /**
   * Runs one function of the in-page code. The world it runs in has built-ins of its own and no content security policy.
   * A navigation takes the world away; then it is made anew, a few times.
   */
  async call<K extends PageCall>(name: K, args: PageCalls[K]['args'], ms?: number): Promise<PageCalls[K]['result']> {
    for (let attempt = 1; ; attempt += 1) {
      try {
        const contextId = (this.#world ??= await this.#makeWorld());
        const expression = `__gloamPage.call(${JSON.stringify(name)},${JSON.stringify(args)})`;
        const answer = await this.guard(
          `"${name}" in the page`,
          this.cdp.send('Runtime.evaluate', { expression, contextId, returnByValue: true, awaitPromise: true }),
          ms,
        );
        if (answer.exceptionDetails !== undefined) {
          const told = answer.exceptionDetails.exception?.description ?? answer.exceptionDetails.text;
          if (told.includes(NO_ROOT)) throw pageWithoutRoot(this.#url);
          throw captureFailed(this.#url, told);
        }
        // The text comes from our own bundle, whose functions have these very types.
        return JSON.parse(String(answer.result.value)) as PageCalls[K]['result'];
      } catch (error) {
        if (error instanceof GloamError || this.signal.aborted || this.dead) throw error;
        if (!isWorldGone(error)) throw captureFailed(this.#url, error);
        this.#world = null;
        if (attempt === 3)
          throw isSamePage(this.#url, this.page.url()) ? pageReloads(this.#url) : pageLeft(this.#url, this.page.url());
        await this.guard(
          'loading',
          this.page.waitForLoadState('domcontentloaded', { timeout: this.limits.loadMs }).catch(() => undefined),
        );
      }
    }
  }

  /** Node ids of the elements that `hold` found, for CDP domains that take them. */
  async heldNodes(count: number): Promise<readonly number[]> {
    const contextId = (this.#world ??= await this.#makeWorld());
    // Node ids exist only after the document was asked for.
    await this.guard('reading the document', this.cdp.send('DOM.getDocument', { depth: 0 }));
    const ids = Array.from({ length: count }, async (_, index) => {
      const { result } = await this.cdp.send('Runtime.evaluate', {
        expression: `__gloamPage.held(${index})`,
        contextId,
        objectGroup: 'gloam-held',
      });
      if (result.objectId === undefined) return null;
      const { nodeId } = await this.cdp.send('DOM.requestNode', { objectId: result.objectId });
      return nodeId;
    });
    const found = await this.guard('finding elements', Promise.all(ids));
    await this.guard('letting go', this.cdp.send('Runtime.releaseObjectGroup', { objectGroup: 'gloam-held' }));
    return found.filter((id) => id !== null);
  }

  /** The context of our own world in the page, made where it is not there. */
  async world(): Promise<number> {
    return (this.#world ??= await this.#makeWorld());
  }

  /**
   * Hands closed shadow trees to the in-page code.
   * @param roots backend node ids @returns how many it did not know
   */
  async reveal(roots: readonly number[]): Promise<number> {
    const executionContextId = (this.#world ??= await this.#makeWorld());
    const handed = roots.map(async (backendNodeId) => {
      const { object } = await this.cdp.send('DOM.resolveNode', { backendNodeId, executionContextId, objectGroup: 'gloam-held' });
      if (object.objectId === undefined) return false;
      const functionDeclaration = 'function(){return __gloamPage.reveal(this)}';
      const { result } = await this.cdp.send('Runtime.callFunctionOn', { functionDeclaration, objectId: object.objectId });
      return result.value === true;
    });
    // Those of frames of another origin are not for this world.
    const answers = await this.guard('reading closed shadow trees', Promise.all(handed.map((each) => each.catch(() => false))));
    await this.guard('letting go', this.cdp.send('Runtime.releaseObjectGroup', { objectGroup: 'gloam-held' }));
    return answers.filter(Boolean).length;
  }

  async #makeWorld(): Promise<number> {
    const { frameTree } = await this.guard('reading the frames', this.cdp.send('Page.getFrameTree'));
    const { executionContextId } = await this.guard(
      'entering the page',
      this.cdp.send('Page.createIsolatedWorld', { frameId: frameTree.frame.id, worldName: WORLD, grantUniveralAccess: false }),
    );
    const isThere = await this.#evaluate('typeof __gloamPage', executionContextId);
    // The first, empty document of a tab, and what a page wrote into its own window.
    if (isThere === 'undefined') await this.#evaluate(`${await pageCode()};0`, executionContextId);
    return executionContextId;
  }

  async #evaluate(expression: string, contextId: number): Promise<unknown> {
    const answer = await this.guard(
      'entering the page',
      this.cdp.send('Runtime.evaluate', { expression, contextId, returnByValue: true }),
    );
    if (answer.exceptionDetails !== undefined) throw captureFailed(this.#url, answer.exceptionDetails.text);
    return answer.result.value;
  }

  /** Has the script run at the start of each document to come, before the page's own; in place of the one before. */
  async beforeEachLoad(source: string | null): Promise<void> {
    if (this.#early !== null) {
      const identifier = this.#early;
      this.#early = null;
      await this.guard('preparing the load', this.cdp.send('Page.removeScriptToEvaluateOnNewDocument', { identifier }));
    }
    if (source === null) return;
    const adding = this.cdp.send('Page.addScriptToEvaluateOnNewDocument', { source, worldName: EARLY_WORLD });
    this.#early = (await this.guard('preparing the load', adding)).identifier;
  }

  /**
   * Forgets what pages stored, so that one page's theme does not leak into the next; the cookies of the sign-in are put back.
   * @returns false where something may be left: what another origin keeps for this tab cannot be reached any more
   */
  async clearStorage(): Promise<boolean> {
    await this.guard('clearing storage', this.context.clearCookies());
    if (this.entry !== undefined) await this.guard('setting cookies', this.context.addCookies(cookiesOf(this.entry)));
    const origins = [...this.#origins];
    this.#origins.clear();
    if (origins.length === 0) return true;
    const isForgotten = await this.#forgetSession();
    for (const origin of origins) {
      await this.guard(
        'clearing storage',
        this.cdp.send('Storage.clearDataForOrigin', {
          origin,
          storageTypes: 'local_storage,indexeddb,cache_storage,service_workers',
        }),
      );
    }
    return isForgotten && origins.length === 1;
  }

  /** What the page keeps for as long as the tab lives. */
  async #forgetSession(): Promise<boolean> {
    try {
      const contextId = (this.#world ??= await this.#makeWorld());
      return (await this.#evaluate('try { sessionStorage.clear() } catch {}; true', contextId)) === true;
    } catch (error) {
      if (this.signal.aborted || this.dead) throw error;
      return false;
    }
  }

  /** May be called twice; does not throw. */
  close(): Promise<void> {
    this.signal.removeEventListener('abort', this.#abort);
    this.#closing ??= this.context.close().catch(() => undefined);
    return this.#closing;
  }

  /** @returns whether it went in time; a browser that cannot even close a tab is held up by it */
  closeWithin(ms: number): Promise<boolean> {
    return within(ms, this.close());
  }
}

/** `sandbox` without `allow-scripts` (Content Security Policy Level 3 §6.4.1); several policies are joined by commas or line breaks. */
function isScriptless(policy: string): boolean {
  const directives = policy.split(/[;,\n]/u).map((part) => part.trim().toLowerCase().split(/\s+/u));
  return directives.some(([name, ...values]) => name === 'sandbox' && !values.includes('allow-scripts'));
}

/** Apart from their fragments. */
export function isSamePage(one: string, other: string): boolean {
  const bare = (url: string): string => url.replace(/#.*$/u, '');
  return bare(one) === bare(other);
}

function isWorldGone(error: unknown): boolean {
  return error instanceof Error && /context|navigat|Inspected target/iu.test(error.message);
}

/** A route in the fragment alone is no load: the document would stay as the page before left it. */
function isSameDocument(now: string, next: string): boolean {
  const [from, to] = [now, next].map((url) => url.split('#')[0]);
  return next.includes('#') && from === to;
}
