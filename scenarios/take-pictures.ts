// The pictures of README.md, taken from the report of a stored run of the demo app: `npm run demo -- --no-serve`, then this.
// `--config FILE` and `--run ID` take them from another store. Needs sharp, which makes them small. What the screens said is kept beside
// the pictures; `--check` takes none and says where the screens say something else by now, with exit code 1.
import { spawn } from 'node:child_process';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
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
/** Looks at a screen before it is given up: 700 ms lie between two. */
const MOST_LOOKS = 40;

const { values } = parseArgs({
  options: {
    config: { type: 'string', default: path.join(root, 'scenarios', 'harbour', 'gloam.config.json') },
    run: { type: 'string' },
    check: { type: 'boolean', default: false },
  },
});

/** What each screen said when its picture was taken. */
const TAKEN = path.join(folder, 'taken.json');

const SCREENS = [
  { name: 'tonight', at: 'tonight', look: 'light' },
  { name: 'page', at: 'page', query: { page: 'stations', zoom: '0.5' }, look: 'light' },
  { name: 'causes', at: 'causes', look: 'dark' },
  { name: 'queue', at: 'queue', look: 'light' },
  { name: 'findings', at: 'findings', query: { theme: 'dusk' }, look: 'light' },
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
  const said: Record<string, readonly string[]> = {};
  for (const screen of SCREENS) {
    const page = await browser.newPage({ viewport: SIZE, colorScheme: screen.look, reducedMotion: 'reduce' });
    const query = new URLSearchParams({
      ...('query' in screen ? screen.query : {}),
      ...(values.run === undefined ? {} : { run: values.run }),
    });
    await page.goto(`${address}/#/${screen.at}?${query.toString()}`);
    await drawn(page);
    said[screen.name] = linesOf(await page.locator('main').innerText());
    if (values.check) {
      await page.close();
      continue;
    }
    const { size } = await sharp(await page.screenshot())
      .resize({ width: WIDTH_PX })
      .png({ palette: true, colours: 128, effort: 10 })
      .toFile(path.join(folder, `${screen.name}.png`));
    console.log(`docs/pictures/${screen.name}.png  ${String(Math.round(size / 1024))} KB`);
    await page.close();
  }
  if (values.check) await tellStale(said);
  else await writeFile(TAKEN, `${JSON.stringify(said, null, 2)}\n`);
} finally {
  await browser.close();
  server.kill('SIGTERM');
}

async function firstLine(): Promise<string> {
  for await (const line of createInterface({ input: server.stdout })) return line;
  throw new Error('the report server ended before it said its address');
}

/** Everything is there, and has not changed between two looks. @throws Error a screen that has little to say: take a run with news on it */
async function drawn(page: Page): Promise<void> {
  let last = '';
  for (let look = 1; look <= MOST_LOOKS; look += 1) {
    await page.waitForFunction(() => [...document.images].every((image) => image.complete));
    const now = (await page.screenshot()).toString('base64');
    if (now === last && (await page.locator('main').innerText()).length > 200) return;
    last = now;
    await page.waitForTimeout(700);
  }
  throw new Error(`${page.url()} says next to nothing; it shows what is new: name the first run of the demo by --run`);
}

/** Words and numbers that stay the same from run to run: without times, names of runs and versions. */
function linesOf(text: string): readonly string[] {
  return text
    .split('\n')
    .map((line) =>
      line
        .replace(/\b\d{8}T\d{6}-[0-9a-f]{4}\b/g, 'RUN')
        .replace(/\b[A-Z][a-z]{2} \d{1,2}, \d{4}(, \d{1,2}:\d{2})?/g, 'DAY')
        .replace(/\b\d{4}-\d{2}-\d{2}( \d{2}:\d{2} UTC)?/g, 'DAY')
        .replace(/Chrom\S+ [\d.]+/g, 'BROWSER')
        .trim(),
    )
    .filter((line) => line !== '');
}

/** What a reader of README.md sees in a picture and not in the report, or the other way round. */
async function tellStale(said: Readonly<Record<string, readonly string[]>>): Promise<void> {
  const taken: unknown = JSON.parse(await readFile(TAKEN, 'utf8'));
  let stale = 0;
  for (const { name } of SCREENS) {
    const then = textsIn(taken, name);
    const now = said[name] ?? [];
    const differs = [
      ...then.filter((line) => !now.includes(line)).map((line) => `  shown, but no longer so: ${line}`),
      ...now.filter((line) => !then.includes(line)).map((line) => `  so by now, not shown: ${line}`),
    ];
    if (differs.length === 0) continue;
    stale += 1;
    console.log([`docs/pictures/${name}.png is stale:`, ...differs.slice(0, 8)].join('\n'));
  }
  console.log(
    stale === 0
      ? 'The pictures show what the report says.'
      : `${String(stale)} of ${String(SCREENS.length)} are stale: take them anew.`,
  );
  process.exitCode = stale === 0 ? 0 : 1;
}

function textsIn(taken: unknown, name: string): readonly string[] {
  if (typeof taken !== 'object' || taken === null) return [];
  const lines: unknown = new Map<string, unknown>(Object.entries(taken)).get(name);
  return Array.isArray(lines) ? lines.map(String) : [];
}
