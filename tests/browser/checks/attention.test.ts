// A dialog is judged against the page beneath its veil; what lies beneath is not judged, and nothing is compared with it.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { JudgedView } from '../../../src/checks/run-checks.ts';
import { runChecks } from '../../../src/checks/run-checks.ts';
import { cieLightness } from '../../../src/colour/lightness.ts';
import { opaque } from '../../../src/colour/color.ts';
import { parseColor } from '../../../src/colour/parse-color.ts';
import type { Finding } from '../../../src/samples/finding.ts';
import type { SurfaceSample } from '../../../src/samples/sample.ts';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { Harbour } from '../session/harness.ts';
import { captured, renderAll, serve } from '../session/harness.ts';

const theme = (name: string, tone: 'light' | 'dark'): Theme => ({
  name,
  tone,
  apply: { attributes: [{ on: 'html', name: 'data-theme', value: name }] },
  tokens: {},
});
const THEMES = [theme('noon', 'light'), theme('dusk', 'dark')];

const BASE = `:root{--page:#f5f7f9;--face:#ffffff;--ink:#1b2429}[data-theme=dusk]{--page:#121212;--face:#1e1e1e;--ink:#e0e0e0}
  body{margin:0;background:var(--page);color:var(--ink);font:16px/1.4 sans-serif} #veil{position:fixed;inset:0}
  #dialog{position:absolute;left:200px;top:150px;width:360px;height:200px;color:#111}`;
/** Faults of the page: a white panel that the theme did not reach, and pale text. */
const FAULTS =
  '<div id="panel" style="width:300px;height:90px;background:#fff;color:#111">Almanac</div><p id="pale" style="color:#777">Tide</p>';

const PAGES: Readonly<Record<string, readonly [css: string, body: string]>> = {
  white: ['#dialog{background:#fff}#veil{background:rgb(0 0 0/.5)}', `${FAULTS}<div id="veil"><div id="dialog">Berth</div></div>`],
  dense: ['#dialog{background:#fff}#veil{background:rgb(0 0 0/.9)}', `${FAULTS}<div id="veil"><div id="dialog">Berth</div></div>`],
  native: [
    'dialog{border:0;padding:40px;background:#fff;color:#111}dialog::backdrop{background:rgb(0 10 20/.6)}',
    `${FAULTS}<dialog id="dialog" style="position:fixed">Berth</dialog><script>document.getElementById('dialog').showModal()</script>`,
  ],
  themed: [
    '#dialog{background:var(--face);color:var(--ink)}#veil{background:rgb(0 0 0/.5)}',
    `${FAULTS}<div id="veil"><div id="dialog">Berth</div></div>`,
  ],
  beside: ['#dialog{background:#fff}', `${FAULTS}<div id="dialog" role="dialog">Berth</div>`],
};

let harbour: Harbour;
const found = new Map<string, readonly Finding[]>();
const around = new Map<string, string>();

beforeAll(async () => {
  const html = ([css, body]: readonly [string, string]): string =>
    `<!doctype html><title>Layers</title><style>${BASE}${css}</style><body>${body}`;
  harbour = await serve(Object.fromEntries(Object.entries(PAGES).map(([name, parts]) => [`/${name}`, html(parts)])));
  const results = (
    await renderAll({ origin: harbour.origin, paths: Object.keys(PAGES).map((name) => `/${name}`), themes: THEMES })
  ).map(captured);
  for (const name of Object.keys(PAGES)) {
    const group = results
      .filter(({ view }) => view.page === name)
      .map(({ view, samples }): JudgedView => ({ view, samples, tone: view.theme === 'dusk' ? 'dark' : 'light' }));
    found.set(name, runChecks(group, { reference: 'noon', checks: {}, exempt: [], today: '2031-01-01', run: 'test' }));
    for (const { view, samples } of group) {
      const dialog = samples.find((one): one is SurfaceSample => one.kind === 'surface' && one.selector === '#dialog');
      if (dialog !== undefined) around.set(`${name} ${view.theme}`, dialog.around);
    }
  }
});
afterAll(() => harbour.close());

const said = (page: string, selector: string): readonly string[] =>
  (found.get(page) ?? []).filter((one) => one.theme === 'dusk' && one.selector.startsWith(selector)).map(({ check }) => check);
const lightnessOf = (color: string | undefined): number => cieLightness(opaque(parseColor(color ?? '#ff00ff')));

test.each(['white', 'dense', 'native'])('a white dialog in a dark theme is found behind its own veil: %s', (page) => {
  expect(said(page, '#dialog')).toContain('unthemed');
});

test.each(['white', 'native', 'themed'])('what surrounds a dialog is the page without the veil: %s', (page) => {
  // derived: source-over solved for the page; L* of #f5f7f9 and #121212; a code of rounding seen through a veil of .6 is 2.5.
  for (const [name, color] of Object.entries({ noon: '#f5f7f9', dusk: '#121212' }))
    expect(Math.abs(lightnessOf(around.get(`${page} ${name}`)) - lightnessOf(color))).toBeLessThan(1.5);
});

test.each(['white', 'dense', 'native', 'themed'])('nothing is said of the page beneath: %s', (page) => {
  expect([...said(page, '#panel'), ...said(page, '#pale')]).toEqual([]);
});

test('nothing is said of a dialog of the theme', () => {
  expect(said('themed', '#dialog')).toEqual([]);
});

test('beside a dialog that is not modal the page is judged, and so is the dialog', () => {
  expect(said('beside', '#dialog')).toContain('unthemed');
  expect(said('beside', '#panel')).toContain('unthemed');
  expect(said('beside', '#pale')).toContain('text-contrast');
});
