// A night beside the floor a user knows: a script that keeps one page open, loads each page afresh for each theme, takes a full-page PNG
// and compares it with the one it kept. On the demo app, on one big page, on pages of two CSS frameworks; interleaved; ratios to the floor
// of the same round.
// GLOAM_ROUNDS=1 for a quick look.
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { findBrowser } from '../runner/browser/find-browser.ts';
import { launchBrowser } from '../runner/browser/launch-browser.ts';
import { serveFolder } from '../runner/app/static-server.ts';
import { readConfiguration } from '../src/config/read-configuration.ts';
import { nightOn } from './harbour-night.ts';
import type { Subject } from './subjects.ts';
import { subjects } from './subjects.ts';

const ROUNDS = Number(process.env['GLOAM_ROUNDS'] ?? 3);

export async function run(): Promise<void> {
  const made: string[] = [];
  const temporary = (): string => {
    const folder = mkdtempSync(path.join(tmpdir(), 'gloam-bench-'));
    made.push(folder);
    return folder;
  };
  try {
    for (const subject of subjects()) await compare(subject, temporary);
  } finally {
    for (const folder of made) rmSync(folder, { recursive: true, force: true });
  }
}

async function compare(subject: Subject, temporary: () => string): Promise<void> {
  const kept = new Map<string, Buffer>();
  const ratios = { first: [] as number[], unchanged: [] as number[], 'one token': [] as number[] };
  const folder = temporary();
  subject.fill(folder);
  const night = (store: string): Promise<number> =>
    nightOn(path.join(folder, 'gloam.config.json'), store, { more: ['--state', 'rest'] });
  await floor(subject, folder, kept);
  for (let round = 1; round <= ROUNDS; round += 1) {
    const plain = await floor(subject, folder, kept);
    const store = temporary();
    const first = await night(store);
    const size = sizeOf(store);
    const unchanged = await night(store);
    const grew = ((sizeOf(store) - size) / size) * 100;
    subject.turn(folder, round);
    const changed = await night(store);
    ratios.first.push(first / plain);
    ratios.unchanged.push(unchanged / plain);
    ratios['one token'].push(changed / plain);
    const show = (what: string, ms: number): string => `${what} ${(ms / 1000).toFixed(1)} s (${(ms / plain).toFixed(2)})`;
    console.log(
      `${subject.name}, round ${round}: floor ${(plain / 1000).toFixed(1)} s, ${show('first run', first)}, ${show('unchanged night', unchanged)}, ${show('one token changed', changed)}; the unchanged night added ${grew.toFixed(2)} % to the store`,
    );
  }
  for (const [name, values] of Object.entries(ratios)) {
    const sorted = values.toSorted((a, b) => a - b);
    console.log(`${subject.name}, ${name}: median ratio to the floor ${(sorted[Math.floor(sorted.length / 2)] ?? NaN).toFixed(2)}`);
  }
}

/** @returns milliseconds; fills `kept` the first time, compares from then on */
async function floor({ wear }: Subject, folder: string, kept: Map<string, Buffer>): Promise<number> {
  const { app, pages, themes } = await readConfiguration({ folder });
  if (app.kind !== 'serve' || pages.kind !== 'list') throw new Error('the bench serves folders and lists its pages');
  const server = await serveFolder(app.folder);
  const browser = await launchBrowser(await findBrowser(process.env));
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    const start = performance.now();
    let differing = 0;
    for (const { path: place } of pages.pages) {
      for (const { name } of themes) {
        await page.addInitScript({ content: scriptFor(wear, name) });
        await page.goto(server.origin + place);
        const shot = await page.screenshot({ fullPage: true, animations: 'disabled' });
        const before = kept.get(`${place} ${name}`);
        if (before !== undefined) differing += differingPixels(before, shot);
        else kept.set(`${place} ${name}`, shot);
      }
    }
    const took = performance.now() - start;
    if (Number.isNaN(differing)) throw new Error('nothing was compared');
    return took;
  } finally {
    await browser.close();
    await server.close();
  }
}

/** Each is added to those of before; the last one counts. */
function scriptFor(wear: Subject['wear'], theme: string): string {
  if ('storage' in wear) return `localStorage.setItem('${wear.storage}', '${theme}')`;
  // The root is not there yet.
  return `document.addEventListener('readystatechange', () => document.documentElement.setAttribute('${wear.attribute}', '${theme}'))`;
}

function differingPixels(before: Buffer, now: Buffer): number {
  const [a, b] = [PNG.sync.read(before), PNG.sync.read(now)];
  if (a.width !== b.width || a.height !== b.height) return 1;
  return pixelmatch(a.data, b.data, undefined, a.width, a.height);
}

function sizeOf(folder: string): number {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' }).reduce(
    (sum, name) => sum + statSync(path.join(folder, name)).size,
    0,
  );
}
