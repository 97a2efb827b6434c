// A world of our own in the page: the in-page code runs there, with built-ins of its own and no content security policy.
import type { Page as BrowserPage } from 'playwright';
import type { PageDriver, World } from '../driver/page-driver.ts';
import { captureFailed, pageLeft, pageReloads, pageWithoutRoot } from '../../src/errors/capture-errors.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import { pageCode } from '../page-code.ts';
import { NO_ROOT } from '../page/reasons.ts';
import type { PageCall, PageCalls } from '../page/wire/wire.ts';
import type { Limits } from './limits.ts';

/** Its name; the same in every document of the tab. */
export const WORLD = 'gloam';

/** The tab it is in. */
export interface WorldTab {
  readonly driver: PageDriver;
  readonly page: BrowserPage;
  /** As asked for. */
  readonly url: string;
  readonly limits: Limits;
  readonly signal: AbortSignal;
  readonly dead: boolean;
  guard<T>(doing: string, what: Promise<T>, ms?: number): Promise<T>;
}

export class PageWorld {
  readonly #tab: WorldTab;
  #world: World | null = null;

  constructor(tab: WorldTab) {
    this.#tab = tab;
  }

  /** Made where it is not there. */
  async open(): Promise<World> {
    return (this.#world ??= await this.#make());
  }

  /** The document it was in is gone. */
  forget(): void {
    this.#world = null;
  }

  /**
   * Runs one function of the in-page code. The world it runs in has built-ins of its own and no content security policy.
   * A navigation takes the world away; then it is made anew, a few times.
   */
  async call<K extends PageCall>(name: K, args: PageCalls[K]['args'], ms?: number): Promise<PageCalls[K]['result']> {
    const tab = this.#tab;
    for (let attempt = 1; ; attempt += 1) {
      try {
        const world = await this.open();
        const expression = `__gloamPage.call(${JSON.stringify(name)},${JSON.stringify(args)})`;
        const answer = await tab.guard(`"${name}" in the page`, world.evaluate(expression), ms);
        if ('thrown' in answer) {
          if (answer.thrown.includes(NO_ROOT)) throw pageWithoutRoot(tab.url);
          throw captureFailed(tab.url, answer.thrown);
        }
        // The text comes from our own bundle, whose functions have these very types.
        return JSON.parse(String(answer.value)) as PageCalls[K]['result'];
      } catch (error) {
        if (error instanceof GloamError || tab.signal.aborted || tab.dead) throw error;
        if (!isWorldGone(error)) throw captureFailed(tab.url, error);
        this.forget();
        if (attempt === 3) throw isSamePage(tab.url, tab.page.url()) ? pageReloads(tab.url) : pageLeft(tab.url, tab.page.url());
        await tab.guard(
          'loading',
          tab.page.waitForLoadState('domcontentloaded', { timeout: tab.limits.loadMs }).catch(() => undefined),
        );
      }
    }
  }

  /** Elements that `hold` found, as the browser's styles name them. */
  async heldNodes(count: number): Promise<readonly number[]> {
    const world = await this.open();
    const held = Array.from({ length: count }, (_, index) => `__gloamPage.held(${index})`);
    return this.#tab.guard('finding elements', world.nodes(held));
  }

  /**
   * Hands closed shadow trees to the in-page code.
   * @param roots as the driver tells them @returns how many it did not know
   */
  async reveal(roots: readonly number[]): Promise<number> {
    const world = await this.open();
    const handing = world.hand(roots, 'function(){return __gloamPage.reveal(this)}');
    const answers = await this.#tab.guard('reading closed shadow trees', handing);
    return answers.filter((answer) => answer === true).length;
  }

  async #make(): Promise<World> {
    const tab = this.#tab;
    const world = await tab.guard('entering the page', tab.driver.world(WORLD));
    const isThere = await this.#evaluateIn(world, 'typeof __gloamPage');
    // The first, empty document of a tab, and what a page wrote into its own window.
    if (isThere === 'undefined') await this.#evaluateIn(world, `${await pageCode()};0`);
    return world;
  }

  /** @throws GloamError `capture-failed` with what the page's engine said */
  async evaluate(expression: string): Promise<unknown> {
    return this.#evaluateIn(await this.open(), expression);
  }

  async #evaluateIn(world: World, expression: string): Promise<unknown> {
    const tab = this.#tab;
    const answer = await tab.guard('entering the page', world.evaluate(expression));
    if ('thrown' in answer) throw captureFailed(tab.url, answer.thrown);
    return answer.value;
  }
}

/** Apart from their fragments. */
function isSamePage(one: string, other: string): boolean {
  const bare = (url: string): string => url.replace(/#.*$/u, '');
  return bare(one) === bare(other);
}

function isWorldGone(error: unknown): boolean {
  return error instanceof Error && /context|navigat|Inspected target/iu.test(error.message);
}
