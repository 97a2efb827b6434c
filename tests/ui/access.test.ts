// What can be checked of WCAG 2.2 AA on the report's own pages: landmarks, names, keyboard, zoom, motion, contrast in every look.
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Page } from 'playwright';
import { opaque } from '../../src/colour/color.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { NIGHTS, openPage, openReport } from './report.ts';
import type { Report } from './report.ts';

const SCREENS = [
  '#/tonight',
  '#/page?page=tide-table',
  '#/queue',
  '#/findings',
  '#/causes',
  '#/token?token=mark.faint',
  '#/ramps',
  '#/changes',
  '#/launch',
  '#/owners',
  '#/history',
  '#/api',
] as const;

const LOOKS = ['light', 'dark', 'contrast'] as const;

let report: Report;
beforeAll(async () => {
  report = await openReport(NIGHTS, { readOnly: true });
});
afterAll(() => report.close());

async function open(hash: string, options: Parameters<typeof openPage>[2] = {}): Promise<Page> {
  const { page } = await openPage(report.browser, `${report.server.url}/${hash}`, options);
  await page.locator('main h1').first().waitFor();
  await page.waitForLoadState('networkidle');
  return page;
}

describe.each(SCREENS)('%s', (hash) => {
  let page: Page;
  beforeAll(async () => {
    // Colours are read right after they change.
    page = await open(hash, { reducedMotion: true });
  });
  afterAll(() => page.context().close());

  test('has its landmarks, one first heading, a title of its own, and a name on everything that can be used', async () => {
    expect(await page.locator('header, nav, main').count()).toBeGreaterThanOrEqual(3);
    expect(await page.getByRole('main').count()).toBe(1);
    expect(await page.getByRole('heading', { level: 1 }).count()).toBe(1);
    expect(await page.title()).toMatch(/ · gloam$/);
    expect(await page.locator('html').getAttribute('lang')).toBe('en');
    const unnamed = await page.locator('a, button, input, select, textarea, [tabindex="0"]').evaluateAll((elements) =>
      elements
        .filter((element) => {
          const labels = 'labels' in element && element.labels instanceof NodeList ? [...element.labels] : [];
          const named = element.getAttribute('aria-label') ?? element.getAttribute('aria-labelledby') ?? '';
          const text = [element, ...labels].map((node) => node.textContent ?? '').join('');
          return (named + text).trim() === '';
        })
        .map((element) => element.outerHTML.slice(0, 120)),
    );
    expect(unnamed).toEqual([]);
    expect(await page.locator('img:not([alt])').count()).toBe(0);
    const ids = await page.locator('[id]').evaluateAll((elements) => elements.map(({ id }) => id));
    expect(ids.length).toBe(new Set(ids).size);
  });

  test('can be gone through by Tab, each stop visible, and no stop holds', async () => {
    const stops: string[] = [];
    for (let n = 0; n < 80; n += 1) {
      await page.keyboard.press('Tab');
      const stop = await page.evaluate(() => {
        const element = document.activeElement;
        if (element === null || element === document.body) return null;
        const box = element.getBoundingClientRect();
        const style = getComputedStyle(element);
        // A radio of a rail shows its focus on the option around it.
        const ringed = style.outlineStyle !== 'none' || element.closest('.rail-item') !== null;
        return {
          name: `${element.tagName} ${element.id} ${element.textContent.slice(0, 20)}`,
          seen: box.width > 0 && box.height > 0,
          ringed,
        };
      });
      if (stop === null) break;
      expect(stop, stop.name).toMatchObject({ seen: true, ringed: true });
      if (stops.length > 0 && stop.name === stops[0]) break;
      stops.push(stop.name);
    }
    expect(stops[0]).toContain('Skip to content');
    expect(new Set(stops).size).toBeGreaterThan(7);
  });

  test.each(LOOKS)('keeps every text above its contrast threshold in the look %s', async (look) => {
    await page.evaluate((chosen) => {
      document.documentElement.dataset['look'] = chosen;
    }, look);
    const texts = await page.evaluate(paintedTexts);
    expect(texts.length).toBeGreaterThan(10);
    const failures = texts.flatMap(({ ink, background, large, text }) => {
      const ratio = contrastRatio({ ink: opaque(parseColor(ink)), background: opaque(parseColor(background)) });
      // published: WCAG 2.2, 1.4.3
      return ratio < (large ? 3 : 4.5) ? [`${text}: ${ink} on ${background} ${ratio.toFixed(2)}`] : [];
    });
    expect(failures).toEqual([]);
  });

  // published: WCAG 2.2, 1.4.10 Reflow asks for no scrolling in two directions at 320 CSS px; tables and pictures are excepted there,
  // and scroll inside their own boxes here. 640 px is what 200 % zoom leaves of 1280.
  test.each([640, 320])('does not scroll sideways at %i px', async (width) => {
    await page.setViewportSize({ width, height: 800 });
    await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  });
});

/** Runs in the page: every visible text with its computed ink and the nearest opaque background behind it. */
function paintedTexts(): { ink: string; background: string; large: boolean; text: string }[] {
  const texts: { ink: string; background: string; large: boolean; text: string }[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    const element = node.parentElement;
    const text = node.textContent?.trim() ?? '';
    if (
      element === null ||
      text === '' ||
      element.closest('script, style, noscript, .unseen, .ramp-strip, .pair, .specimen, svg, option') !== null
    )
      continue;
    if (!element.checkVisibility() || element.closest('button:disabled') !== null) continue;
    const style = getComputedStyle(element);
    let behind: Element | null = element;
    while (behind !== null && /rgba\(.*, 0\)$/.test(getComputedStyle(behind).backgroundColor)) behind = behind.parentElement;
    const size = parseFloat(style.fontSize);
    texts.push({
      ink: style.color,
      background: behind === null ? 'rgb(255, 255, 255)' : getComputedStyle(behind).backgroundColor,
      large: size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700),
      text: text.slice(0, 30),
    });
  }
  return texts;
}

test('on a phone the launch criteria stack: nothing is cut off or scrolls, and they are still a table', async () => {
  const page = await open('#/launch', { width: 390, height: 800 });
  const table = page.getByRole('table', { name: 'Open criteria' });
  await expect.poll(() => table.count()).toBe(1);
  expect(await table.getByRole('columnheader').allTextContents()).toEqual(['Criterion', 'Needed', 'Found']);
  expect(await table.getByRole('rowheader').count()).toBeGreaterThan(0);
  const values = await table.getByRole('cell').evaluateAll((cells) =>
    cells
      .filter((cell) => cell.checkVisibility())
      .map((cell) => {
        const { left, right } = cell.getBoundingClientRect();
        return { name: getComputedStyle(cell, '::before').content, inside: left >= 0 && right <= innerWidth };
      }),
  );
  expect(values.length).toBeGreaterThan(1);
  expect(values.filter(({ inside }) => !inside)).toEqual([]);
  expect(values.map(({ name }) => name).slice(0, 2)).toEqual(['"Needed"', '"Found"']);
  const part = page.getByRole('group', { name: 'Open criteria' });
  expect(await part.evaluate((element) => element.scrollWidth - element.clientWidth)).toBe(0);
  await page.context().close();
});

test('without a choice the look follows the system, and a choice lasts', async () => {
  const page = await open('#/tonight');
  const ground = (): Promise<string> => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
  const light = await ground();
  await page.emulateMedia({ colorScheme: 'dark' });
  const dark = await ground();
  await page.emulateMedia({ colorScheme: 'dark', contrast: 'more' });
  const strong = opaque(parseColor(await ground()));
  // published: WCAG 2.2: black and white have 21:1
  expect(contrastRatio({ ink: opaque(parseColor('#ffffff')), background: strong })).toBeCloseTo(21, 2);
  expect(dark).not.toBe(light);
  await page.getByLabel('Look').selectOption('Light');
  expect(await ground()).toBe(light);
  await page.reload();
  await page.locator('main h1').waitFor();
  expect(await ground()).toBe(light);
  await page.context().close();
});

test('who asks for less motion gets none: no transitions, and nothing blinks by itself', async () => {
  const page = await open('#/tonight', { reducedMotion: true });
  const moving = await page.evaluate(
    () =>
      [...document.querySelectorAll('*')].filter((element) => parseFloat(getComputedStyle(element).transitionDuration) > 0).length,
  );
  expect(moving).toBe(0);
  await page.context().close();
});

test('in forced colours the chosen way and the freshness stay visible', async () => {
  const page = await open('#/tonight');
  await page.emulateMedia({ forcedColors: 'active' });
  // Colours may be on their way from the page's own to the system's.
  const signOf = (which: string): Promise<readonly string[]> =>
    page
      .locator(which)
      .first()
      .evaluate((way) => {
        const { content, backgroundColor } = getComputedStyle(way, '::after');
        return [content, backgroundColor, getComputedStyle(document.body).backgroundColor];
      });
  await expect
    .poll(async () => {
      const [content, color, ground] = await signOf('.ways a[aria-current]');
      return content !== 'none' && color !== ground;
    })
    .toBe(true);
  expect((await signOf('.ways a:not([aria-current])'))[0]).toBe('none');
  const fresh = await page
    .locator('.status-new')
    .first()
    .evaluate((mark) => [getComputedStyle(mark).color, getComputedStyle(mark).backgroundColor]);
  expect(fresh[0]).not.toBe(fresh[1]);
  await page.context().close();
});
