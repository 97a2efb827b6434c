// How Chromium is started: nothing that Playwright turns off comes back on, and no page but ours is loaded.
import { existsSync, readFileSync, readdirSync, statfsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Browser } from 'playwright';
import { findBrowser } from '../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../runner/browser/launch-browser.ts';
import { hasRoomInMemory } from '../../runner/browser/shared-memory.ts';

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

  test.runIf(process.platform === 'linux')(
    'pictures go from process to process in memory, where it has room for them',
    async () => {
      const line = commandLines().find((words) => words.includes('--remote-debugging-pipe')) ?? [];
      expect(line.includes('--disable-dev-shm-usage')).toBe(!(await hasRoomInMemory()));
      const { bavail, bsize } = statfsSync(tmpdir());
      const free = bavail * bsize;
      expect([await hasRoomInMemory(tmpdir(), free / 2), await hasRoomInMemory(tmpdir(), free * 2)]).toEqual([true, false]);
      expect(await hasRoomInMemory('/no-such-quay')).toBe(false);
    },
  );

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

/** Debian packs both; elsewhere there may be one. */
const KINDS = ['/usr/bin/chromium', '/usr/bin/chromium-headless-shell'];

const FONT = fileURLToPath(new URL('../../scenarios/harbour/app/fonts/albert-sans-latin-wght-normal.woff2', import.meta.url));

test.runIf(KINDS.every((path) => existsSync(path)))('with windows or without, the picture is the same', async () => {
  const face = `@font-face{font-family:Quay;src:url(data:font/woff2;base64,${readFileSync(FONT, 'base64')})}`;
  const style = `<style>${face} body{font:15px Quay} p{text-shadow:0 1px 3px #0006} i{display:block;height:40px;background:linear-gradient(9deg,#0b3d4f,#e8a33d)}</style>`;
  const pictures: string[] = [];
  for (const path of KINDS) {
    const browser = await launchBrowser({ path, version: '' });
    const page = await browser.newPage({ viewport: { width: 500, height: 300 } });
    await page.setContent(
      `${style}<h1>Saltern Quay</h1><p>TG-003, radar gauge on the east pier</p><i></i><input placeholder="Level"><select><option>High`,
    );
    await page.evaluate(() => document.fonts.ready);
    pictures.push((await page.screenshot()).toString('base64'));
    await browser.close();
  }
  expect(pictures[0] === pictures[1]).toBe(true);
});
