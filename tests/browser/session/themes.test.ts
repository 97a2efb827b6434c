// Each way of putting a theme on shows in the captured colours, and none leaks into the next theme.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { noteWords } from '../../../src/samples/note-words.ts';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { Harbour } from './harness.ts';
import { renderAll, serve, texts } from './harness.ts';

const PAGE = `<!doctype html><html><head><title>Tide board</title><style>
  body { background: #ffffff; color: #102030; margin: 8px; transition: background 2s, color 2s }
  [data-look=dusk] body, .dim body { background: #0b3d4f; color: #e8a33d }
  @media (prefers-color-scheme: dark) { body { background: #111111; color: #eeeeee } }
  @media (prefers-contrast: more) { body { background: #000000; color: #ffffff } }
</style><script>
  const wanted = localStorage.getItem('look') ?? new URLSearchParams(location.search).get('look') ?? /look=(\\w+)/.exec(document.cookie)?.[1];
  if (wanted) document.documentElement.dataset.look = wanted;
</script></head><body><p id="level">Level 2.4 m</p></body></html>`;

const theme = (name: string, apply: Theme['apply']): Theme => ({ name, tone: 'light', apply, tokens: {} });
const on = 'html';
const WAYS: readonly (readonly [Theme, string])[] = [
  [theme('none', {}), '#ffffff'],
  [theme('attribute', { attribute: { on, name: 'data-look', value: 'dusk' } }), '#0b3d4f'],
  [theme('class', { class: { on, add: ['dim'], remove: [] } }), '#0b3d4f'],
  [theme('none-again', {}), '#ffffff'],
  [theme('scheme', { media: { colorScheme: 'dark' } }), '#111111'],
  [theme('contrast', { media: { contrast: 'more' } }), '#000000'],
  [theme('storage', { storage: { look: 'dusk' } }), '#0b3d4f'],
  [theme('cookie', { cookie: { look: 'dusk' } }), '#0b3d4f'],
  [theme('query', { query: { look: 'dusk' } }), '#0b3d4f'],
  [theme('reload', { reload: true, attribute: { on, name: 'data-look', value: 'dusk' } }), '#0b3d4f'],
  [theme('none-at-last', {}), '#ffffff'],
];

let harbour: Harbour;
beforeAll(async () => {
  harbour = await serve({ '/': PAGE });
});
afterAll(() => harbour.close());

test('a theme is put on by attribute, class, media, storage, cookie, address and reload, and taken off again', async () => {
  const results = await renderAll({ origin: harbour.origin, paths: ['/'], themes: WAYS.map(([t]) => t) });
  const seen = Object.fromEntries(results.map((result) => [result.view.theme, texts(result).map((text) => text.background)]));
  expect(seen).toEqual(Object.fromEntries(WAYS.map(([t, background]) => [t.name, [background]])));
});

test('a page on which a theme leaves something behind is loaded anew for each theme, and says so', async () => {
  // A chart that takes its colour once, when it is drawn: a visitor who comes with the theme sees it in the theme's colour.
  const chart = `<!doctype html><html lang="en"><head><title>Chart</title><style>html{--ink:#102030;background:#fff} .dim{--ink:#e8a33d;background:#0b3d4f} p{color:var(--ink)}</style></head>
    <body><p>Level 2.4 m</p><div id="chart" style="width:200px;height:60px"></div><script>chart.style.background = getComputedStyle(document.documentElement).getPropertyValue('--ink')</script></body></html>`;
  const still = chart.replace(/<script>.*<\/script>/u, '');
  const own = await serve({ '/chart': chart, '/still': still });
  try {
    const apply = (name: string): Theme['apply'] => ({ class: { on, add: [name], remove: [] } });
    const themes = [theme('noon', {}), theme('dusk', apply('dim')), theme('deep', apply('dim'))];
    const results = await renderAll({ origin: own.origin, paths: ['/chart', '/still'], themes });
    const notes = Object.fromEntries(
      results.map((result) => [result.view.id, result.status === 'captured' ? result.notes.map(noteWords).join() : result.error]),
    );
    expect(Object.entries(notes).filter(([, note]) => note !== '')).toEqual([
      [expect.stringMatching(/^chart@dusk/u), expect.stringContaining('shows otherwise than on a fresh load (its pixels at')],
    ]);
    const [dusk, deep] = ['dusk', 'deep'].map((name) => results.find(({ view }) => view.page === 'chart' && view.theme === name));
    // The picture kept is the one of the fresh page, and what was put on early is taken off again.
    expect(texts(dusk).map((text) => text.background)).toEqual(['#0b3d4f']);
    expect(texts(deep).map((text) => text.background)).toEqual(['#0b3d4f']);
  } finally {
    await own.close();
  }
});
