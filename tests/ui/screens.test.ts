// Each screen's main path in a real browser, on a drawn store whose every rectangle and colour is known.
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { Page } from 'playwright';
import { THEMES, drawing } from '../../bench/drawn-store.ts';
import { NIGHTS, YESTERDAY, openPage, openReport } from './report.ts';
import type { Report } from './report.ts';

let report: Report;
beforeAll(async () => {
  report = await openReport(NIGHTS);
});
afterAll(() => report.close());

let watched: (readonly string[])[] = [];
afterEach(() => {
  const complaints = watched.flat();
  watched = [];
  expect(complaints).toEqual([]);
});

async function open(hash: string): Promise<Page> {
  const { page, complaints } = await openPage(report.browser, `${report.server.url}/${hash}`);
  watched.push(complaints);
  return page;
}

const DUSK = THEMES.findIndex(({ name }) => name === 'dusk');
const TIDE_TABLE = drawing(1);

describe('tonight', () => {
  test('says what changed, the causes of it first, and leads to them', async () => {
    const page = await open('#/tonight');
    const lead = page.locator('.lead');
    await lead.waitFor();
    // derived in answers.test.ts: 42 side notes of dusk; the map in flip failed
    expect(await lead.textContent()).toBe(
      '42 findings are new, 0 gone. 1 cause explains 42 of the new ones. 1 view could not be captured.',
    );
    expect(await page.locator('.cause-line').first().textContent()).toContain('42 new');
    expect(await page.locator('.failed-lines').textContent()).toContain('map · flip · rest · desk');
    await page.locator('.cause-line').first().click();
    await page.locator('.cause-sheet').waitFor();
    await page.close();
  });

  test('the grid is found by name and ordered by what is new', async () => {
    const page = await open('#/tonight');
    await page.getByRole('searchbox', { name: 'Find' }).fill('tide');
    await expect.poll(() => page.locator('.grid-page').count()).toBe(1);
    await page.getByRole('searchbox', { name: 'Find' }).fill('');
    await page.getByLabel('Order').selectOption('most findings first');
    await expect.poll(() => page.locator('.grid-page a').first().textContent()).toBe('map');
    await page.close();
  });

  test('keyboard alone: one tab stop, arrows from cell to cell, Enter opens the page', async () => {
    const page = await open('#/tonight');
    await page.locator('.grid-page a').first().waitFor();
    await page.locator('.grid-page a').first().focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toContain('tide-table, dusk:');
    expect(await page.locator('.grid [tabindex="0"]').count()).toBe(1);
    await page.keyboard.press('Enter');
    await page.locator('h1').filter({ hasText: 'tide-table' }).waitFor();
    await page.close();
  });
});

describe('a page', () => {
  const address = '#/page?page=tide-table';

  test('shows every theme with its picture and marks at the right places', async () => {
    const page = await open(`${address}&zoom=0.5`);
    await page.locator('.mark').first().waitFor();
    expect(await page.locator('.pane h2').allTextContents()).toEqual(THEMES.map(({ name }) => name));
    const texts = TIDE_TABLE.texts.filter(({ ink, key }) => ink === 'faint' || key === 'header>h1');
    const pane = page.locator('.pane').nth(DUSK);
    const picture = await pane.locator('.picture').boundingBox();
    const marks = await pane.locator('.mark').evaluateAll((groups) =>
      groups.map(
        (group) =>
          group.querySelector('.mark-line')?.getBoundingClientRect().toJSON() as {
            x: number;
            y: number;
            width: number;
            height: number;
          },
      ),
    );
    expect(marks.length).toBe(texts.length);
    for (const { rect } of texts) {
      // The outline lies 3 px outside its place (marks.tsx), here at half size; half a px for the stroke's own box.
      const wanted = { x: rect[0] / 2 - 3, y: rect[1] / 2 - 3, width: rect[2] / 2 + 6, height: rect[3] / 2 + 6 };
      const hit = marks.find(
        (mark) =>
          Math.abs(mark.x - (picture?.x ?? 0) - wanted.x) < 1 &&
          Math.abs(mark.y - (picture?.y ?? 0) - wanted.y) < 1 &&
          Math.abs(mark.width - wanted.width) < 1.5 &&
          Math.abs(mark.height - wanted.height) < 1.5,
      );
      expect(hit, JSON.stringify({ rect, marks })).toBeDefined();
    }
    await page.close();
  });

  test('a click on a mark shows the sample, the ratio, what is needed, the chain, cause and repair', async () => {
    const page = await open(`${address}&zoom=1`);
    const mark = page.locator('.pane').nth(DUSK).locator('.mark').last();
    await mark.locator('.mark-plate').click();
    const detail = page.locator('.detail');
    await detail.locator('.specimen').waitFor();
    await detail.locator('.chain').waitFor();
    const text = (await detail.textContent()) ?? '';
    // derived: #56717c on #18262e has 2.9876:1, cut to two digits
    for (const part of [
      '2.98:1',
      '4.50:1',
      '#56717c',
      '#18262e',
      '--mark-faint',
      'silt.500',
      'Point the token elsewhere',
      'silt.300',
      'Mends',
      'web team',
      'dusk',
    ])
      expect(text).toContain(part);
    expect(await detail.locator('.specimen').evaluate((element) => getComputedStyle(element).color)).toBe('rgb(86, 113, 124)');
    expect(page.url()).toMatch(/finding=[0-9a-f]+/);
    await page.close();
  });

  test('its address opens the same finding again', async () => {
    const page = await open(address);
    await page.locator('.mark-plate').first().click();
    await page.locator('.detail').waitFor();
    const again = await open(page.url().slice(page.url().indexOf('#')));
    await again.locator('.detail-message').waitFor();
    expect(await again.locator('.detail-message').textContent()).toBe(await page.locator('.detail-message').textContent());
    await again.close();
    await page.close();
  });

  test('keyboard alone goes through all findings, and the picture follows', async () => {
    const page = await open(`${address}&zoom=1`);
    const list = page.getByRole('listbox', { name: 'Findings of this page' });
    await list.getByRole('option').first().waitFor();
    await list.focus();
    const total = Number(await list.getByRole('option').first().getAttribute('aria-setsize'));
    const seen = new Set<string>();
    for (let n = 0; n < total; n += 1) {
      await page.keyboard.press('ArrowDown');
      await expect.poll(() => page.locator('.list-row.chosen').getAttribute('aria-posinset')).toBe(String(n + 1));
      seen.add(new URL(page.url()).hash.replace(/.*finding=/, ''));
    }
    expect(seen.size).toBe(total);
    const box = await page.locator('.mark-chosen .mark-line').boundingBox();
    const pane = await page.locator('.pane-chosen .pane-body').boundingBox();
    expect(box !== null && pane !== null && box.y > pane.y && box.y + box.height < pane.y + pane.height).toBe(true);
    await page.close();
  });

  test('scrolling one theme scrolls the others to the same place', async () => {
    const page = await open(`${address}&zoom=2`);
    await page.locator('.pane-body img').first().waitFor();
    await page
      .locator('.pane-body')
      .nth(1)
      .evaluate((pane) => {
        pane.scrollTo({ top: 700, left: 300 });
      });
    await expect
      .poll(() =>
        page
          .locator('.pane-body')
          .evaluateAll((panes) => panes.map((pane) => `${String(pane.scrollTop)} ${String(pane.scrollLeft)}`)),
      )
      .toEqual(THEMES.map(() => '700 300'));
    await page.close();
  });

  test('the loupe reads exact colours, in every theme at the same place', async () => {
    const page = await open(`${address}&zoom=0.5&loupe=on`);
    const note = TIDE_TABLE.texts.find(({ key }) => key === 'card0>small');
    const [x = 0, y = 0, , height = 0] = note?.rect ?? [];
    await page.locator('.pane .picture img').first().waitFor();
    await page
      .locator('.pane .picture')
      .first()
      .hover({ position: { x: x / 2 + 2, y: y / 2 + height / 4 } });
    // The first letters of a drawn note are its ink.
    await expect.poll(() => page.locator('.loupe code').allTextContents()).toEqual(THEMES.map(({ faint }) => faint));
    // One device px a press, by the arrow keys: up and out of the note, onto the card.
    await page.locator('.pane-body').first().focus();
    for (let n = 0; n < 10; n += 1) await page.keyboard.press('ArrowUp');
    await expect.poll(() => page.locator('.loupe code').allTextContents()).toEqual(THEMES.map(({ card }) => card));
    await page.close();
  });

  test('filters narrow the list and the marks', async () => {
    const page = await open(address);
    await page.getByLabel('Status').selectOption('new');
    await expect.poll(() => page.locator('.list-title').textContent()).toBe('9 of 19 findings');
    expect(await page.locator('.mark').count()).toBe(9);
    await page.getByLabel('Marks').uncheck();
    await expect.poll(() => page.locator('.mark').count()).toBe(0);
    await page.close();
  });

  test('a view that failed says why in place of its picture', async () => {
    const page = await open('#/page?page=map');
    expect(await page.locator('.pane-missing').textContent()).toContain('did not settle within 30 s');
    await page.close();
  });
});

describe('causes', () => {
  test('are ranked, filtered, and show their places as crops that lead to the page', async () => {
    const page = await open('#/causes');
    await page.locator('.crops img').first().waitFor();
    expect(await page.locator('.cause-name b').allTextContents()).toHaveLength(2);
    await page.getByLabel('Theme').selectOption('regatta');
    await expect.poll(() => page.locator('.cause-name b').allTextContents()).toEqual(['mark.faint']);
    await page.locator('.crops a').first().click();
    await page.locator('.detail').waitFor();
    await page.close();
  });
});

describe('launch', () => {
  test('says per theme what is missing and where to go, on one printable page', async () => {
    const page = await open('#/launch');
    await page.getByText('dusk: 1 open').click();
    expect(await page.locator('.verdict').textContent()).toMatch(/dusk may not launch yet: 1 of \d criteria is open/);
    expect(await page.locator('.unmet').count()).toBe(1);
    await page.getByText('stark: may launch').click();
    await expect.poll(() => page.locator('.verdict').textContent()).toContain('stark may launch');
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.bar').isVisible()).toBe(false);
    const pdf = await page.pdf({ format: 'A4', margin: { top: '12mm', bottom: '12mm', left: '12mm', right: '12mm' } });
    expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    await page.close();
  });
});

describe('history', () => {
  test('plots the nights, with the same numbers as a table, and compares two runs', async () => {
    const page = await open('#/history');
    await page.locator('.plot-place svg circle').first().waitFor();
    await page.getByText('as a table').click();
    expect(await page.locator('details table tbody tr').count()).toBe(3);
    expect(await page.locator('.lead').textContent()).toBe('42 findings appeared, 0 went.');
    await page.getByText('by theme').click();
    await expect.poll(() => page.locator('.series').textContent()).toContain('regatta');
    await page.close();
  });
});

describe('the API document', () => {
  test('can be read in the page', async () => {
    const page = await open('#/api');
    await page.locator('.api h2').first().waitFor();
    expect(await page.locator('.api').textContent()).toContain('/api/runs/{run}/findings');
    await page.close();
  });
});

describe('addresses', () => {
  test('of what is chosen carry their run; what a run does not have is said, and nothing else is shown in its place', async () => {
    const page = await open('#/causes');
    await page.locator('.cause-list a').first().click();
    await expect.poll(() => page.url()).toContain(`run=${report.runs[2] ?? ''}`);
    await page.goto(`${report.server.url}/#/causes?cause=mended-long-ago`);
    await page.getByText('This run has no such cause.').waitFor();
    expect(await page.locator('.cause-sheet').count()).toBe(0);
    await page.goto(`${report.server.url}/#/changes?group=of-another-run`);
    await page.getByText('No group of-another-run').waitFor();
    expect(await page.getByRole('button', { name: 'Accept this picture' }).isDisabled()).toBe(true);
    expect(await page.getByRole('button', { name: /Accept the group/ }).isDisabled()).toBe(true);
    await page.goto(`${report.server.url}/#/page?page=tide-table&finding=0123`);
    await page.getByText('This run has no finding 0123 here').waitFor();
    await page.goto(`${report.server.url}/#/slack-water`);
    await page.getByRole('heading', { name: 'No such screen' }).waitFor();
    await page.close();
  });

  test('Back from a chosen finding returns to its page, and closing it returns to the list', async () => {
    const page = await open('#/tonight');
    await page.locator('.grid-page a', { hasText: 'tide-table' }).click();
    const list = page.getByRole('listbox', { name: 'Findings of this page' });
    await list.getByRole('option').first().click();
    await page.locator('.detail').waitFor();
    await list.getByRole('option').nth(1).click();
    await page.goBack();
    await expect.poll(() => page.locator('.detail').count()).toBe(0);
    expect(await page.locator('h1').textContent()).toBe('tide-table');
    await list.getByRole('option').first().click();
    await page.getByRole('button', { name: 'Close' }).click();
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('listbox');
    await page.close();
  });
});

describe('what was not looked at', () => {
  test('is said above every screen and on the page itself', async () => {
    const page = await open('#/launch');
    // derived: 4 pages × 5 themes, of which the map in flip failed
    await page.getByText('1 of 20 views was not looked at').waitFor();
    await page.goto(`${report.server.url}/#/page?page=map&theme=flip`);
    await page.getByText('Not looked at: flip.').waitFor();
    expect(await page.getByText('Nothing was found here').count()).toBe(0);
    await page.close();
  });
});

describe('without the server', () => {
  test('a screen says that nothing answers, and asks again on request', async () => {
    const page = await open('#/tonight');
    await page.locator('.lead').waitFor();
    await page.route('**/api/history', (route) => route.abort());
    await page.goto(`${report.server.url}/#/history`);
    await page.getByText('The report server does not answer.').waitFor();
    await page.unroute('**/api/history');
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.locator('.plot-place svg').waitFor();
    // The browser's own complaint about the cut request.
    watched = [watched.flat().filter((text) => !text.includes('ERR_FAILED'))];
    await page.close();
  });
});

describe('on paper', () => {
  test('every look prints light, with the names of what the sheet speaks of', async () => {
    const { page, complaints } = await openPage(report.browser, `${report.server.url}/#/launch?theme=dusk`, { look: 'dark' });
    watched.push(complaints);
    await page.locator('.sheet').waitFor();
    await page.emulateMedia({ media: 'print' });
    // derived: ink on paper, lighter ground than ink
    const [ground, ink] = await page.evaluate(() => {
      const lightness = (color: string): number => Number(/oklch\(([\d.]+)/.exec(color)?.[1]);
      return [
        lightness(getComputedStyle(document.documentElement).backgroundColor),
        lightness(getComputedStyle(document.documentElement).color),
      ] as const;
    });
    expect(ground).toBeGreaterThan(0.9);
    expect(ink).toBeLessThan(0.4);
    expect(await page.locator('.sheet-step a').first().isVisible()).toBe(true);
    expect(await page.locator('.sheet').textContent()).toContain('mark.faint');
    await page.context().close();
  });
});

describe('another run', () => {
  test('is chosen in the bar and stays in the address', async () => {
    const page = await open('#/tonight');
    const first = report.runs[0] ?? '';
    await page.getByLabel('Run').selectOption(first);
    await expect.poll(() => page.url()).toContain(`run=${first}`);
    await expect.poll(() => page.locator('.lead').textContent()).toContain('This is the first run');
    await page.close();
  });
});

test('what was accepted yesterday differs tonight: looked at, accepted with a note, taken back', async () => {
  const { openLedger } = await import('../../src/ledger/ledger.ts');
  {
    await using ledger = await openLedger(report.folder, { access: 'edit' });
    await ledger.accept(report.runs[1] ?? '', {
      set: 'main',
      who: 'ada',
      note: 'first set',
      at: '2026-11-23T09:00:00Z',
      views: 'all',
    });
  }
  const page = await open('#/changes');
  // derived: only dusk was drawn otherwise the night before, on four pages
  expect(YESTERDAY.filter((theme, index) => theme !== THEMES[index]).length).toBe(1);
  await expect.poll(() => page.locator('.head-note').textContent()).toContain('4 pictures differ');
  for (const way of ['curtain', 'blink', 'remainder', 'side by side']) {
    await page.locator('.rail-item', { hasText: way }).click();
    await page.locator('.framed-picture img').first().waitFor();
  }
  await page.getByLabel('Note').fill('the notes are meant to be fainter');
  await page.locator('.viewer img').first().waitFor();
  const clicked = await page.getByRole('button', { name: 'Accept this picture' }).boundingBox();
  await page.getByRole('button', { name: 'Accept this picture' }).click();
  await expect.poll(() => page.locator('.head-note').textContent()).toContain('3 pictures differ');
  const note = page.getByLabel('Note');
  // What is said has a place of its own: the button that was clicked lies where it lay, and the note is still there.
  expect(await page.getByRole('button', { name: 'Accept this picture' }).boundingBox()).toEqual(clicked);
  expect(await note.inputValue()).toBe('the notes are meant to be fainter');
  // A group is asked about first, with its number; leaving it leaves all as it is.
  await page.getByRole('button', { name: /Accept the group/ }).click();
  await page.getByRole('dialog', { name: 'Accept 3 pictures of the group' }).waitFor();
  await page.getByRole('button', { name: 'Leave it' }).click();
  expect(await page.locator('.head-note').textContent()).toContain('3 pictures differ');
  await page.getByRole('button', { name: /Accept the group/ }).click();
  await page.getByRole('button', { name: 'Accept 3 pictures' }).click();
  await page.getByText('Every picture is as it was accepted.').waitFor();
  expect(await page.getByRole('form', { name: 'Accept' }).getByRole('status').textContent()).toContain('3 pictures accepted.');
  await page.getByRole('button', { name: 'Take that back' }).click();
  await expect.poll(() => page.locator('.head-note').textContent()).toContain('3 pictures differ');
  await page.getByRole('button', { name: /Accept all/ }).click();
  await page.getByRole('button', { name: 'Accept 3 pictures' }).click();
  await page.getByText('Every picture is as it was accepted.').waitFor();
  expect(await page.locator('table').textContent()).toContain('the notes are meant to be fainter');
  await page
    .getByRole('button', { name: /Take back/ })
    .first()
    .click();
  await expect.poll(() => page.locator('.head-note').textContent()).toContain('3 pictures differ');
  await page.close();
});
