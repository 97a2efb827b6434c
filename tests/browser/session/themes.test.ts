// Each way of putting a theme on shows in the captured colours, and none leaks into the next theme.
import { afterAll, beforeAll, expect, test } from 'vitest';
import { noteWords } from '../../../src/samples/note-words.ts';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { Harbour } from './harness.ts';
import { captured, renderAll, serve, texts } from './harness.ts';

const PAGE = `<!doctype html><html><head><title>Tide board</title><style>
  body { background: #ffffff; color: #102030; margin: 8px; transition: background 2s, color 2s }
  [data-look=dusk] body, .dim body { background: #0b3d4f; color: #e8a33d }
  [data-look=dusk] body[data-contrast=more] { background: #123456 }
  @media (prefers-color-scheme: dark) { body { background: #111111; color: #eeeeee } }
  @media (prefers-contrast: more) { body { background: #000000; color: #ffffff } }
</style><script>
  const wanted = localStorage.getItem('look') ?? new URLSearchParams(location.search).get('look') ?? /look=(\\w+)/.exec(document.cookie)?.[1];
  if (wanted) document.documentElement.dataset.look = wanted;
</script></head><body><p id="level">Level 2.4 m</p></body></html>`;

const theme = (name: string, apply: Theme['apply']): Theme => ({ name, tone: 'light', apply, tokens: {} });
const on = 'html';
const look = { on, name: 'data-look', value: 'dusk' };
const WAYS: readonly (readonly [Theme, string])[] = [
  [theme('none', {}), '#ffffff'],
  [theme('attribute', { attributes: [{ on, name: 'data-look', value: 'dusk' }] }), '#0b3d4f'],
  [theme('attributes', { attributes: [look, { on: 'body', name: 'data-contrast', value: 'more' }] }), '#123456'],
  [theme('one-of-them', { attributes: [look] }), '#0b3d4f'],
  [theme('class', { class: { on, add: ['dim'], remove: [] } }), '#0b3d4f'],
  [theme('none-again', {}), '#ffffff'],
  [theme('scheme', { media: { colorScheme: 'dark' } }), '#111111'],
  [theme('contrast', { media: { contrast: 'more' } }), '#000000'],
  [theme('storage', { storage: { look: 'dusk' } }), '#0b3d4f'],
  [theme('cookie', { cookie: { look: 'dusk' } }), '#0b3d4f'],
  [theme('query', { query: { look: 'dusk' } }), '#0b3d4f'],
  [theme('reload', { reload: true, attributes: [{ on, name: 'data-look', value: 'dusk' }] }), '#0b3d4f'],
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

// A chart that takes its colour once, when it is drawn: a visitor who comes with the theme sees it in the theme's colour.
const CHART = `<!doctype html><html lang="en"><head><title>Chart</title><style>html{--ink:#102030;background:#fff} .dim{--ink:#e8a33d;background:#0b3d4f} p{color:var(--ink)}</style></head>
    <body><p>Level 2.4 m</p><div id="chart" style="width:400px;height:300px"></div><script>chart.style.background = getComputedStyle(document.documentElement).getPropertyValue('--ink')</script></body></html>`;
const STILL = CHART.replace(/<script>.*<\/script>/u, '');
const dims = (...names: readonly string[]): readonly Theme[] => [
  theme('noon', {}),
  ...names.map((name) => theme(name, { class: { on, add: ['dim'], remove: [] } })),
];

async function charts(setup: Omit<Parameters<typeof renderAll>[0], 'origin'>): Promise<{
  readonly notes: Readonly<Record<string, string>>;
  readonly charts: readonly string[];
}> {
  const own = await serve({ '/chart': CHART, '/still': STILL });
  try {
    const results = await renderAll({ origin: own.origin, ...setup });
    const noted = results.map((result) => [result.view.id, captured(result).notes.map(noteWords).join()] as const);
    const drawn = results
      .toSorted((one, other) => (one.view.id < other.view.id ? -1 : 1))
      .flatMap((result) =>
        captured(result).samples.flatMap((sample) =>
          sample.kind === 'surface' && sample.selector.includes('chart') ? [`${result.view.theme} ${sample.color}`] : [],
        ),
      );
    return { notes: Object.fromEntries(noted.filter(([, note]) => note !== '')), charts: drawn };
  } finally {
    await own.close();
  }
}

const BEHIND = expect.stringContaining('shows otherwise than on a fresh load (its pixels at') as string;

test('a page on which a theme leaves something behind is loaded anew for each theme, as who comes with it sees it, and says so', async () => {
  const { notes, charts: drawn } = await charts({ paths: ['/chart', '/still'], themes: dims('dusk', 'deep') });
  expect(notes).toEqual({ 'chart@dusk/rest/desk': BEHIND });
  expect(drawn).toEqual(['deep #e8a33d', 'dusk #e8a33d', 'noon #102030']);
});

test('so does a page whose themes are loaded side by side', async () => {
  const { notes, charts: drawn } = await charts({ paths: ['/chart'], themes: dims('dusk', 'deep'), request: { workers: 3 } });
  expect(notes).toEqual({ 'chart@dusk/rest/desk': BEHIND });
  expect(drawn).toEqual(['deep #e8a33d', 'dusk #e8a33d', 'noon #102030']);
  expect((await charts({ paths: ['/still'], themes: dims('dusk', 'deep'), request: { workers: 3 } })).notes).toEqual({});
});

test('a theme that comes first is there as the page is loaded', async () => {
  const [noon, dusk] = dims('dusk');
  const { notes, charts: drawn } = await charts({ paths: ['/chart'], themes: [dusk, noon].filter((each) => each !== undefined) });
  expect(drawn).toEqual(['dusk #e8a33d', 'noon #102030']);
  expect(notes).toEqual({ 'chart@noon/rest/desk': BEHIND });
});
