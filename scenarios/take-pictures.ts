// The pictures of README.md, taken from the report of a stored run of the demo app: `npm run demo -- --no-serve`, then this.
// `--config FILE` and `--run ID` take them from another store. Needs sharp, which makes them small.
import { spawn } from 'node:child_process';
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';
import type { Page } from 'playwright';
import sharp from 'sharp';
import { findBrowser } from '../runner/browser/find-browser.ts';
import { launchBrowser } from '../runner/browser/launch-browser.ts';

/** This file runs as dist/scenarios/take-pictures.js. */
const root = path.resolve(import.meta.dirname, '..', '..');
const folder = path.join(root, 'docs', 'pictures');
const SIZE = { width: 1280, height: 800 };
/** Shown at this width; twice as sharp as a page of text needs costs too much. */
const WIDTH_PX = 1120;

const { values } = parseArgs({
  options: {
    config: { type: 'string', default: path.join(root, 'scenarios', 'harbour', 'gloam.config.json') },
    run: { type: 'string' },
  },
});

const SCREENS = [
  { name: 'tonight', at: 'tonight', look: 'light' },
  { name: 'page', at: 'page', query: { page: 'stations', zoom: '0.5' }, look: 'light' },
  { name: 'causes', at: 'causes', look: 'dark' },
  { name: 'ramps', at: 'ramps', look: 'light' },
  { name: 'launch', at: 'launch', look: 'dark' },
] as const;

const main = path.join(root, 'dist', 'cli', 'main.js');
const server = spawn(process.execPath, [main, 'serve', '--read-only', '--port', '0', '--config', values.config], {
  stdio: ['ignore', 'pipe', 'inherit'],
});
const browser = await launchBrowser(await findBrowser(process.env));
try {
  const address = await firstLine();
  await mkdir(folder, { recursive: true });
  for (const screen of SCREENS) {
    const page = await browser.newPage({ viewport: SIZE, colorScheme: screen.look, reducedMotion: 'reduce' });
    const query = new URLSearchParams({
      ...('query' in screen ? screen.query : {}),
      ...(values.run === undefined ? {} : { run: values.run }),
    });
    await page.goto(`${address}/#/${screen.at}?${query.toString()}`);
    await drawn(page);
    const { size } = await sharp(await page.screenshot())
      .resize({ width: WIDTH_PX })
      .png({ palette: true, colours: 128, effort: 10 })
      .toFile(path.join(folder, `${screen.name}.png`));
    console.log(`docs/pictures/${screen.name}.png  ${String(Math.round(size / 1024))} KB`);
    await page.close();
  }
} finally {
  await browser.close();
  server.kill('SIGTERM');
}

async function firstLine(): Promise<string> {
  for await (const line of createInterface({ input: server.stdout })) return line;
  throw new Error('the report server ended before it said its address');
}

/** Everything is there, and has not changed between two looks. */
async function drawn(page: Page): Promise<void> {
  let last = '';
  for (;;) {
    await page.waitForFunction(() => [...document.images].every((image) => image.complete));
    const now = (await page.screenshot()).toString('base64');
    if (now === last && (await page.locator('main').innerText()).length > 200) return;
    last = now;
    await page.waitForTimeout(700);
  }
}
