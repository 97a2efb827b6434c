// A small drawn store with its server and a real browser, shared by the tests of this folder.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright';
import type { Browser, Page } from 'playwright';
import { THEMES, storeNight } from '../../bench/drawn-store.ts';
import type { DrawnNight, DrawnTheme } from '../../bench/drawn-store.ts';
import { serveReports } from '../../report-ui/server/serve-reports.ts';
import type { ReportServer, ServeOptions } from '../../report-ui/server/serve-reports.ts';
import { FEATURES_OFF } from '../../runner/browser/features-off.ts';
import { sandboxFlags } from '../../runner/browser/launch-browser.ts';
import { findBrowser } from '../../runner/browser/find-browser.ts';
import { openLedger } from '../../src/ledger/ledger.ts';

export const PAGES = ['station-list', 'tide-table', 'alarm-log', 'map'] as const;

/** Dusk was better the night before: its side notes could be read. */
export const YESTERDAY: readonly DrawnTheme[] = THEMES.map((theme) =>
  theme.name === 'dusk' ? { ...theme, faint: '#8fb0bc' } : theme,
);

export const owner = (page: string): string => (page === 'map' ? 'harbour office' : 'web team');

export const NIGHTS: readonly DrawnNight[] = [
  { at: '2026-11-22T01:10:00Z', pages: PAGES, themes: YESTERDAY, owner },
  { at: '2026-11-23T01:10:00Z', pages: PAGES, themes: YESTERDAY, owner },
  {
    at: '2026-11-24T01:10:00Z',
    pages: PAGES,
    themes: THEMES,
    owner,
    fails: ({ page, theme }) => page === 'map' && theme === 'flip',
  },
];

export interface Store {
  readonly folder: string;
  /** In the order of the nights. */
  readonly runs: readonly string[];
  remove(): Promise<void>;
}

export async function drawnStore(nights: readonly DrawnNight[] = NIGHTS): Promise<Store> {
  const folder = await mkdtemp(join(tmpdir(), 'gloam-report-'));
  await using ledger = await openLedger(folder, { access: 'own' });
  const runs: string[] = [];
  for (const night of nights) runs.push(await storeNight(ledger, night));
  return { folder, runs, remove: () => rm(folder, { recursive: true, force: true }) };
}

export interface Report extends Store {
  readonly server: ReportServer;
  readonly browser: Browser;
  close(): Promise<void>;
}

export async function openReport(nights?: readonly DrawnNight[], options: Partial<ServeOptions> = {}): Promise<Report> {
  const store = await drawnStore(nights);
  const server = await serveReports({ store: store.folder, ...options });
  const browser = await openBrowser();
  return {
    ...store,
    server,
    browser,
    close: async () => {
      await browser.close();
      await server.close();
      await store.remove();
    },
  };
}

export async function openBrowser(): Promise<Browser> {
  const { path } = await findBrowser(process.env);
  return chromium.launch({ args: [...sandboxFlags(), FEATURES_OFF], ...(path === undefined ? {} : { executablePath: path }) });
}

export interface Watched {
  readonly page: Page;
  /** Console errors and warnings, page errors, dialogs, requests to elsewhere. */
  readonly complaints: readonly string[];
}

interface PageOptions {
  readonly width?: number;
  readonly height?: number;
  readonly reducedMotion?: boolean;
  readonly look?: 'light' | 'dark' | 'contrast';
}

/** A page of its own context that writes down whatever should not happen. */
export async function openPage(browser: Browser, address: string, options: PageOptions = {}): Promise<Watched> {
  const { width = 1440, height = 900, reducedMotion = false, look } = options;
  const context = await browser.newContext({
    viewport: { width, height },
    reducedMotion: reducedMotion ? 'reduce' : 'no-preference',
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('dialog', (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('request', (request) => {
    const own = new URL(address);
    const asked = new URL(request.url());
    if (asked.protocol !== 'data:' && asked.origin !== own.origin) complaints.push(`request to ${request.url()}`);
  });
  if (look !== undefined) {
    await page.addInitScript((chosen) => {
      localStorage.setItem('gloam-look', chosen);
    }, look);
  }
  await page.goto(address);
  return { page, complaints };
}
