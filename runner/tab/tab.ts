// One browser tab, reused for many pages: opened, sent to a page, listened to, closed. What is asked of the page itself goes through its
// world (page-world.ts), every wait through its patience (patience.ts).
import type { Browser, BrowserContext, Page as BrowserPage } from 'playwright';
import { pageCrashed, pageFloods, pageHttpError, pageTimeout } from '../../src/errors/capture-errors.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { Viewport } from '../../src/plan/configuration.ts';
import { within } from '../browser/browser-process.ts';
import { openChromiumPage } from '../driver/chromium/chromium-page.ts';
import type { LoadScript, PageDriver } from '../driver/page-driver.ts';
import { watchFloods } from './floods.ts';
import type { Floods } from './floods.ts';
import type { PageCall, PageCalls } from '../page/wire/wire.ts';
import { cookiesOf } from '../app/access.ts';
import type { Entry } from '../app/access.ts';
import type { Limits } from './limits.ts';
import { loadFault } from './load-fault.ts';
import { pageCode } from '../page-code.ts';
import { Stopwatch } from './stopwatch.ts';
import { watchTimersScript } from './watch-timers.ts';
import { PageWorld, WORLD } from './page-world.ts';
import { Patience } from './patience.ts';
import { TabStorage } from './tab-storage.ts';
import { Traffic } from './traffic.ts';

/** For what has to be there before the page's own scripts run. */
export const EARLY_WORLD = 'gloam-early';
/** Making a tab is the browser's work alone; one that takes longer is held up (ours). */
const OPEN_MS = 20_000;

export interface TabWishes {
  readonly limits: Limits;
  readonly signal: AbortSignal;
  /** Instant at which the pages' clock stands still (timers go on). */
  readonly clock?: Date;
  readonly watch?: Stopwatch;
  /** Headers, cookies and sign-in that the app asks for. */
  readonly entry?: Entry;
  /** Another driver in place of the browser's own: one that can do less. */
  readonly drive?: (own: PageDriver) => PageDriver;
}

export class Tab {
  readonly #abort = (): void => {
    this.#patience.end(this.signal.reason);
  };
  #url = 'about:blank';
  /** CSS px from the page's top left that are painted; the viewport at least. */
  #painted = { width: 0, height: 0 };
  #navigations = 0;
  #ticks = true;
  #closing: Promise<void> | null = null;
  /** Runs at the start of each document, besides our own code. */
  #early: LoadScript | null = null;
  readonly #patience: Patience;
  readonly #floods: Floods;
  /** Since the last `goto`, whose own request is among it. */
  readonly traffic: Traffic;
  /** What pages keep in it. */
  readonly storage: TabStorage;
  /** The in-page code's. */
  readonly world: PageWorld;
  readonly context: BrowserContext;
  readonly page: BrowserPage;
  readonly driver: PageDriver;
  readonly limits: Limits;
  readonly signal: AbortSignal;
  readonly watch: Stopwatch;
  readonly entry: Entry | undefined;

  private constructor(parts: { context: BrowserContext; page: BrowserPage; driver: PageDriver; wishes: TabWishes }) {
    this.context = parts.context;
    this.page = parts.page;
    this.driver = parts.driver;
    this.limits = parts.wishes.limits;
    this.signal = parts.wishes.signal;
    this.watch = parts.wishes.watch ?? new Stopwatch();
    this.entry = parts.wishes.entry;
    this.#patience = new Patience({ ...this.limits, url: () => this.#url, meanwhile: () => this.#floods.told() });
    this.world = new PageWorld(this);
    this.storage = new TabStorage(this);
    this.traffic = new Traffic(this.page);
    this.#floods = watchFloods(this.page, (what) => {
      this.#patience.end(pageFloods(this.#url, what));
    });
    this.#listen();
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

  /** Another one in the same browser. @param entry how it is let in; null: as a stranger. */
  async beside(entry: Entry | null): Promise<Tab> {
    const browser = this.context.browser();
    if (browser === null) throw pageCrashed(this.#url);
    const { limits, signal } = this;
    return Tab.open(browser, { limits, signal, ...(entry === null ? {} : { entry }) });
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
    const driver = await openChromiumPage(context, page, { isNew: true });
    // Sent once, there in every document to come.
    await driver.beforeEachLoad(`if(globalThis===globalThis.top){${await pageCode()}}`, WORLD);
    await driver.beforeEachLoad(watchTimersScript());
    if (entry !== undefined) await driver.sendHeaders(entry.access);
    return new Tab({ context, page, driver: wishes.drive?.(driver) ?? driver, wishes });
  }

  /** It crashed, was aborted or closed. */
  get dead(): boolean {
    return this.#patience.isOver || this.#closing !== null;
  }

  get url(): string {
    return this.#url;
  }

  /** Where it is by now, as far as the browser has told. */
  get place(): string {
    return this.page.url();
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
      this.#patience.end(pageCrashed(this.#url));
    });
    page.on('close', () => {
      this.#patience.end(pageCrashed(this.#url));
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
    this.driver.onNewDocument(() => {
      this.world.forget();
    });
    page.on('framenavigated', (frame) => {
      if (frame !== page.mainFrame()) return;
      this.#navigations += 1;
      const { origin } = new URL(frame.url());
      if (origin !== 'null') this.storage.mayHold(origin);
    });
    if (this.signal.aborted) this.#abort();
    else this.signal.addEventListener('abort', this.#abort, { once: true });
  }

  /** The next view begins, and has all the time of a view. */
  beginView(): void {
    this.#patience.begin();
    this.#floods.begin();
  }

  /**
   * Waits for `what`, at most `ms`, and no longer than the view's time.
   * @throws GloamError `page-timeout`, `view-out-of-time`, `page-floods`, `page-crashed`; the reason of an abort
   */
  guard<T>(doing: string, what: Promise<T>, ms?: number): Promise<T> {
    return this.#patience.wait(doing, what, ms);
  }

  async setViewport(viewport: Viewport): Promise<void> {
    await this.guard('setting the viewport', this.driver.setViewport(viewport));
    this.#painted = { width: viewport.widthCssPx, height: viewport.heightCssPx };
  }

  /**
   * Has at least this much of the page painted, from its top left, CSS px. The page does not notice: its viewport stays, with heights
   * in vh, fixed parts and what it asks about its window.
   * @returns whether it could be done
   */
  async paint(width: number, height: number): Promise<boolean> {
    const is = this.#painted;
    if (width <= is.width && height <= is.height) return true;
    const size = { width: Math.max(width, is.width), height: Math.max(height, is.height) };
    const isDone = await this.guard('showing the whole page', this.driver.paintAtLeast(size.width, size.height));
    if (isDone) this.#painted = size;
    return isDone;
  }

  /**
   * @param status one of 400 and above that the page is meant to answer with
   * @throws GloamError `page-unreachable`, `page-http-error`, `page-is-download`, `page-timeout`, `page-crashed`
   */
  async goto(url: string, status?: number): Promise<void> {
    this.#url = url;
    this.traffic.begin();
    if (isSameDocument(this.page.url(), url)) await this.guard('loading', this.page.goto('about:blank'), this.limits.loadMs);
    const loading = this.page.goto(url, { waitUntil: 'domcontentloaded', timeout: this.limits.loadMs });
    let answer;
    try {
      answer = await this.guard('loading', loading, this.limits.loadMs + 1_000);
    } catch (error) {
      if (error instanceof GloamError || this.signal.aborted) throw error;
      throw loadFault(error, url, { ...this.limits, meanwhile: this.#floods.told() });
    }
    await this.guard('loading', this.driver.pointerAway());
    this.#ticks = !isScriptless(answer?.headers()['content-security-policy'] ?? '');
    if (answer !== null && answer.status() >= 400 && answer.status() !== status) throw pageHttpError(url, answer.status(), status);
  }

  /** Runs one function of the in-page code (page-world.ts). */
  call<K extends PageCall>(name: K, args: PageCalls[K]['args'], ms?: number): Promise<PageCalls[K]['result']> {
    return this.world.call(name, args, ms);
  }

  /** Has the script run at the start of each document to come, before the page's own; in place of the one before. */
  async beforeEachLoad(source: string | null): Promise<void> {
    if (this.#early !== null) {
      const before = this.#early;
      this.#early = null;
      await this.guard('preparing the load', before.remove());
    }
    if (source !== null) this.#early = await this.guard('preparing the load', this.driver.beforeEachLoad(source, EARLY_WORLD));
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

/** A route in the fragment alone is no load: the document would stay as the page before left it. */
function isSameDocument(now: string, next: string): boolean {
  const [from, to] = [now, next].map((url) => url.split('#')[0]);
  return next.includes('#') && from === to;
}
