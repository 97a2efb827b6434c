// No app that shows something else than what it is asked for may pass run and gate; what only looks like one must. Each row is an app of a
// page or three with its configuration, and goes through the real parts in one process (judge-app.ts).
import type { Browser } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import { DONE, NOT_DONE } from './done.table.ts';
import { judgeApp } from './judge-app.ts';
import { OTHER_PAGES, SAME_PAGES } from './pages.table.ts';
import { IDLE_THEMES, WORKING_THEMES } from './themes.table.ts';

let browser: Browser;
beforeAll(async () => {
  browser = await launchBrowser(await findBrowser(process.env));
});
afterAll(() => browser.close());

describe.concurrent.each([
  ['the page asked for', OTHER_PAGES],
  ['the theme asked for', IDLE_THEMES],
  ['a page that is done, among others', NOT_DONE],
])('%s: does not pass', (_part, apps) => {
  test.each(apps.map((app) => [app.says, app] as const))('%s', async (_says, app) => {
    const { passes, said } = await judgeApp(browser, app);
    expect(said).toMatch(app.no);
    expect(passes).toBe(false);
  });
});

describe.concurrent.each([
  ['the page asked for', SAME_PAGES],
  ['the theme asked for', WORKING_THEMES],
  ['a page that is done, among others', DONE],
])('%s: passes', (_part, apps) => {
  test.each(apps.map((app) => [app.says, app] as const))('%s', async (_says, app) => {
    const { passes, said } = await judgeApp(browser, app);
    expect(said).toBe('');
    expect(passes).toBe(true);
  });
});

test('the tables hold at least sixty apps that must not pass', () => {
  expect(OTHER_PAGES.length + IDLE_THEMES.length + NOT_DONE.length).toBeGreaterThanOrEqual(60);
});
