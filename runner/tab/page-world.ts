// A world of our own in the page: the in-page code runs there, with built-ins of its own and no content security policy.
import type { CDPSession, Page as BrowserPage } from 'playwright';
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
  readonly cdp: CDPSession;
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
  #id: number | null = null;

  constructor(tab: WorldTab) {
    this.#tab = tab;
  }

  /** Its execution context; made where it is not there. */
  async id(): Promise<number> {
    return (this.#id ??= await this.#make());
  }

  /** The document it was in is gone. */
  forget(): void {
    this.#id = null;
  }

  /**
   * Runs one function of the in-page code. The world it runs in has built-ins of its own and no content security policy.
   * A navigation takes the world away; then it is made anew, a few times.
   */
  async call<K extends PageCall>(name: K, args: PageCalls[K]['args'], ms?: number): Promise<PageCalls[K]['result']> {
    const tab = this.#tab;
    for (let attempt = 1; ; attempt += 1) {
      try {
        const contextId = await this.id();
        const expression = `__gloamPage.call(${JSON.stringify(name)},${JSON.stringify(args)})`;
        const answer = await tab.guard(
          `"${name}" in the page`,
          tab.cdp.send('Runtime.evaluate', { expression, contextId, returnByValue: true, awaitPromise: true }),
          ms,
        );
        if (answer.exceptionDetails !== undefined) {
          const told = answer.exceptionDetails.exception?.description ?? answer.exceptionDetails.text;
          if (told.includes(NO_ROOT)) throw pageWithoutRoot(tab.url);
          throw captureFailed(tab.url, told);
        }
        // The text comes from our own bundle, whose functions have these very types.
        return JSON.parse(String(answer.result.value)) as PageCalls[K]['result'];
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

  /** Node ids of the elements that `hold` found, for CDP domains that take them. */
  async heldNodes(count: number): Promise<readonly number[]> {
    const tab = this.#tab;
    const contextId = await this.id();
    // Node ids exist only after the document was asked for.
    await tab.guard('reading the document', tab.cdp.send('DOM.getDocument', { depth: 0 }));
    const ids = Array.from({ length: count }, async (_, index) => {
      const { result } = await tab.cdp.send('Runtime.evaluate', {
        expression: `__gloamPage.held(${index})`,
        contextId,
        objectGroup: 'gloam-held',
      });
      if (result.objectId === undefined) return null;
      const { nodeId } = await tab.cdp.send('DOM.requestNode', { objectId: result.objectId });
      return nodeId;
    });
    const found = await tab.guard('finding elements', Promise.all(ids));
    await tab.guard('letting go', tab.cdp.send('Runtime.releaseObjectGroup', { objectGroup: 'gloam-held' }));
    return found.filter((id) => id !== null);
  }

  /**
   * Hands closed shadow trees to the in-page code.
   * @param roots backend node ids @returns how many it did not know
   */
  async reveal(roots: readonly number[]): Promise<number> {
    const tab = this.#tab;
    const executionContextId = await this.id();
    const handed = roots.map(async (backendNodeId) => {
      const { object } = await tab.cdp.send('DOM.resolveNode', { backendNodeId, executionContextId, objectGroup: 'gloam-held' });
      if (object.objectId === undefined) return false;
      const functionDeclaration = 'function(){return __gloamPage.reveal(this)}';
      const { result } = await tab.cdp.send('Runtime.callFunctionOn', { functionDeclaration, objectId: object.objectId });
      return result.value === true;
    });
    // Those of frames of another origin are not for this world.
    const answers = await tab.guard('reading closed shadow trees', Promise.all(handed.map((each) => each.catch(() => false))));
    await tab.guard('letting go', tab.cdp.send('Runtime.releaseObjectGroup', { objectGroup: 'gloam-held' }));
    return answers.filter(Boolean).length;
  }

  async #make(): Promise<number> {
    const tab = this.#tab;
    const { frameTree } = await tab.guard('reading the frames', tab.cdp.send('Page.getFrameTree'));
    const { executionContextId } = await tab.guard(
      'entering the page',
      tab.cdp.send('Page.createIsolatedWorld', { frameId: frameTree.frame.id, worldName: WORLD, grantUniveralAccess: false }),
    );
    const isThere = await this.evaluate('typeof __gloamPage', executionContextId);
    // The first, empty document of a tab, and what a page wrote into its own window.
    if (isThere === 'undefined') await this.evaluate(`${await pageCode()};0`, executionContextId);
    return executionContextId;
  }

  /** @throws GloamError `capture-failed` with what the page's engine said */
  async evaluate(expression: string, contextId: number): Promise<unknown> {
    const tab = this.#tab;
    const answer = await tab.guard(
      'entering the page',
      tab.cdp.send('Runtime.evaluate', { expression, contextId, returnByValue: true }),
    );
    if (answer.exceptionDetails !== undefined) throw captureFailed(tab.url, answer.exceptionDetails.text);
    return answer.result.value;
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
