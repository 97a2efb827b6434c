// While a run goes on the page shows how far it is, and shows the run when it has ended; the store is another process's meanwhile.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { THEMES, storeNight } from '../../bench/drawn-store.ts';
import { serveReports } from '../../report-ui/server/serve-reports.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { NIGHTS, PAGES, openPage, openReport } from './report.ts';
import type { Report } from './report.ts';

let report: Report;
beforeAll(async () => {
  report = await openReport(NIGHTS.slice(0, 1));
});
afterAll(async () => {
  await report.close();
});

test('progress comes as events; that a new run is there is said, and it is shown on request', async () => {
  const { page, complaints } = await openPage(report.browser, `${report.server.url}/#/tonight`);
  await page.locator('.lead').waitFor();
  await using ledger = await openLedger(report.folder, { access: 'own' });
  const at = '2026-11-25T01:10:00Z';
  const run = await storeNight(ledger, { at, pages: PAGES, themes: THEMES, unfinished: true });
  await page.locator('.progress').waitFor();
  await expect.poll(() => page.locator('.progress').textContent()).toBe('running: 20 of 20 views');
  await ledger.finishRun(run, at);
  await page.locator('.progress').waitFor({ state: 'detached' });
  await page.getByText('A newer run has finished.').waitFor();
  // What is being read does not change by itself.
  expect(await page.locator('.lead').textContent()).toContain('This is the first run');
  expect(await page.getByRole('status').textContent()).toContain('A run has finished');
  await page.getByRole('link', { name: 'Show it' }).click();
  await expect.poll(() => page.locator('.lead').textContent()).toContain('are new');
  expect(await page.getByText('A newer run has finished.').count()).toBe(0);
  expect(complaints).toEqual([]);
});

test('an empty store says what to do', async () => {
  const folder = await mkdtemp(path.join(tmpdir(), 'gloam-empty-'));
  const server = await serveReports({ store: folder });
  const { page, complaints } = await openPage(report.browser, server.url);
  await page.getByText('Nothing has been rendered yet.').waitFor();
  expect(complaints).toEqual([]);
  await page.context().close();
  await server.close();
  await server.close();
  await rm(folder, { recursive: true });
});
