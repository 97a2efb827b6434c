// The report server on a store of 625 pages × 8 themes (5,000 views) with more than 100,000 findings: what the first screen costs, cold and warm, in
// answers and in a real browser. Aims: first meaningful screen within a second on loopback, no list above 200 KB.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { serveReports } from '../report-ui/server/serve-reports.ts';
import { openLedger } from '../src/ledger/ledger.ts';
import { firstScreens, openBrowser } from './first-screen.ts';
import { THEMES, storeNight } from './drawn-store.ts';
import type { DrawnTheme } from './drawn-store.ts';

const PAGES = Array.from({ length: 625 }, (_, number) => `berth-${String(number + 1).padStart(3, '0')}`);
const ROUNDS = 7;

/** Eight themes in which most texts fail, so that there is much to count. */
const FAULTY: readonly DrawnTheme[] = Array.from({ length: 8 }, (_, number) => {
  const theme = THEMES[number % THEMES.length] ?? { name: 'noon', tone: 'light', page: '', card: '', band: '', ink: '', faint: '' };
  return {
    ...theme,
    name: number < THEMES.length ? theme.name : `${theme.name}-${String(number)}`,
    ink: '#808080',
    faint: '#7c7c7c',
    card: '#8a8a8a',
  };
});

export async function run(): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'gloam-bench-'));
  try {
    await fill(folder);
    await measureAnswers(folder);
    await measureScreen(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function fill(folder: string): Promise<void> {
  const from = performance.now();
  await using ledger = await openLedger(folder, { access: 'own' });
  for (const at of ['2026-11-23T01:00:00Z', '2026-11-24T01:00:00Z']) {
    await storeNight(ledger, {
      at,
      pages: PAGES,
      themes: FAULTY,
      size: 0.25,
      owner: (page) => `crew ${String(Number(page.slice(-3)) % 5)}`,
    });
  }
  const [newest] = await ledger.runs({ limit: 1 });
  const findings = Object.values(newest?.totals?.findings ?? {}).reduce((sum, count) => sum + count, 0);
  console.log(
    `store: 2 nights of ${String(newest?.totals?.views ?? 0)} views, ${String(findings)} findings each; filled in ${seconds(performance.now() - from)}`,
  );
}

/** The questions of the first screen, in the order the page asks them. */
const FIRST_SCREEN = ['/api/session', '/api/runs', '/api/runs/newest', '/api/runs/newest/tonight', '/api/runs/newest/grid'];
const OTHERS = [
  '/api/runs/newest/findings',
  '/api/runs/newest/page?page=berth-250',
  '/api/runs/newest/findings?page=berth-250&state=rest&viewport=desk',
  '/api/runs/newest/evidence?page=berth-250&state=rest&viewport=desk',
  '/api/runs/newest/causes',
  '/api/runs/newest/places?cause=cause-faint-dusk',
  '/api/runs/newest/change-groups',
  '/api/runs/newest/launch',
  '/api/history',
];

async function measureAnswers(folder: string): Promise<void> {
  const cold = new Map<string, number[]>();
  const warm = new Map<string, number[]>();
  const bytes = new Map<string, number>();
  for (let round = 0; round < ROUNDS; round += 1) {
    const server = await serveReports({ store: folder, readOnly: true });
    for (const times of [cold, warm]) {
      for (const path of [...FIRST_SCREEN, ...OTHERS]) {
        const from = performance.now();
        const body = await (await fetch(server.url + path)).arrayBuffer();
        times.set(path, [...(times.get(path) ?? []), performance.now() - from]);
        bytes.set(path, body.byteLength);
      }
    }
    await server.close();
  }
  for (const path of [...FIRST_SCREEN, ...OTHERS]) {
    const [first, later] = [median(cold.get(path)), median(warm.get(path))];
    console.log(
      `${path.padEnd(70)} ${ms(first)} at first, ${ms(later)} later (${(first / later).toFixed(1)} ×), ${kilobytes(bytes.get(path) ?? 0)}`,
    );
  }
  const sum = (times: ReadonlyMap<string, readonly number[]>): number =>
    FIRST_SCREEN.reduce((total, path) => total + median(times.get(path)), 0);
  console.log(`first screen, answers in a row: ${ms(sum(cold))} at first, ${ms(sum(warm))} later`);
  console.log(`largest list: ${kilobytes(Math.max(...bytes.values()))} (aim: at most 200 KB)`);
}

async function measureScreen(folder: string): Promise<void> {
  const browser = await openBrowser();
  const times = await firstScreens(browser, folder, ROUNDS);
  await browser.close();
  console.log(
    `first screen in the browser, server just started: ${ms(median(times))} (aim: 1000 ms), quartiles ${ms(quantile(times, 0.25))} to ${ms(quantile(times, 0.75))}`,
  );
}

function quantile(values: readonly number[], at: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor((sorted.length - 1) * at)] ?? Number.NaN;
}

function median(values: readonly number[] = []): number {
  return quantile(values, 0.5);
}

const ms = (value: number): string => `${value.toFixed(0).padStart(5)} ms`;
const seconds = (value: number): string => `${(value / 1_000).toFixed(1)} s`;
const kilobytes = (value: number): string => `${(value / 1_000).toFixed(0)} KB`;
