// Memory of gloam and of its browser over a run of 540 views: the pages of the demo app, nine times each by their address, five themes.
// Proportional set sizes of Node and of all Chromium processes (Linux only), each tenth of the run beside the first.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { HARBOUR, ROOT } from './harbour-night.ts';

const TIMES = 9;
const EVERY_MS = 1_000;

interface Reading {
  readonly nodeMb: number;
  readonly browserMb: number;
}

export async function memory(): Promise<void> {
  const folder = mkdtempSync(path.join(tmpdir(), 'gloam-memory-'));
  try {
    cpSync(HARBOUR, folder, { recursive: true, filter: (from) => !from.includes('.gloam') });
    const views = manyPages(path.join(folder, 'gloam.config.json'));
    const readings = await watched(['run', '--config', path.join(folder, 'gloam.config.json'), '--state', 'rest']);
    console.log(
      `${views} views, ${readings.length} readings; median MB of each tenth of the run, as a ratio to the first in brackets`,
    );
    console.log('tenth    node               browser');
    const tenths = Array.from({ length: 10 }, (_, n) =>
      readings.slice((n * readings.length) / 10, ((n + 1) * readings.length) / 10),
    );
    const first = middleOf(tenths[0] ?? []);
    for (const [n, tenth] of tenths.entries()) {
      const now = middleOf(tenth);
      const show = (mb: number, start: number): string => `${mb.toFixed(0).padStart(5)} (${(mb / start).toFixed(2)})`.padEnd(18);
      console.log(`${String(n + 1).padStart(5)} ${show(now.nodeMb, first.nodeMb)} ${show(now.browserMb, first.browserMb)}`);
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

interface DemoConfiguration {
  pages: readonly { readonly path: string; readonly name: string }[];
  readonly themes: Readonly<Record<string, unknown>>;
}

/** @returns how many views it makes */
function manyPages(file: string): number {
  const configuration = JSON.parse(readFileSync(file, 'utf8')) as DemoConfiguration;
  configuration.pages = Array.from({ length: TIMES }, (_, n) =>
    configuration.pages.map((page) => ({ ...page, path: `${page.path}?copy=${n}`, name: `${page.name}-${n}` })),
  ).flat();
  writeFileSync(file, JSON.stringify(configuration));
  return configuration.pages.length * Object.keys(configuration.themes).length;
}

async function watched(args: readonly string[]): Promise<readonly Reading[]> {
  const child = spawn(process.execPath, [path.join(ROOT, 'dist', 'cli', 'main.js'), ...args], { stdio: 'ignore' });
  const ended = once(child, 'exit');
  const readings: Reading[] = [];
  while (child.exitCode === null && child.signalCode === null) {
    await Promise.race([pause(EVERY_MS), ended]);
    const reading = readingOf(child.pid ?? 0);
    // Before the browser is there, and once it is gone, nothing is compared.
    if (reading.browserMb > 0) readings.push(reading);
  }
  if (child.exitCode !== 0) throw new Error(`gloam run ended with ${String(child.exitCode ?? child.signalCode)}`);
  return readings;
}

function readingOf(root: number): Reading {
  const children = new Map<number, number[]>();
  for (const name of readdirSync('/proc')) {
    const parent = /^\d+$/u.test(name) ? parentOf(name) : null;
    if (parent !== null) children.set(parent, [...(children.get(parent) ?? []), Number(name)]);
  }
  const below = (id: number): readonly number[] => (children.get(id) ?? []).flatMap((child) => [child, ...below(child)]);
  return { nodeMb: megabytes(root), browserMb: below(root).reduce((sum, id) => sum + megabytes(id), 0) };
}

/** Null where the process ended meanwhile. */
function parentOf(id: string): number | null {
  try {
    const stat = readFileSync(`/proc/${id}/stat`, 'utf8');
    return Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1]);
  } catch {
    return null;
  }
}

function megabytes(id: number): number {
  try {
    return Number(/^Pss:\s+(\d+)/mu.exec(readFileSync(`/proc/${id}/smaps_rollup`, 'utf8'))?.[1] ?? 0) / 1024;
  } catch {
    return 0;
  }
}

function middleOf(readings: readonly Reading[]): Reading {
  const middle = (of: (reading: Reading) => number): number =>
    readings.map(of).toSorted((a, b) => a - b)[Math.floor(readings.length / 2)] ?? NaN;
  return { nodeMb: middle((reading) => reading.nodeMb), browserMb: middle((reading) => reading.browserMb) };
}
