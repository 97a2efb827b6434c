// gloam forecast as a process: what other token files would do, held against the page itself.
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../runner/browser/launch-browser.ts';
import { folderWith, gloam, start } from './gloam.ts';

const token = (hex: string): object => ({
  $value: {
    colorSpace: 'srgb',
    components: [1, 3, 5].map((at) => Number((Number.parseInt(hex.slice(at, at + 2), 16) / 255).toFixed(4))),
    hex,
  },
});
const tokens = (ink: string, page: string, card: string): string =>
  JSON.stringify({ $type: 'color', ink: token(ink), page: token(page), card: token(card) });

const css = `
  :root { --ink: #333333; --page: #ffffff; --card: #f0f0f0 }
  .dusk { --ink: #e0e0e0; --page: #101010; --card: #202020 }
  html { background: var(--page); color: var(--ink) } #card { background: var(--card); padding: 40px; margin: 40px }`;

let folder = '';
beforeAll(async () => {
  folder = folderWith({
    'site/index.html': `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Quay</title><style>${css}</style></head>
      <body><h1>Quay</h1><div id="card"><p id="level">Low water at noon</p></div></body></html>`,
    'tokens/day.tokens.json': tokens('#333333', '#ffffff', '#f0f0f0'),
    'tokens/dusk.tokens.json': tokens('#e0e0e0', '#101010', '#202020'),
    'tokens/quay.tokens.json': JSON.stringify({ quay: { $type: 'color', 100: token('#e0e0e0'), 300: token('#a0a0a0') } }),
    'thought/day.tokens.json': tokens('#888888', '#ffffff', '#f0f0f0'),
    'thought/gale.tokens.json': tokens('#505050', '#101010', '#202020'),
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
      tokens: { base: ['tokens/day.tokens.json', 'tokens/quay.tokens.json'], themes: { dusk: ['tokens/dusk.tokens.json'] } },
      ramps: ['quay.*'],
      gate: { '*': { 'text-contrast': 0 } },
    }),
  });
  expect((await gloam(folder, 'run')).code).toBe(0);
});

interface Report {
  readonly id: string;
  readonly of: string;
  readonly new: readonly { readonly check: string; readonly theme: string; readonly selector: string }[];
  readonly known: number;
  readonly gone: readonly unknown[];
  readonly tried?: { readonly shares: { readonly verdicts: number; readonly findings: number }; readonly views: number };
}

async function forecast(...args: readonly string[]): Promise<{ readonly code: number | null; readonly report: Report }> {
  const { code, stdout } = await gloam(folder, 'forecast', '--json', ...args);
  return { code, report: JSON.parse(stdout) as Report };
}

describe('gloam forecast', () => {
  test('finds what a run finds with these values, is no base for the next run, and the gate can judge it', async () => {
    const { code, report } = await forecast('--tokens', 'thought/day.tokens.json', '--try', '--fail-on', 'error');
    expect(code).toBe(1);
    // derived: #888888 on #f0f0f0 is 3.10:1, on white 3.54:1 (WCAG 2.2); dusk has values of its own
    const inNoon = report.new.filter(({ check }) => check === 'text-contrast').map(({ theme, selector }) => `${theme} ${selector}`);
    expect(inNoon).toEqual(['noon #level']);
    expect(report.tried).toMatchObject({ shares: { verdicts: 1, findings: 1 } });

    const gate = await gloam(folder, 'gate', '--forecast', report.id, '--theme', 'noon');
    expect(gate.code).toBe(1);
    expect(gate.stdout).toContain('noon would not launch yet');
    expect(gate.stdout).toContain('Foretold from the samples of another run');
    expect((await gloam(folder, 'gate', '--run', report.id)).stderr).toContain(
      'found a forecast; expected a run that was rendered',
    );
    expect((await gloam(folder, 'gate', '--theme', 'noon')).stdout).toContain('noon may launch');
    expect((await gloam(folder, 'runs')).stdout).toContain(`(forecast of ${report.of})`);
    expect((await gloam(folder, 'doctor')).code).toBe(0);
  });

  test('a theme that no page has yet is held against the one it is like', async () => {
    const { code, report } = await forecast('--tokens', 'thought/gale.tokens.json', '--as', 'gale', '--like', 'dusk');
    expect(code).toBe(0);
    // derived: #505050 on #101010 is 2.36:1, on #202020 2.01:1; the heading is large and below 3 too
    const fresh = report.new.filter(({ check }) => check === 'text-contrast').map(({ theme, selector }) => `${theme} ${selector}`);
    expect(fresh.toSorted()).toEqual(['gale #level', 'gale html > body > h1']);
    const gate = await gloam(folder, 'gate', '--forecast', report.id);
    expect(gate.stdout).toContain('gale would not launch yet');
  });

  test('without --tokens: the files as they are now, against what the pages served', async () => {
    const file = path.join(folder, 'tokens/day.tokens.json');
    const before = readFileSync(file, 'utf8');
    writeFileSync(file, tokens('#999999', '#ffffff', '#f0f0f0'));
    try {
      const { report } = await forecast();
      expect(report.new.filter(({ check }) => check === 'text-contrast').map(({ selector }) => selector)).toContain('#level');
    } finally {
      writeFileSync(file, before);
    }
  });

  test('the bench of the report: a step moved by keys, by hand and by typing says at once what it breaks', async () => {
    const server = start(folder, ['serve', '--port', '0']);
    const browser = await launchBrowser(await findBrowser(process.env));
    try {
      const [address = ''] = /http:\S+/.exec(await server.printed(/http:\S+/)) ?? [];
      const page = await browser.newPage();
      const faults: string[] = [];
      page.on('pageerror', (error) => faults.push(error.message));
      await page.goto(`${address}/#/bench?ramp=ink&theme=noon`);
      const summary = page.locator('.bench-summary > span').first();
      await expect.poll(() => summary.textContent()).toContain('nothing is changed');
      const point = page.getByRole('slider', { name: 'ink, Lightness' });
      await point.focus();
      const before = Number(await point.getAttribute('aria-valuenow'));
      await page.keyboard.press('PageUp');
      await expect.poll(async () => Number(await point.getAttribute('aria-valuenow'))).toBeGreaterThan(before + 4);
      // derived: #888888 on #f0f0f0 is 3.10:1 and needs 4.5; on white 3.54:1, which is enough for the heading
      const typed = page.getByLabel('Colour', { exact: true });
      await typed.fill('#888888');
      await page.keyboard.press('Enter');
      await expect.poll(() => summary.textContent()).toBe('Mends 0 findings, breaks 1 place, leaves 0 findings.');
      await expect.poll(() => page.locator('.bench-changes li').count()).toBe(1);
      // On the curve: dragged far down, ink is dark again and nothing breaks.
      const box = await point.boundingBox();
      if (box === null) throw new Error('the point has a place');
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width / 2, box.y + 400, { steps: 5 });
      await page.mouse.up();
      await expect.poll(() => summary.textContent()).toBe('Mends 0 findings, breaks 0 places, leaves 0 findings.');
      await page.getByRole('button', { name: 'Undo' }).click();
      await expect.poll(() => summary.textContent()).toContain('breaks 1 place');
      await page.getByRole('button', { name: 'Patch of the token files' }).click();
      await expect.poll(() => page.locator('.bench-taken').textContent()).toContain('+++ b/tokens/day.tokens.json');
      // Kept in the address.
      await page.reload();
      await expect.poll(() => summary.textContent()).toContain('breaks 1 place');
      expect(faults).toEqual([]);
    } finally {
      await browser.close();
      server.kill('SIGTERM');
      await server.ended;
    }
  });

  test('the bench adds steps, compares, shows pages that are not yet, and has the server solve, keep and try', async () => {
    const server = start(folder, ['serve', '--port', '0']);
    const closed = start(folder, ['serve', '--port', '0', '--read-only']);
    const browser = await launchBrowser(await findBrowser(process.env));
    const [site, away] = [path.join(folder, 'site'), path.join(folder, 'site-away')];
    try {
      const [address = ''] = /http:\S+/.exec(await server.printed(/http:\S+/)) ?? [];
      const page = await browser.newPage();
      const faults: string[] = [];
      page.on('pageerror', (error) => faults.push(error.message));
      const said = page.getByRole('region', { name: 'On the server' }).getByRole('status');
      const press = async (name: string): Promise<void> => {
        // By key alone.
        await page.getByRole('button', { name, exact: true }).focus();
        await page.keyboard.press('Enter');
      };
      await page.goto(`${address}/#/bench?ramp=quay&theme=noon&step=quay.100`);
      await press('Add it');
      // derived: a name half way between 100 and 300; the grey half way between #e0e0e0 (L* 89.2) and #a0a0a0 (L* 65.9) is L* 77.5, #c0c0c0
      await expect
        .poll(() => page.getByRole('button', { name: 'quay.200 in noon' }).getAttribute('aria-label'))
        .toMatch(/#(bf|c0|c1)/);
      await press('Patch of the token files');
      await expect.poll(() => page.locator('.bench-taken').textContent()).toMatch(/\+.*"200":/);

      await page.goto(`${address}/#/bench?ramp=ink&theme=noon&name=first`);
      const typed = page.getByLabel('Colour', { exact: true });
      await typed.fill('#888888');
      await page.keyboard.press('Enter');
      await press('Set aside to compare');
      await typed.fill('#a0a0a0');
      await page.keyboard.press('Enter');
      const compared = page.getByRole('region', { name: 'Compared' });
      // derived: #888888 breaks the small text (3.10:1 of 4.5), #a0a0a0 the large heading too (2.61:1 of 3)
      await expect.poll(() => compared.textContent()).toMatch(/noon.*2 breaks.*1 breaks/);
      await page.reload();
      await expect.poll(() => compared.textContent()).toContain('first');
      await press('Swap: work on first');
      await expect.poll(() => page.locator('.bench-changes').textContent()).toContain('#888888');

      // The place itself, cut out and recoloured: ink that was #333333 is #888888.
      const grey = (selector: string): Promise<number> => page.locator(selector).first().evaluate(countGrey);
      await expect.poll(() => grey('.bench-places canvas')).toBeGreaterThan(10);
      await page.getByRole('button', { name: 'See the whole page' }).first().click();
      await expect.poll(() => grey('.bench-page canvas')).toBeGreaterThan(10);
      await press('Render it on the app');
      await expect.poll(() => page.getByText('Rendered on the app').count(), { timeout: 90_000 }).toBe(1);
      expect(await grey('.bench-page img[alt*="rendered"]')).toBeGreaterThan(10);

      await press('Keep as a forecast');
      await expect.poll(() => said.textContent(), { timeout: 60_000 }).toMatch(/Kept as forecast .* 1 new/);
      await press('Try on the live pages');
      await expect
        .poll(() => said.textContent(), { timeout: 90_000 })
        .toMatch(/1 finding foretold and found, 0 only foretold, 0 only found/);
      await page.getByLabel('Pin it').check();
      await press('Solve: least change');
      await expect.poll(() => said.textContent(), { timeout: 60_000 }).toContain('Least change found');

      // Where the app is gone pages are recoloured all the same, and a try says why it is none.
      renameSync(site, away);
      await typed.fill('#777777');
      await page.keyboard.press('Enter');
      await press('Render it on the app');
      await expect
        .poll(() => page.locator('.bench-approximate').textContent(), { timeout: 60_000 })
        .toMatch(/^Recoloured from the stored picture.*is no folder/);
      await press('Try on the live pages');
      await expect.poll(() => said.textContent(), { timeout: 60_000 }).toMatch(/could not be done.*does not exist/s);

      // Where nothing may be changed nothing is begun, whoever asks.
      const [reading = ''] = /http:\S+/.exec(await closed.printed(/http:\S+/)) ?? [];
      await page.goto(`${reading}/#/bench?ramp=ink&theme=noon`);
      await expect.poll(() => page.getByRole('button', { name: 'Solve' }).isDisabled()).toBe(true);
      const body = JSON.stringify({ run: 'newest', kind: 'solve', changes: '', pins: [] });
      const headers = { 'content-type': 'application/json' };
      expect((await fetch(`${reading}/api/bench-begin`, { method: 'POST', headers, body })).status).toBe(403);
      expect((await fetch(`${reading}/api/runs/newest/bench-picture?view=x&changes=`)).status).toBe(403);
      expect(faults).toEqual([]);
    } finally {
      if (existsSync(away)) renameSync(away, site);
      await browser.close();
      for (const each of [server, closed]) {
        each.kill('SIGTERM');
        await each.ended;
      }
    }
  });

  test('says which file is wrong, where, and what was expected', async () => {
    mkdirSync(path.join(folder, 'wrong'), { recursive: true });
    writeFileSync(path.join(folder, 'wrong/day.tokens.json'), '{ "ink": { "$type": "color", "$value": "{nowhere}" } }');
    writeFileSync(path.join(folder, 'wrong/other.tokens.json'), tokens('#111111', '#ffffff', '#f0f0f0'));
    const say = async (...args: readonly string[]): Promise<string> => {
      const { code, stderr } = await gloam(folder, 'forecast', ...args);
      expect(code).toBe(2);
      return stderr;
    };
    expect(await say('--tokens', 'wrong/day.tokens.json')).toMatch(/day\.tokens\.json:1: ink: found .*nowhere/);
    expect(await say('--tokens', 'wrong/other.tokens.json')).toContain('found no configured token file that it could stand for');
    expect(await say('--tokens', 'missing.json')).toContain('missing.json: cannot be read');
    expect(await say('--like', 'dusk')).toContain('--like has no meaning without --as');
    expect(await say('--as', 'dusk')).toContain('has a theme of that name');
    expect(await say('--as', 'gale', '--like', 'dsk')).toContain('"dusk"?');
  });
});

/** Pixels of #888888 in a picture or canvas. In the page. */
function countGrey(element: Element): number {
  const canvas = document.createElement('canvas');
  const drawing = canvas.getContext('2d');
  if (drawing === null || !(element instanceof HTMLCanvasElement || element instanceof HTMLImageElement)) return -1;
  const isCanvas = element instanceof HTMLCanvasElement;
  canvas.width = isCanvas ? element.width : element.naturalWidth;
  canvas.height = isCanvas ? element.height : element.naturalHeight;
  if (canvas.width * canvas.height === 0) return 0;
  drawing.drawImage(element, 0, 0);
  const { data } = drawing.getImageData(0, 0, canvas.width, canvas.height);
  let count = 0;
  for (let at = 0; at < data.length; at += 4) if (data[at] === 0x88 && data[at + 1] === 0x88 && data[at + 2] === 0x88) count += 1;
  return count;
}
