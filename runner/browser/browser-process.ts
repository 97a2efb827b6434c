// The process behind a browser: ended by force where it no longer answers.
import type { Browser } from 'playwright';

const processes = new WeakMap<Browser, number>();

/** How long an ended browser may take to be gone; the system does it in milliseconds. */
const GONE_MS = 5_000;

/** Looks up which process it is; a browser that does not tell is closed as far as it lets itself be closed. */
export async function learnProcess(browser: Browser): Promise<void> {
  try {
    const cdp = await browser.newBrowserCDPSession();
    const { processInfo } = await cdp.send('SystemInfo.getProcessInfo');
    const own = processInfo.find(({ type }) => type === 'browser');
    if (own !== undefined) processes.set(browser, own.id);
    await cdp.detach();
  } catch {
    // What is not known is not used.
  }
}

/** A browser that works is gone in a tenth of this (ours). */
const CLOSE_MS = 5_000;

/** Closes it in order, and ends it where it does not go. Does not throw. */
export async function closeBrowser(browser: Browser): Promise<void> {
  if (!(await within(CLOSE_MS, browser.close()))) await endBrowser(browser);
}

/** Ends the browser whatever it is doing. Does not throw. */
export async function endBrowser(browser: Browser): Promise<void> {
  const pid = processes.get(browser);
  const gone = new Promise<void>((resolve) => {
    if (!browser.isConnected()) resolve();
    browser.once('disconnected', () => {
      resolve();
    });
  });
  if (pid !== undefined) {
    try {
      process.kill(pid, 'SIGKILL');
    } catch {
      // It is gone already.
    }
  }
  const closed = browser.close().catch(() => undefined);
  await within(GONE_MS, Promise.race([gone, closed]));
}

/** @returns whether it came in time */
export async function within(ms: number, what: Promise<unknown>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<boolean>((resolve) => {
    timer = setTimeout(() => {
      resolve(false);
    }, ms);
  });
  try {
    return await Promise.race([
      what.then(
        () => true,
        () => true,
      ),
      late,
    ]);
  } finally {
    clearTimeout(timer);
  }
}
