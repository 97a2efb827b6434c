// Texts of hostile pages never execute: in names, titles, addresses, texts, selectors and messages they are shown as what they are.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { THEMES } from '../../bench/drawn-store.ts';
import type { DrawnNight } from '../../bench/drawn-store.ts';
import { writeSite } from '../../report-ui/server/write-site.ts';
import { INJECTIONS } from './injection-strings.ts';
import { openPage, openReport } from './report.ts';
import type { Report } from './report.ts';

const at = (index: number): string => INJECTIONS[index % INJECTIONS.length] ?? '';
/** One page is named by each string; the first has a text, a selector and a key of each as well. */
const NIGHT: DrawnNight = {
  at: '2026-11-24T01:10:00Z',
  pages: INJECTIONS,
  themes: THEMES.filter(({ name }) => name === 'noon' || name === 'regatta'),
  size: 0.25,
  owner: (page) => page,
  title: (page) => page,
  url: (page) => page,
  twist: (text, index) => ({ ...text, text: at(index * 2), selector: at(index * 2 + 1), key: `${text.key} ${at(index)}` }),
  fails: ({ page, theme }) => theme === 'noon' && page.startsWith('<svg'),
};

let report: Report;
beforeAll(async () => {
  report = await openReport([NIGHT], { readOnly: true });
});
afterAll(() => report.close());

test('the table holds a hundred different strings', () => {
  expect(new Set(INJECTIONS).size).toBe(100);
});

test('names of pages are shown in the grid as they are, and nothing runs', async () => {
  const { page, complaints } = await openPage(report.browser, `${report.server.url}/#/tonight`, { height: 5_000 });
  await page.locator('.grid-page a').first().waitFor();
  const shown = await page.locator('.grid-page a').evaluateAll((links) => links.map((link) => link.textContent));
  expect(shown).toEqual(INJECTIONS);
  expect(await page.evaluate(() => 'fired' in window)).toBe(false);
  expect(complaints).toEqual([]);
});

test('a page of each name opens with its own name as its heading', async () => {
  const { page, complaints } = await openPage(report.browser, `${report.server.url}/#/tonight`);
  for (const name of INJECTIONS) {
    await page.evaluate(
      (hash) => {
        location.hash = hash;
      },
      `#/page?${new URLSearchParams({ page: name }).toString()}`,
    );
    await page.locator('h1').filter({ hasText: name.trim() }).waitFor();
    expect(await page.locator('h1').textContent()).toBe(name);
  }
  expect(await page.evaluate(() => 'fired' in window)).toBe(false);
  expect(complaints).toEqual([]);
});

test('texts and selectors are shown in list and detail as they are', async () => {
  // 15 cards: the page whose number leaves 3 when divided by four
  const name = INJECTIONS[3] ?? '';
  const address = `${report.server.url}/#/page?${new URLSearchParams({ page: name }).toString()}`;
  const { page, complaints } = await openPage(report.browser, address);
  const list = page.getByRole('listbox', { name: 'Findings of this page' });
  await list.getByRole('option').first().waitFor();
  await list.focus();
  const total = Number(await list.getByRole('option').first().getAttribute('aria-setsize'));
  expect(total).toBeGreaterThan(10);
  for (let n = 0; n < total; n += 1) {
    await list.press('ArrowDown');
    const chosen = page.locator('.list-row.chosen .list-place');
    const selector = await chosen.textContent();
    expect(INJECTIONS).toContain(selector);
    await page
      .locator('.detail .facts code')
      .first()
      .filter({ hasText: (selector ?? '').trim() })
      .waitFor();
    await page.locator('.specimen').waitFor();
    expect(INJECTIONS).toContain(await page.locator('.specimen').textContent());
  }
  expect(await page.evaluate(() => 'fired' in window)).toBe(false);
  expect(complaints).toEqual([]);
});

test('the other screens and the static form hold as well', async () => {
  for (const screen of ['causes', 'launch', 'history', 'changes']) {
    const { page, complaints } = await openPage(report.browser, `${report.server.url}/#/${screen}`);
    await page.locator('h1, .sheet').first().waitFor();
    await page.waitForLoadState('networkidle');
    expect(await page.evaluate(() => 'fired' in window)).toBe(false);
    expect(complaints).toEqual([]);
    await page.context().close();
  }
  const { index } = await writeSite({ store: report.folder, folder: `${report.folder}/site` });
  const { page, complaints } = await openPage(report.browser, `file://${index}`, { height: 5_000 });
  await page.locator('.grid-page a').first().waitFor();
  expect(await page.locator('.grid-page a').evaluateAll((links) => links.map((link) => link.textContent))).toEqual(INJECTIONS);
  expect(await page.evaluate(() => 'fired' in window)).toBe(false);
  expect(complaints).toEqual([]);
});
