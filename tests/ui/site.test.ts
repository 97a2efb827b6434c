// The static form: a folder that opens from disk and shows what the server shows.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { THEMES } from '../../bench/drawn-store.ts';
import { writeSite } from '../../report-ui/server/write-site.ts';
import type { Site } from '../../report-ui/server/write-site.ts';
import { openPage, openReport } from './report.ts';
import type { Report } from './report.ts';

let report: Report;
let site: Site;
beforeAll(async () => {
  report = await openReport();
  site = await writeSite({ store: report.folder, folder: `${report.folder}/site` });
});
afterAll(() => report.close());

const SCREENS = [
  '#/tonight',
  '#/page?page=tide-table',
  '#/causes',
  '#/ramps',
  '#/changes',
  '#/launch',
  '#/owners',
  '#/token?token=mark.faint',
  '#/history',
  '#/api',
];

test.each(SCREENS)('%s opens from disk without a complaint', async (hash) => {
  const { page, complaints } = await openPage(report.browser, `file://${site.index}${hash}`);
  await page.locator('main h1, main .empty').first().waitFor();
  await page.waitForLoadState('networkidle');
  expect(complaints).toEqual([]);
  await page.context().close();
});

test.each(['#/tonight', '#/causes', '#/launch'])('%s says the same as the server does', async (hash) => {
  const [disk, served] = await Promise.all(
    [`file://${site.index}`, `${report.server.url}/`].map(async (base) => {
      const { page } = await openPage(report.browser, base + hash);
      await page.locator('.lead, .sheet footer').first().waitFor();
      await page.waitForLoadState('networkidle');
      const text = await page.locator('main').innerText();
      await page.context().close();
      // A folder of files has no server that would make one more.
      return text.replace(/Save as a file\s*/u, '');
    }),
  );
  expect(disk).toBe(served);
});

test('findings, their evidence, crops and exact colours are there too', async () => {
  const { page, complaints } = await openPage(report.browser, `file://${site.index}#/page?page=tide-table&loupe=on`);
  await page.locator('.mark-plate').last().click();
  await page.locator('.detail .specimen').waitFor();
  await page.locator('.detail .chain').waitFor();
  await page
    .locator('.pane .picture')
    .first()
    .hover({ position: { x: 2, y: 30 } });
  await expect.poll(() => page.locator('.loupe code').allTextContents()).toEqual(THEMES.map((theme) => theme.page));
  await page.getByRole('link', { name: 'Causes' }).click();
  await page.locator('.crops img').first().waitFor();
  await expect
    .poll(() =>
      page
        .locator('.crops img')
        .first()
        .evaluate((image) => (image instanceof HTMLImageElement ? image.naturalWidth : 0)),
    )
    .toBeGreaterThan(100);
  expect(complaints).toEqual([]);
});
