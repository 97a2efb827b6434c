// A tab for a first look: it keeps the texts of scripts and style sheets and notes which stored entries and queries scripts read.
import type { Browser, Response } from 'playwright';
import type { Theme, ThemeApply, Viewport } from '../../src/plan/configuration.ts';
import type { Entry, SignedIn } from '../app/access.ts';
import { LIMITS } from '../tab/limits.ts';
import { prepareTheme, putThemeOn, themedUrl } from '../theme/put-theme-on.ts';
import { settleAfterChange, settleAfterLoad } from '../theme/settle.ts';
import { Tab } from '../tab/tab.ts';

const WINDOW: Viewport = { name: 'look', widthCssPx: 1280, heightCssPx: 800, scale: 1 };
/** A bundle larger than this is not searched for keys (UTF-16 code units; ours). */
const MOST_TEXT = 4_000_000;

/** Runs before the page's own scripts. In the page's world: what it wraps must be what the page calls. */
const NOTE_READS = `(() => {
  const storage = new Set();
  const query = new Set();
  const getItem = Storage.prototype.getItem;
  Storage.prototype.getItem = function (key) {
    if (this === window.localStorage || this === window.sessionStorage) storage.add(String(key));
    return getItem.call(this, key);
  };
  for (const name of ['get', 'has', 'getAll']) {
    const own = URLSearchParams.prototype[name];
    URLSearchParams.prototype[name] = function (key, ...rest) {
      query.add(String(key));
      return own.call(this, key, ...rest);
    };
  }
  Object.defineProperty(window, '__gloamReads', { value: () => JSON.stringify({ storage: [...storage], query: [...query] }) });
})()`;

const READ_SCRIPTS = `[...document.scripts].map((script) => (script.src ? '' : script.text)).join('\\n')`;

/** Runs in the page: what a sign-in left in local storage, where it is gone. */
function putBack(kept: SignedIn['origins']): string {
  return `for (const { origin, localStorage: entries } of ${JSON.stringify(kept)})
    if (origin === location.origin)
      for (const { name, value } of entries) if (localStorage.getItem(name) === null) localStorage.setItem(name, value);`;
}

export class ExploringTab {
  readonly tab: Tab;
  readonly #styles = new Map<string, string>();
  readonly #scripts = new Map<string, string>();
  readonly #cookies = new Set<string>();
  readonly #pending = new Set<Promise<void>>();

  private constructor(tab: Tab) {
    this.tab = tab;
  }

  static async open(browser: Browser, signal: AbortSignal, entry?: Entry): Promise<ExploringTab> {
    const limits = { ...LIMITS, settleMs: 3_000 };
    const tab = await Tab.open(browser, { limits, signal, ...(entry === undefined ? {} : { entry }) });
    const exploring = new ExploringTab(tab);
    await tab.guard('preparing', tab.page.addInitScript({ content: NOTE_READS }));
    // What is forgotten between two loads, and belongs to the sign-in.
    const kept = entry?.state?.origins ?? [];
    if (kept.length > 0) await tab.guard('preparing', tab.page.addInitScript({ content: putBack(kept) }));
    tab.page.on('response', (response) => {
      const kept = exploring.#keep(response).catch(() => undefined);
      exploring.#pending.add(kept);
      void kept.finally(() => exploring.#pending.delete(kept));
    });
    return exploring;
  }

  async #keep(response: Response): Promise<void> {
    const kind = response.request().resourceType();
    for (const { name, value } of await response.headersArray()) {
      const cookie = name.toLowerCase() === 'set-cookie' ? /^([^=;\s]+)=/.exec(value)?.[1] : undefined;
      if (cookie !== undefined) this.#cookies.add(cookie);
    }
    if (kind !== 'script' && kind !== 'stylesheet') return;
    const text = await response.text();
    if (text.length <= MOST_TEXT) (kind === 'script' ? this.#scripts : this.#styles).set(response.url(), text);
  }

  /** Loads the page with a theme on, as a run does, from a clean slate. */
  async load(url: string, apply: ThemeApply = {}): Promise<void> {
    const { tab } = this;
    const theme = themeOf(apply);
    const target = themedUrl(url, apply);
    await tab.setViewport(WINDOW);
    if (tab.url !== 'about:blank') await tab.storage.clear();
    await prepareTheme(tab, theme, target);
    await tab.goto(target);
    await settleAfterLoad(tab);
    await putThemeOn(tab, theme);
    await settleAfterChange(tab);
    await Promise.all(this.#pending);
  }

  /** In the page as it is loaded. @throws GloamError `place-not-found` where nothing matches `on` */
  async putOn(apply: ThemeApply): Promise<void> {
    await putThemeOn(this.tab, themeOf(apply));
    await settleAfterChange(this.tab);
  }

  styleTexts(): readonly { readonly sheet: string; readonly text: string }[] {
    return [...this.#styles].map(([sheet, text]) => ({ sheet, text }));
  }

  /** Script files and scripts in the page, one text each. */
  async scriptTexts(): Promise<readonly string[]> {
    return [...this.#scripts.values(), String(await this.#ask(READ_SCRIPTS))];
  }

  /** Whether what matches covers at least half of the window: parts of a page wear no themes. */
  async isLarge(selector: string): Promise<boolean> {
    if (selector === 'html' || selector === 'body') return true;
    const answer = await this.#ask(
      `(() => { const el = document.querySelector(${JSON.stringify(selector)}); if (!el) return false; const { width, height } = el.getBoundingClientRect(); return width * height >= innerWidth * innerHeight / 2; })()`,
    ).catch(() => false);
    return answer === true;
  }

  /** `html` or `body` where the selector finds it: what it asks for beside the theme may change with the theme. */
  async rootOf(selector: string): Promise<string> {
    const answer = await this.#ask(
      `(() => { const selector = ${JSON.stringify(selector)}; return document.documentElement.matches(selector) ? 'html' : document.body?.matches(selector) ? 'body' : selector; })()`,
    ).catch(() => selector);
    return String(answer);
  }

  /** Keys that scripts looked up while the page loaded. */
  async reads(): Promise<{ readonly storage: readonly string[]; readonly query: readonly string[] }> {
    const answer: unknown = JSON.parse(String(await this.#ask('window.__gloamReads?.() ?? "{}"')));
    const list = (name: 'storage' | 'query'): readonly string[] => {
      const found: unknown = typeof answer === 'object' && answer !== null ? Reflect.get(answer, name) : undefined;
      return Array.isArray(found) ? found.map(String) : [];
    };
    return { storage: list('storage'), query: list('query') };
  }

  /** Names of cookies that answers set. */
  cookieNames(): readonly string[] {
    return [...this.#cookies];
  }

  #ask(expression: string): Promise<unknown> {
    return this.tab.guard('asking the page', this.tab.page.evaluate(expression));
  }

  close(): Promise<void> {
    return this.tab.close();
  }
}

function themeOf(apply: ThemeApply): Theme {
  return { name: 'tried', tone: 'light', apply, tokens: {} };
}
