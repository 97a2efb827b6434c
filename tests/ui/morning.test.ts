// The tasks of a morning, by keys and by mouse, on one drawn store with token files and a configuration that may be written.
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Page } from 'playwright';
import { THEMES } from '../../bench/drawn-store.ts';
import { reportSources } from '../../src/cli/report-sources.ts';
import { readConfiguration } from '../../src/config/read-configuration.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { serveReports } from '../../report-ui/server/serve-reports.ts';
import type { ReportServer } from '../../report-ui/server/serve-reports.ts';
import { NIGHTS, PAGES, drawnStore, openBrowser, openPage } from './report.ts';
import type { Store } from './report.ts';
import type { Browser } from 'playwright';

let store: Store;
let browser: Browser;
let server: ReportServer;
let page: Page;
let complaints: readonly string[];

const apply = (name: string): unknown => ({ attribute: { name: 'data-theme', value: name } });
const color = (hex: string): unknown => ({
  $type: 'color',
  $value: {
    colorSpace: 'srgb',
    components: [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255),
    hex,
  },
});
/** What the drawings say of themselves: side notes are mark.faint, which is silt.500 in dusk. */
const files = {
  'gloam.config.json': {
    app: { serve: 'app' },
    pages: PAGES.map((name) => ({ path: `/${name}.html`, name })),
    themes: Object.fromEntries(THEMES.map(({ name, tone }) => [name, { tone, apply: apply(name) }])),
    reference: 'noon',
    tokens: { base: ['tokens.json'], themes: {} },
    ramps: ['silt.*'],
  },
  'tokens.json': {
    silt: { 300: color('#8fb0bc'), 500: color('#56717c'), 700: color('#2b3a40') },
    mark: { faint: { $type: 'color', $value: '{silt.500}' } },
  },
};

beforeAll(async () => {
  store = await drawnStore(NIGHTS);
  await mkdir(path.join(store.folder, 'app'));
  for (const [name, content] of Object.entries(files))
    await writeFile(path.join(store.folder, name), `${JSON.stringify(content, null, 2)}\n`);
  const configuration = await readConfiguration({ folder: store.folder, file: path.join(store.folder, 'gloam.config.json') });
  {
    // Yesterday's pictures are the accepted ones; dusk was drawn otherwise since.
    await using ledger = await openLedger(store.folder, { access: 'edit' });
    const act = { set: 'main', who: 'ada', note: '', at: '2026-11-23T09:00:00Z' };
    await ledger.accept(store.runs[1] ?? '', { ...act, views: 'all' });
  }
  server = await serveReports({ store: store.folder, sources: reportSources(configuration, store.folder) });
  browser = await openBrowser();
  const opened = await openPage(browser, server.url);
  page = opened.page;
  complaints = opened.complaints;
});
afterAll(async () => {
  await browser.close();
  await server.close();
  await store.remove();
  expect(complaints).toEqual([]);
});

const go = async (hash: string): Promise<void> => {
  await page.goto(`${server.url}/${hash}`);
};
const focused = (): Promise<string> => page.evaluate(() => document.activeElement?.textContent ?? '');

describe('the one list', () => {
  test('what broke in dusk: one click from tonight, and every row says what a person recognises', async () => {
    await go('#/tonight');
    // derived in answers.test.ts: 42 side notes of dusk
    await page.locator('tr', { hasText: 'dusk' }).getByRole('link', { name: '42', exact: true }).click();
    await expect.poll(() => page.locator('.head-note').textContent()).toContain('42 new findings in 1 cause');
    const row = page.locator('.findings-row a').first();
    await row.locator('img').waitFor();
    const text = (await row.textContent()) ?? '';
    for (const part of ['“', 'Text contrast', 'dusk', '2.98:1 / 4.50', 'error', 'new']) expect(text).toContain(part);
    expect(await page.locator('.findings-head h2').allTextContents()).toEqual(['mark.faint']);
  });

  test('is grouped and narrowed; the numbers beside the filters are those of the list', async () => {
    await go('#/findings');
    await expect.poll(() => page.locator('.head-note').textContent()).toContain('open findings');
    const total = Number(/^[\d,]+/.exec((await page.locator('.head-note').textContent()) ?? '')?.[0].replace(',', ''));
    await page.getByLabel('Grouped').selectOption('by theme');
    // derived: side notes of dusk and regatta, the band of flip and dusk
    await expect.poll(() => page.locator('.head-note').textContent()).toMatch(/in [23] themes/);
    await page.getByLabel('Theme', { exact: true }).selectOption({ value: 'dusk' });
    await expect.poll(() => page.locator('.head-note').textContent()).toContain('in 1 theme');
    const dusk = Number(await page.locator('.findings-head .findings-count b').textContent());
    expect(await page.getByLabel('Theme', { exact: true }).locator('option[value=dusk]').textContent()).toBe(
      `dusk (${String(dusk)})`,
    );
    expect(total).toBeGreaterThan(dusk);
    // By what stands in the element, and by a colour that was measured.
    await page.getByLabel('Find', { exact: true }).fill('#56717c');
    await expect.poll(() => page.locator('.head-note').textContent()).toContain('42 open findings');
    await page.getByLabel('Find', { exact: true }).fill('no such words');
    await page.getByText('None passes the filters.').waitFor();
  });

  test('keys alone: from row to row, to the end, and Enter opens the finding on its page', async () => {
    await go('#/findings?theme=dusk');
    const first = page.locator('[data-row="0"]');
    await first.locator('.findings-text').waitFor();
    await first.focus();
    await page.keyboard.press('End');
    await expect.poll(() => page.evaluate(() => Number(document.activeElement?.getAttribute('data-row')))).toBeGreaterThan(41);
    await page.keyboard.press('Home');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('data-row'))).toBe('0');
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('data-row'))).toBe('1');
    await page.keyboard.press('Enter');
    await page.locator('.detail').waitFor();
    expect(page.url()).toContain('finding=');
  });

  test('a row that is waited for keeps the focus when it comes, and no key is lost meanwhile', async () => {
    const { page: slow } = await openPage(browser, server.url);
    await slow.route('**/rows?**', async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 600));
      await route.continue();
    });
    const rowAt = (): Promise<number> => slow.evaluate(() => Number(document.activeElement?.getAttribute('data-row') ?? 'NaN'));
    await slow.goto(`${server.url}/#/findings`);
    const first = slow.locator('[data-row="0"]');
    await first.locator('.findings-text').waitFor();
    const total = Number(await slow.locator('.findings-row').first().getAttribute('aria-setsize'));
    await first.focus();
    await slow.keyboard.press('End');
    await slow.keyboard.press('ArrowUp');
    const waited = total - 2;
    await expect.poll(rowAt).toBe(waited);
    expect(await slow.locator(`[data-row="${String(waited)}"] .findings-wait`).count()).toBe(1);
    await slow.locator(`[data-row="${String(waited)}"] .findings-text`).waitFor();
    expect(await rowAt()).toBe(waited);
    await slow.keyboard.press('Home');
    await expect.poll(rowAt).toBe(0);
    await slow.close();
  });
});

describe('search', () => {
  test('opens by its key from anywhere, finds tokens, elements and colours, and gives the focus back', async () => {
    await go('#/causes');
    await page.locator('.cause-sheet').waitFor();
    const link = page.locator('.cause-list a').first();
    await link.focus();
    const box = page.getByRole('combobox', { name: 'Search' });
    // Typed at once: no letter is lost on the way to the field.
    await page.keyboard.press('/');
    await page.keyboard.type('mark.f');
    expect(await box.inputValue()).toBe('mark.f');
    await page.getByRole('option', { name: /token mark\.faint/ }).waitFor();
    await page.keyboard.press('Escape');
    await expect.poll(() => page.locator('.search').count()).toBe(0);
    expect(await link.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press('/');
    await box.fill('section');
    await page
      .getByRole('option', { name: /^selector/ })
      .first()
      .waitFor();
    await box.fill('#56717c');
    await page.getByRole('option', { name: /^colour #56717c.*42 findings/ }).waitFor();
    await page.getByRole('option', { name: /silt\.500 is #56717c in a theme/ }).click();
    await page.getByRole('heading', { level: 1, name: 'silt.500' }).waitFor();
  });
});

describe('a token', () => {
  test('says its value in each theme, its place on the ramp, and all that the step paints, what passes too', async () => {
    await go('#/token?token=silt.500');
    const table = page.getByRole('table', { name: /in each theme/ });
    await table.waitFor();
    expect(await table.locator('tbody tr').count()).toBe(THEMES.length);
    expect(await table.locator('[aria-current]').first().getAttribute('aria-label')).toBe('silt.500, #56717c');
    // derived: cards of the four pages, each with one side note: 6 + 9 + 12 + 15; in noon they pass (5b6f78 on white is 5.1:1)
    expect(await table.locator('tr', { hasText: 'noon' }).locator('td').last().textContent()).toBe('42');
    expect(await page.locator('.token-paints').textContent()).toContain('passes');
    expect(await page.locator('.token-paints').textContent()).toContain('fails');
    await page.getByRole('link', { name: 'mark.faint', exact: true }).click();
    await page.getByRole('heading', { level: 1, name: 'mark.faint' }).waitFor();
    await go('#/token?token=slack.water');
    await page.getByText('The token files have no such token.').waitFor();
  });
});

describe('the morning queue, by keys alone', () => {
  beforeEach(async () => {
    await go('#/queue');
    await page.locator('.queue-pair img').nth(1).waitFor();
  });
  const left = (): Promise<string | null> => page.locator('.head-note').textContent();

  test('shows what is new, once for each look, with the reference theme beside it', async () => {
    expect(await left()).toBe('1 of 1 cause with new findings left');
    expect(await page.locator('.queue-pair figcaption').allTextContents()).toEqual([
      expect.stringContaining('dusk'),
      'noon, the reference',
    ]);
    expect(await page.locator('.queue-card').textContent()).toContain('of this look');
  });

  // published: WCAG 2.2 SC 2.1.4, a mechanism is available to turn the shortcut off
  test('one-letter keys can be switched off, the one for search among them', async () => {
    const keys = page.getByRole('checkbox', { name: 'One-letter keys' });
    await keys.uncheck();
    await page.locator('.queue-card').focus();
    await page.keyboard.press('h');
    await page.keyboard.press('/');
    expect(await page.locator('.queue-form, dialog[open]').count()).toBe(0);
    await keys.check();
    await page.locator('.queue-card').focus();
    await page.keyboard.press('/');
    await page.locator('dialog[open]').waitFor();
    await page.keyboard.press('Escape');
  });

  test('a cause is handed on, and taken back', async () => {
    await page.keyboard.press('h');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('name'))).toBe('owner');
    await page.keyboard.type('harbour office');
    await page.keyboard.press('Tab');
    await page.keyboard.type('the side notes of dusk');
    await page.keyboard.press('Enter');
    await page.getByText('Handed on to harbour office.').first().waitFor();
    await expect.poll(left).toContain('Nothing is left');
    await expect.poll(focused).toContain('mark.faint');
    await page.keyboard.press('u');
    await expect.poll(left).toBe('1 of 1 cause with new findings left');
  });

  test('one page’s intended change is accepted, and taken back', async () => {
    await page.keyboard.press('i');
    await page.getByLabel('Page', { exact: true }).selectOption('tide-table');
    await page.getByRole('button', { name: 'Accept 1 picture' }).press('Enter');
    await page.getByText('1 picture accepted.').first().waitFor();
    await go('#/changes');
    // derived: four pages of dusk differed
    await expect.poll(left).toContain('3 pictures differ');
    await go('#/queue');
    await page.getByRole('button', { name: /Take the answer back/ }).waitFor();
    await page.keyboard.press('u');
    await expect.poll(left).toBe('1 of 1 cause with new findings left');
    await go('#/changes');
    await expect.poll(left).toContain('4 pictures differ');
  });

  test('one finding is exempt in the configuration, and the file is put back when that is taken back', async () => {
    const file = path.join(store.folder, 'gloam.config.json');
    const before = await readFile(file, 'utf8');
    await page.keyboard.press('e');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('name'))).toBe('why');
    await page.keyboard.type('the notes repeat the table');
    await page.getByLabel('Until').fill('2099-01-31');
    await page.getByRole('button', { name: 'Exempt it' }).press('Enter');
    await page.getByText('Written to gloam.config.json').first().waitFor();
    const exempt: unknown = JSON.parse(await readFile(file, 'utf8'));
    expect(exempt).toMatchObject({
      exempt: [{ checks: ['text-contrast'], themes: ['dusk'], why: 'the notes repeat the table', until: '2099-01-31' }],
    });
    await page.keyboard.press('u');
    await page.getByText('Taken back.').waitFor();
    expect(await readFile(file, 'utf8')).toBe(before);
  });
});

test('the launch sheet on the screen is the one that is saved as a file', async () => {
  await go('#/launch?theme=dusk');
  await page.locator('.sheet').waitFor();
  const href = await page.getByRole('link', { name: 'Save as a file' }).getAttribute('href');
  const file = await (await fetch(new URL(href ?? '', `${server.url}/`))).text();
  const blank = await browser.newPage();
  await blank.setContent(file);
  const saved = await blank.locator('main').evaluate(wordsOf);
  await blank.close();
  const screen = await page.locator('.sheet').evaluate(wordsOf);
  expect(saved).toContain('duskmaynotlaunchyet');
  expect(screen).toBe(saved);
});

/** Runs in the page: all that can be read, without the room between. */
function wordsOf(root: Element): string {
  const copy = root.cloneNode(true);
  if (!(copy instanceof Element)) return '';
  for (const unseen of copy.querySelectorAll('.unseen')) unseen.remove();
  return copy.textContent.replaceAll(/\s+/g, '');
}

test('owners: what each has now, with the way to their list', async () => {
  await go('#/owners');
  const row = page.locator('tbody tr', { hasText: 'web team' });
  // derived: all pages but the map are the web team's; the map has 15 of the 42 new notes of dusk
  await row.getByRole('link', { name: '27', exact: true }).click();
  await expect.poll(() => page.locator('.head-note').textContent()).toContain('27 new findings');
});
