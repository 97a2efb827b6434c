// A browser that paints its viewport alone: its first picture of what lies beyond changes what generic families are, and no page notices.
import { expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { sandboxFlags } from '../../../runner/browser/launch-browser.ts';
import { chromium } from '../../../runner/browser/playwright.ts';
import { openChromiumPage } from '../../../runner/driver/chromium/chromium-page.ts';

const FAMILIES = ['no-such-family', 'serif', 'sans-serif', 'monospace', 'cursive', 'fantasy', 'system-ui', 'math'];
const PAGE = `<!doctype html><body style="margin: 0; height: 3000px">${FAMILIES.map((family) => `<span style="font: 40px ${family}">Level 2.4 m</span><br>`).join('')}`;

test('text is as wide after the picture as before', async () => {
  const { path } = await findBrowser(process.env);
  // Without the setting that has it paint more.
  const browser = await chromium.launch({
    ...(path === undefined ? {} : { executablePath: path }),
    args: [...sandboxFlags()],
    chromiumSandbox: sandboxFlags().length === 0,
  });
  try {
    const context = await browser.newContext({ viewport: { width: 800, height: 600 } });
    const page = await context.newPage();
    const driver = await openChromiumPage(context, page, { isNew: true });
    expect(await driver.paintAtLeast(800, 3000)).toBe(false);
    await page.setContent(PAGE);
    const widths = (): Promise<readonly number[]> =>
      page.evaluate(() => [...document.querySelectorAll('span')].map((line) => line.getBoundingClientRect().width));
    const before = await widths();
    await driver.picture([0, 1200, 200, 100], false);
    expect(await widths()).toEqual(before);
  } finally {
    await browser.close();
  }
});
