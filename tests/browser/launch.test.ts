// How Chromium is started: nothing that Playwright turns off comes back on, and no page but ours is loaded.
import { readFileSync, readdirSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Browser } from 'playwright';
import { findBrowser } from '../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../runner/browser/launch-browser.ts';

/** Of living processes below this one, by /proc (Linux; elsewhere the list is empty). */
function commandLines(): readonly (readonly string[])[] {
  const read = (file: string): string => {
    try {
      return readFileSync(file, 'utf8');
    } catch {
      return '';
    }
  };
  const ids = (() => {
    try {
      return readdirSync('/proc').filter((name) => /^\d+$/.test(name));
    } catch {
      return [];
    }
  })();
  return ids
    .filter((id) => /^\d+ \(.*\) \S (\d+)/s.exec(read(`/proc/${id}/stat`))?.[1] === String(process.pid))
    .map((id) => read(`/proc/${id}/cmdline`).split(/[\0 ]/));
}

describe('the browser as it is started', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launchBrowser(await findBrowser(process.env));
  });
  afterAll(() => browser.close());

  test.runIf(process.platform === 'linux')('what Playwright turns off stays off, though only the last list counts', () => {
    const line = commandLines().find((words) => words.includes('--remote-debugging-pipe')) ?? [];
    const lists = line.filter((word) => word.startsWith('--disable-features=')).map((word) => word.slice(19).split(','));
    // Its own, and ours.
    expect(lists.length).toBeGreaterThanOrEqual(2);
    expect(lists.slice(0, -1).flatMap((list) => list.filter((name) => lists.at(-1)?.includes(name) !== true))).toEqual([]);
  });

  // Media Queries 4 §6: what a mouse reports; styles for hovering would not be seen otherwise.
  test('pages see the pointer of a desk', async () => {
    const page = await browser.newPage();
    const asked = ['(hover: hover)', '(any-hover: hover)', '(pointer: fine)', '(any-pointer: fine)'];
    expect(await page.evaluate((queries) => queries.filter((query) => !globalThis.matchMedia(query).matches), asked)).toEqual([]);
    await page.close();
  });

  test('a tab is the only page there is', async () => {
    const context = await browser.newContext({ viewport: null });
    const page = await context.newPage();
    await page.goto('data:text/html,<p>Low Pier');
    const session = await browser.newBrowserCDPSession();
    const { targetInfos } = await session.send('Target.getTargets', { filter: [{}] });
    // `tab` stands for the frame around a page.
    expect(targetInfos.filter(({ type }) => type !== 'tab' && type !== 'browser').map(({ url }) => url)).toEqual([page.url()]);
    await context.close();
  });
});
