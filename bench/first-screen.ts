// How long the report's first screen takes in a real browser, each time on a server that has just started.
import { chromium } from 'playwright';
import type { Browser } from 'playwright';
import { serveReports } from '../report-ui/server/serve-reports.ts';
import { findBrowser } from '../runner/browser/find-browser.ts';
import { sandboxFlags } from '../runner/browser/launch-browser.ts';

export async function openBrowser(): Promise<Browser> {
  const { path } = await findBrowser(process.env);
  return chromium.launch({ args: [...sandboxFlags()], ...(path === undefined ? {} : { executablePath: path }) });
}

/** @returns ms, one for each round but the first, which warms the browser up */
export async function firstScreens(browser: Browser, folder: string, rounds: number): Promise<readonly number[]> {
  const times: number[] = [];
  for (let round = 0; round < rounds; round += 1) {
    const server = await serveReports({ store: folder, readOnly: true });
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    const from = performance.now();
    await page.goto(server.url);
    await page.locator('.lead').waitFor();
    await page.locator('.grid-cell').first().waitFor();
    if (round > 0) times.push(performance.now() - from);
    await page.close();
    await server.close();
  }
  return times;
}
