// The browser that pages are rendered in, and the next one where a page held it up or took it down.
import type { Browser } from 'playwright';
import { closeBrowser, endBrowser, within } from './browser-process.ts';
import { findBrowser } from './find-browser.ts';
import { launchBrowser } from './launch-browser.ts';

/** A browser that does not say its own name for so long is held up, and every page in it (ours; it takes milliseconds). */
const ANSWER_MS = 5_000;

export interface Browsers {
  /** @throws GloamError `browser-not-found`, `browser-failed` */
  current(): Promise<Browser>;
  /** Whether it answers. */
  isWell(browser: Browser): Promise<boolean>;
  /** Ends it by force; the next call of `current` starts another. */
  end(browser: Browser): Promise<void>;
  /** Ends those that were started here; `all`: the one that was handed in too. Does not throw. */
  close(all: boolean): Promise<void>;
}

/** @param given one that is open already */
export function openBrowsers(given: Browser | undefined): Browsers {
  let started: Promise<Browser> | null = null;
  const own: Browser[] = [];
  let isClosed = false;

  const start = async (): Promise<Browser> => {
    const browser = await launchBrowser(await findBrowser(process.env));
    own.push(browser);
    if (isClosed) await closeBrowser(browser);
    return browser;
  };
  return {
    current: async () => {
      started ??= given === undefined ? start() : Promise.resolve(given);
      const asked = started;
      const browser = await asked;
      if (browser.isConnected() || isClosed) return browser;
      // Somebody else may have started the next one meanwhile.
      if (started === asked) started = start();
      return started;
    },
    isWell: async (browser) => {
      let isSaid = false;
      const saying = sayName(browser).then(() => {
        isSaid = true;
      });
      await within(ANSWER_MS, saying);
      return isSaid;
    },
    end: endBrowser,
    close: async (all) => {
      isClosed = true;
      const open = [...own, ...(all && given !== undefined ? [given] : [])];
      await Promise.all(open.map(closeBrowser));
    },
  };
}

async function sayName(browser: Browser): Promise<void> {
  const cdp = await browser.newBrowserCDPSession();
  await cdp.send('Browser.getVersion');
  await cdp.detach();
}
