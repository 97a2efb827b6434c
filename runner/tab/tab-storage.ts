// What pages keep in a tab: forgotten between visits, so that one page's theme does not leak into the next.
import type { BrowserContext } from 'playwright';
import { cookiesOf } from '../app/access.ts';
import type { Entry } from '../app/access.ts';
import type { PageWorld, WorldTab } from './page-world.ts';

/** The tab it is in. */
export interface StorageTab extends WorldTab {
  readonly context: BrowserContext;
  readonly entry: Entry | undefined;
  readonly world: PageWorld;
}

export class TabStorage {
  readonly #tab: StorageTab;
  /** That may have stored something since the storage was cleared. */
  readonly #origins = new Set<string>();

  constructor(tab: StorageTab) {
    this.#tab = tab;
  }

  mayHold(origin: string): void {
    this.#origins.add(origin);
  }

  /**
   * The cookies of the sign-in are put back.
   * @returns false where something may be left: what another origin keeps for this tab cannot be reached any more
   */
  async clear(): Promise<boolean> {
    const tab = this.#tab;
    await tab.guard('clearing storage', tab.context.clearCookies());
    if (tab.entry !== undefined) await tab.guard('setting cookies', tab.context.addCookies(cookiesOf(tab.entry)));
    const origins = [...this.#origins];
    this.#origins.clear();
    if (origins.length === 0) return true;
    const isForgotten = await this.#forgetSession();
    for (const origin of origins) {
      await tab.guard('clearing storage', tab.driver.forgetStorage(origin));
    }
    return isForgotten && origins.length === 1;
  }

  /** What the page keeps for as long as the tab lives. */
  async #forgetSession(): Promise<boolean> {
    const { world } = this.#tab;
    try {
      return (await world.evaluate('try { sessionStorage.clear() } catch {}; true')) === true;
    } catch (error) {
      if (this.#tab.signal.aborted || this.#tab.dead) throw error;
      return false;
    }
  }
}
