// What explaining a large run takes on PostgreSQL: a night of the demo app, its pages copied under other names until the samples are there
// (`GLOAM_SAMPLES`, 250,000, 500,000 and 1,000,000 unless set; `GLOAM_NIGHT` names a store with such a night), then explained and finished by a process of its own. Prints its peak of
// memory and seconds. Needs PostgreSQL, a browser and a built gloam.
import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { closeRun } from '../src/cli/run/close-run.ts';
import { readConfiguration } from '../src/config/read-configuration.ts';
import { readTokens } from '../src/config/read-tokens.ts';
import { findingId } from '../src/checks/finding-id.ts';
import { allOf } from '../src/ledger/database/cursor.ts';
import { openLedger } from '../src/ledger/ledger.ts';
import type { Ledger } from '../src/ledger/ledger.ts';
import type { StoredView, ViewFindings } from '../src/ledger/records.ts';
import type { StorePlace } from '../src/ledger/store-at.ts';
import type { Sample } from '../src/samples/sample.ts';
import type { View } from '../src/samples/view.ts';
import { postgresPrograms, startCluster } from './cluster.ts';
import { HARBOUR, nightOn } from './harbour-night.ts';

const CONFIGURATION = path.join(HARBOUR, 'gloam.config.json');
const SIZES = (process.env['GLOAM_SAMPLES'] ?? '250000,500000,1000000').split(',').map(Number);

export async function explainSize(): Promise<void> {
  const programs = postgresPrograms();
  if (programs === null) throw new Error('PostgreSQL is not installed');
  const folder = await mkdtemp(path.join(tmpdir(), 'gloam-explain-'));
  await using cluster = await startCluster(programs);
  try {
    const known = process.env['GLOAM_NIGHT'];
    const demo = known ?? path.join(folder, 'demo');
    if (known === undefined) await nightOn(CONFIGURATION, demo);
    console.log('samples    views  findings  peak of memory, MB  seconds');
    for (const [at, size] of SIZES.entries()) {
      const schema = `size${String(at)}`;
      const place = { address: cluster.address, schema, folder: path.join(folder, schema), blobs: path.join(folder, schema) };
      const filled = await fill(demo, place, size);
      const { mb, seconds } = await explained(place, filled.run);
      const row = [filled.samples, filled.views, filled.findings, Math.round(mb), seconds.toFixed(0)].map(String);
      console.log(row.map((text, n) => text.padStart([9, 7, 9, 19, 8][n] ?? 8)).join(' '));
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

interface Filled {
  readonly run: string;
  readonly views: number;
  readonly samples: number;
  readonly findings: number;
}

async function fill(demo: string, place: StorePlace, least: number): Promise<Filled> {
  await using source = await openLedger(demo, { access: 'read' });
  const night = await source.latestRun();
  if (night === undefined) throw new Error('the demo app left no run');
  const captured: StoredView[] = [];
  for await (const view of allOf((request) => source.views(night.id, request))) if (view.status === 'captured') captured.push(view);
  const facts = await Promise.all(captured.map((view) => source.samplesOf(night.id, view.id)));
  const drafts = await findingsOf(source, night.id);
  const each = facts.reduce((sum, { samples }) => sum + samples.length, 0);
  const times = Math.ceil(least / each);
  await using ledger = await openLedger(place, { access: 'own' });
  const renamed = (view: StoredView, n: number): View => ({
    ...{ theme: view.theme, state: view.state, viewport: view.viewport, url: view.url },
    page: `${view.page}-${String(n)}`,
    id: `${view.page}-${String(n)}${view.id.slice(view.page.length)}`,
  });
  const views = Array.from({ length: times }, (_, n) => captured.map((view) => renamed(view, n))).flat();
  const { startedAt, gloam, browser, reference, themes } = night;
  const run = await ledger.beginRun({ startedAt, gloam, browser, reference, themes, views });
  const shot = Buffer.from('one picture for all of them');
  let findings = 0;
  for (const [place, view] of views.entries()) {
    const at = place % captured.length;
    const from = captured[at];
    const { samples = [], properties = [] } = facts[at] ?? {};
    if (from === undefined) continue;
    const own = samples.map((sample): Sample => ({ ...sample, view: view.id }));
    const page = { title: view.page, widthCssPx: from.widthCssPx ?? 1, heightCssPx: from.heightCssPx ?? 1, scale: 1 };
    await ledger.storeView(run, { view, status: 'captured', ms: 200, page, shot, samples: own, properties, notes: [] });
    const entries = (drafts.get(from.id) ?? []).map((draft) => ({ id: findingId(view, draft), draft }));
    findings += entries.length;
    await ledger.storeFindings(run, [{ view, findings: entries }]);
  }
  return { run, views: views.length, samples: each * times, findings };
}

type Drafts = ViewFindings['findings'][number]['draft'];

async function findingsOf(source: Ledger, run: string): Promise<ReadonlyMap<string, readonly Drafts[]>> {
  const found = new Map<string, Drafts[]>();
  for await (const { view, check, level, key, selector, rect, message, measured, expected } of allOf((request) =>
    source.findings(run, request),
  )) {
    const list = found.get(view) ?? [];
    found.set(view, list);
    list.push({ check, level, key, selector, rect, message, measured, expected });
  }
  return found;
}

/** In a process of its own, whose peak is that of explaining alone. */
async function explained(place: StorePlace, run: string): Promise<{ readonly mb: number; readonly seconds: number }> {
  const child = spawn(process.execPath, [import.meta.filename, JSON.stringify(place), run], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let said = '';
  child.stdout.on('data', (chunk: Buffer) => (said += chunk.toString()));
  const code = await new Promise((resolve) => child.on('close', resolve));
  if (code !== 0) throw new Error(`explaining ended with ${String(code)}`);
  return JSON.parse(said) as { mb: number; seconds: number };
}

async function explainAlone(place: StorePlace, run: string): Promise<void> {
  const configuration = await readConfiguration({ folder: HARBOUR, file: CONFIGURATION });
  const tokens = readTokens(configuration);
  await using ledger = await openLedger(place, { access: 'own' });
  const start = performance.now();
  const today = '2026-11-29';
  await closeRun({ ledger, run, configuration, tokens, pages: [], today, now: () => new Date(), cut: false, anew: true });
  // Linux counts in KB, and so does Node everywhere.
  const mb = process.resourceUsage().maxRSS / 1024;
  process.stdout.write(JSON.stringify({ mb, seconds: (performance.now() - start) / 1000 }));
}

if (process.argv[1] === import.meta.filename) {
  const [place = '', run = ''] = process.argv.slice(2);
  await explainAlone(JSON.parse(place) as StorePlace, run);
}
