// The approximations of reduced colour vision turn colours into what the published matrices say, on real pictures in a real browser.
import { PNG } from 'pngjs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { THEMES } from '../../bench/drawn-store.ts';
import type { DrawnTheme } from '../../bench/drawn-store.ts';
import { openPage, openReport } from './report.ts';
import type { Report } from './report.ts';

/** The page's ground is the colour that is looked at. */
const RED: DrawnTheme = {
  ...(THEMES[0] ?? { name: 'noon', tone: 'light', card: '', band: '', ink: '', faint: '' }),
  page: '#ff0000',
};

let report: Report;
beforeAll(async () => {
  report = await openReport([{ at: '2026-11-24T01:10:00Z', pages: ['map'], themes: [RED] }], { readOnly: true });
});
afterAll(() => report.close());

test.each([
  // published: matrices of Viénot, Brettel, Mollon 1999 and Brettel, Viénot, Mollon 1997 in linear light; red #ff0000 worked out by hand:
  // protan .11238, .11238, .00401; deutan .29275, .29275, 0 (clamped); tritan, above its plane, 1.01277 → 1, 0 (clamped), .07589.
  ['protan', [94, 94, 13]],
  ['deutan', [147, 147, 0]],
  ['tritan', [255, 0, 78]],
  ['none', [255, 0, 0]],
] as const)('red seen with %s', async (vision, wanted) => {
  const { page } = await openPage(report.browser, `${report.server.url}/#/page?page=map&marks=off&zoom=1&vision=${vision}`);
  await page.locator('.picture img').waitFor();
  await page.locator('.picture img').evaluate(async (image) => (image instanceof HTMLImageElement ? image.decode() : undefined));
  const box = await page.locator('.picture').boundingBox();
  // Left of the first card there is only ground.
  const clip = { x: (box?.x ?? 0) + 8, y: (box?.y ?? 0) + 200, width: 4, height: 4 };
  const { data } = PNG.sync.read(await page.screenshot({ clip }));
  // Filters work on 8 bits a channel in linear light, where the darkest codes are far apart: 3 codes.
  [0, 1, 2].forEach((channel) => {
    expect(Math.abs((data[channel] ?? 0) - (wanted[channel] ?? 0))).toBeLessThanOrEqual(3);
  });
  await page.context().close();
});
