// A night on the demo app beside the floor a user knows: a script that loads each page afresh for each theme, takes a full-page PNG and
// compares it with the one it kept. Interleaved, three rounds; ratios to the floor of the same round. Only pages nobody touched.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, statSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { findBrowser } from '../runner/find-browser.ts';
import { launchBrowser } from '../runner/launch-browser.ts';
import { serveFolder } from '../runner/static-server.ts';
import { readConfiguration } from '../src/config/read-configuration.ts';

const ROUNDS = 3;
/** This file runs as dist/bench/run.js. */
const ROOT = path.resolve(import.meta.dirname, '..', '..');
const HARBOUR = path.join(ROOT, 'scenarios', 'harbour');

export async function run(): Promise<void> {
  const stores: string[] = [];
  const ratios: Record<'first' | 'again', number[]> = { first: [], again: [] };
  const kept = new Map<string, Buffer>();
  await floor(kept);
  for (let round = 0; round < ROUNDS; round += 1) {
    const plain = await floor(kept);
    const store = mkdtempSync(path.join(tmpdir(), 'gloam-bench-'));
    stores.push(store);
    const first = await night(store);
    const size = sizeOf(store);
    const again = await night(store);
    ratios.first.push(first / plain);
    ratios.again.push(again / plain);
    const grew = ((sizeOf(store) - size) / size) * 100;
    console.log(
      `round ${round + 1}: floor ${seconds(plain)}, first run ${seconds(first)} (${(first / plain).toFixed(2)}), unchanged night ${seconds(again)} (${(again / plain).toFixed(2)}), store grew ${grew.toFixed(1)} %`,
    );
  }
  for (const [name, values] of Object.entries(ratios))
    console.log(`${name}: median ratio ${(values.toSorted((a, b) => a - b)[1] ?? NaN).toFixed(2)}`);
  for (const store of stores) rmSync(store, { recursive: true, force: true });
}

const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;

/** @returns milliseconds; fills `kept` the first time, compares from then on */
async function floor(kept: Map<string, Buffer>): Promise<number> {
  const configuration = await readConfiguration({ folder: HARBOUR });
  if (configuration.app.kind !== 'serve' || configuration.pages.kind !== 'list')
    throw new Error('the demo serves a folder and lists its pages');
  const server = await serveFolder(configuration.app.folder);
  const browser = await launchBrowser(await findBrowser(process.env));
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    const start = performance.now();
    let differing = 0;
    for (const { path: place } of configuration.pages.pages) {
      for (const { name } of configuration.themes) {
        await page.addInitScript((theme) => {
          (globalThis as unknown as { localStorage: { setItem(name: string, value: string): void } }).localStorage.setItem(
            'harbour-theme',
            theme,
          );
        }, name);
        await page.goto(server.origin + place);
        const shot = await page.screenshot({ fullPage: true, animations: 'disabled' });
        const before = kept.get(`${place} ${name}`);
        if (before !== undefined) differing += compare(before, shot);
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

function compare(before: Buffer, now: Buffer): number {
  const [a, b] = [PNG.sync.read(before), PNG.sync.read(now)];
  if (a.width !== b.width || a.height !== b.height) return 1;
  return pixelmatch(a.data, b.data, undefined, a.width, a.height);
}

function night(store: string): Promise<number> {
  const main = path.join(ROOT, 'dist', 'src', 'cli', 'main.js');
  const args = [main, 'run', '--config', path.join(HARBOUR, 'gloam.config.json'), '--store', store, '--state', 'rest'];
  return new Promise((resolve, reject) => {
    const start = performance.now();
    const child = spawn(process.execPath, args, { stdio: 'ignore' });
    child.on('error', reject);
    child.on('exit', (code) => {
      if (code === 0) resolve(performance.now() - start);
      else reject(new Error(`gloam run ended with ${String(code)}`));
    });
  });
}

function sizeOf(folder: string): number {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' }).reduce(
    (sum, name) => sum + statSync(path.join(folder, name)).size,
    0,
  );
}
