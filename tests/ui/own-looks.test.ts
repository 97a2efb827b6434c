// gloam on its own report: every screen in all its looks, with what can be hovered and focused; no finding, and the gate lets each look pass.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { z } from 'zod';
import { openLedger } from '../../src/ledger/ledger.ts';
import { start } from '../cli/gloam.ts';
import type { Started } from '../cli/gloam.ts';
import { NIGHTS, drawnStore } from './report.ts';
import type { Store } from './report.ts';

const ROOT = path.resolve(import.meta.dirname, '..', '..');
const OWN = ['--config', path.join(ROOT, 'report-ui', 'gloam.config.mjs')];

let shown: Store;
let server: Started;
let env: NodeJS.ProcessEnv;
let own: string;
beforeAll(async () => {
  shown = await drawnStore(NIGHTS);
  own = await mkdtemp(path.join(tmpdir(), 'gloam-own-'));
  server = start(ROOT, ['serve', '--port', '0', '--read-only', '--store', shown.folder, ...OWN]);
  const [address] = /http:\S+/.exec(await server.printed(/http:\S+\n/)) ?? [];
  env = { REPORT_URL: address, REPORT_PAGE: 'tide-table' };
});
afterAll(async () => {
  server.kill('SIGTERM');
  await server.ended;
  await shown.remove();
  await rm(own, { recursive: true, force: true });
});

test('finds nothing, and the gate agrees', { timeout: 600_000 }, async () => {
  const run = await start(ROOT, ['run', '--store', own, ...OWN], env).ended;
  expect(run, run.stderr).toMatchObject({ code: 0 });
  const gate = await start(ROOT, ['gate', '--store', own, ...OWN], env).ended;
  expect(gate.stdout + gate.stderr).toMatch(/may launch/);
  await using ledger = await openLedger(own, { access: 'read' });
  const [newest] = await ledger.runs({ limit: 1 });
  const { items } = await ledger.findings(newest?.id ?? '', { limit: 1_000 });
  const open = items.filter(({ status }) => status !== 'exempt');
  expect(open.map(({ theme, page, state, selector, message }) => `${page}@${theme}/${state} ${selector}: ${message}`)).toEqual([]);
  // That something was looked at: 13 screens at rest and 2 walks, in 3 looks each.
  expect(newest?.totals).toMatchObject({ views: 45, failed: 0 });
  expect(z.number().parse(newest?.totals?.samples)).toBeGreaterThan(5_000);
  expect(gate.code).toBe(0);
});
