// The list of 160,000 findings in a real browser: the first screen, the first filter and later ones, jumps to the end, and how many
// nodes the document has. Aims: first screen within 1 s, any filter within 300 ms, no list over 2,000 nodes.
// GLOAM_LARGE_STORE names a store of large-store.ts that is there already.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright';
import { serveReports } from '../report-ui/server/serve-reports.ts';
import { firstScreens, openBrowser } from './first-screen.ts';
import { fillLarge } from './large-store.ts';

const ROUNDS = 5;
const SCREENS = ['tonight', 'findings', 'findings?group=page', 'queue', 'causes', 'page?page=berth-250', 'history', 'launch'];
const FILTERS = [
  'theme=dusk',
  'owner=crew+3',
  'check=glow',
  'level=error',
  'find=gauge+17',
  'token=silt.120',
  'status=new',
  'page=berth-250',
  'group=token',
];

export async function list(): Promise<void> {
  const there = process.env['GLOAM_LARGE_STORE'];
  const folder = there ?? (await mkdtemp(path.join(tmpdir(), 'gloam-list-')));
  const browser = await openBrowser();
  try {
    if (there === undefined) await fillLarge(folder);
    const first = await firstScreens(browser, folder, ROUNDS);
    console.log(`first screen, server just started: ${ms(first)} (aim: 1000 ms)`);
    const server = await serveReports({ store: folder, readOnly: true });
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(`${server.url}/#/findings`);
    await page.locator('.findings-text').first().waitFor();
    const heap = Math.round(process.memoryUsage().rss / 1e6);
    for (const filter of FILTERS)
      console.log(`filter ${filter.padEnd(16)} ${ms(await repeated(page, `#/findings?${filter}`))} (aim: 300 ms)`);
    // By way of another screen: else the row of the list before is still there, and the focus goes with it.
    await page.goto(`${server.url}/#/history`);
    await page.locator('.findings').waitFor({ state: 'detached' });
    await page.goto(`${server.url}/#/findings`);
    await page.locator('[data-row="0"] .findings-text').waitFor();
    await page.locator('[data-row="0"]').focus();
    const from = performance.now();
    await page.keyboard.press('End');
    await page.waitForFunction(() => Number(document.activeElement?.getAttribute('data-row')) > 150_000);
    console.log(`to the end by key: ${(performance.now() - from).toFixed(0)} ms`);
    for (const screen of SCREENS) {
      await page.goto(`${server.url}/#/${screen}`);
      await page.waitForLoadState('networkidle');
      console.log(`${screen.padEnd(22)} ${String(await page.evaluate(() => document.querySelectorAll('*').length))} nodes`);
    }
    console.log(`memory of this process with server: ${String(heap)} MB`);
    await page.close();
    await server.close();
  } finally {
    await browser.close();
    if (there === undefined) await rm(folder, { recursive: true, force: true });
  }
}

/** From the list of all to the list so narrowed, rows and all. */
async function repeated(page: Page, hash: string): Promise<readonly number[]> {
  const times: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    await page.evaluate(() => {
      location.hash = '#/findings';
    });
    await page.waitForFunction(() => document.querySelector('.head-note')?.textContent.startsWith('160,000 open') === true);
    await page.locator('[data-row="0"] .findings-text').waitFor();
    times.push(
      await page.evaluate(async (to) => {
        const before = document.querySelector('.findings > div')?.getAttribute('style');
        const note = document.querySelector('.head-note')?.textContent;
        const start = performance.now();
        location.hash = to;
        // Other numbers or other groups, and the first row drawn.
        while (
          (document.querySelector('.head-note')?.textContent === note &&
            document.querySelector('.findings > div')?.getAttribute('style') === before) ||
          document.querySelector('[data-row="0"] .findings-text') === null
        )
          await new Promise(requestAnimationFrame);
        return performance.now() - start;
      }, hash),
    );
  }
  return times;
}

function ms(times: readonly number[]): string {
  const sorted = [...times].sort((a, b) => a - b);
  return `${(sorted[Math.floor((sorted.length - 1) / 2)] ?? NaN).toFixed(0).padStart(5)} ms (${sorted.map((time) => time.toFixed(0)).join(', ')})`;
}
