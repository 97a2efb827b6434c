// Each way of docs/themes.md as the only one an app has: for the reference and the others, pages side by side.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { Answer, Harbour } from './harness.ts';
import { renderAll, serve, texts } from './harness.ts';

// Our own colours: what a page without a choice shows, and the two that can be chosen.
const NONE = '#ffffff';
const SHOWN = { noon: '#f4f1ea', dusk: '#0b3d4f' } as const;
type Look = keyof typeof SHOWN;

const SHEET = `body { background: ${NONE}; color: #567; margin: 8px }
  [data-look=noon] body, .noon body { background: ${SHOWN.noon} } [data-look=dusk] body, .dusk body { background: ${SHOWN.dusk} }`;

function board(script: string, sheet = SHEET): string {
  return `<!doctype html><html lang="en"><head><title>Tide board</title><style>${sheet}</style><script>
    const wear = (look) => { if (look) document.documentElement.dataset.look = look }; ${script}</script></head><body><p>Level 2.4 m</p></body></html>`;
}

const scheme = `body { background: ${NONE}; margin: 8px } @media (prefers-contrast: more) { body { background: ${SHOWN.noon} } } @media (prefers-color-scheme: dark) { body { background: ${SHOWN.dusk} } }`;
const cookie = (text: string | undefined): string => /(?:^|;\s*)look=(\w+)/u.exec(text ?? '')?.[1] ?? '';
const html = { 'content-type': 'text/html; charset=utf-8' };

const folder = mkdtempSync(path.join(tmpdir(), 'gloam-ways-'));
function script(name: string, text: (look: Look) => string): (look: Look) => Theme['apply'] {
  return (look) => {
    const file = path.join(folder, `${name}-${look}.js`);
    writeFileSync(file, text(look));
    return { script: file };
  };
}

interface Way {
  readonly name: string;
  readonly apply: (look: Look) => Theme['apply'];
  readonly page: Answer;
}

/** Its frame is of another origin and keeps a theme of its own under the same key. */
let elsewhere: Harbour;
const LOCAL = board(`wear(localStorage.getItem('look'))`);
const WAYS: readonly Way[] = [
  { name: 'attribute', apply: (value) => ({ attributes: [{ on: 'html', name: 'data-look', value }] }), page: board('') },
  { name: 'class', apply: (look) => ({ class: { on: 'html', add: [look], remove: [] } }), page: board('') },
  {
    name: 'media',
    apply: (look) => ({ media: look === 'dusk' ? { colorScheme: 'dark' } : { contrast: 'more' } }),
    page: board('', scheme),
  },
  { name: 'localStorage', apply: (look) => ({ storage: { look } }), page: LOCAL },
  { name: 'sessionStorage', apply: (look) => ({ storage: { look } }), page: board(`wear(sessionStorage.getItem('look'))`) },
  {
    name: 'storage beside a frame of another origin',
    apply: (look) => ({ storage: { look } }),
    page: (_, response) => {
      const frame = `<iframe src="${elsewhere.origin}/" width="40" height="20"></iframe>`;
      response.writeHead(200, html).end(LOCAL.replace('</body>', `${frame}</body>`));
    },
  },
  {
    name: 'storage and class',
    apply: (look) => ({ storage: { look }, class: { on: 'html', add: ['chosen'], remove: [] } }),
    page: LOCAL.replaceAll('[data-look=', '.chosen[data-look='),
  },
  {
    name: 'storage that shows on the load after',
    apply: (look) => ({ storage: { look }, reload: true }),
    page: board(`wear(localStorage.getItem('now')); localStorage.setItem('now', localStorage.getItem('look') ?? '')`),
  },
  { name: 'cookie', apply: (look) => ({ cookie: { look } }), page: board(`wear(/look=(\\w+)/.exec(document.cookie)?.[1])`) },
  {
    name: 'cookie that the server answers to',
    apply: (look) => ({ cookie: { look } }),
    page: (request, response) => {
      response.writeHead(200, html).end(board(`wear('${cookie(request.headers.cookie)}')`));
    },
  },
  { name: 'query', apply: (look) => ({ query: { look } }), page: board(`wear(new URLSearchParams(location.search).get('look'))`) },
  {
    name: 'query that leaves a cookie for the load after',
    apply: (look) => ({ query: { look }, reload: true }),
    page: (request, response) => {
      const chosen = new URL(request.url ?? '/', 'http://loopback').searchParams.get('look');
      const set = chosen === null ? {} : { 'set-cookie': `look=${chosen}; path=/` };
      response.writeHead(200, { ...html, ...set }).end(board(`wear('${cookie(request.headers.cookie)}')`));
    },
  },
  { name: 'script', apply: script('wears', (look) => `document.documentElement.dataset.look = '${look}'`), page: board('') },
  {
    name: 'script that stores for the load after',
    apply: (look) => ({ ...script('stores', (chosen) => `localStorage.setItem('look', '${chosen}')`)(look), reload: true }),
    page: LOCAL,
  },
  {
    name: 'attribute with a load',
    apply: (value) => ({ attributes: [{ on: 'html', name: 'data-look', value }], reload: true }),
    page: board(''),
  },
];

const pathsOf = (way: Way): readonly string[] => ['a', 'b'].map((end) => `/${way.name.replaceAll(' ', '-')}/${end}`);

let browser: Browser;
let harbour: Harbour;
beforeAll(async () => {
  elsewhere = await serve({
    '/': `<body><script>localStorage.setItem('look', 'gale'); document.write(localStorage.look)</script>`,
  });
  harbour = await serve(Object.fromEntries(WAYS.flatMap((way) => pathsOf(way).map((at) => [at, way.page]))));
  browser = await launchBrowser(await findBrowser(process.env));
});
afterAll(async () => {
  await browser.close();
  await harbour.close();
  await elsewhere.close();
  rmSync(folder, { recursive: true });
});

const theme = (name: string, apply: Theme['apply']): Theme => ({ name, tone: 'light', apply, tokens: {} });

describe.concurrent.each(WAYS)('$name', (way) => {
  const plain = theme('plain', {});
  const [noon, dusk] = (['noon', 'dusk'] as const).map((look) => theme(look, way.apply(look)));
  if (noon === undefined || dusk === undefined) throw new Error('two looks');
  const shown = { ...SHOWN, plain: NONE };

  // The reference without it, with it, and beside two others: one load and more than pages can share.
  test.each([
    [1, 1, [noon, dusk]],
    [2, 2, [plain, dusk]],
    [3, 2, [dusk, plain, noon]],
  ])('%i side by side, %i pages', async (workers, most, themes) => {
    const paths = pathsOf(way).slice(0, most);
    const results = await renderAll({ origin: harbour.origin, paths, themes, request: { workers, browser } });
    const seen = results.map((result) => [
      result.view.id,
      result.status === 'captured' ? texts(result).find(({ text }) => text.startsWith('Level'))?.background : result.error,
    ]);
    const wanted = results.map(({ view }) => [view.id, Object.entries(shown).find(([name]) => name === view.theme)?.[1]]);
    expect(seen).toEqual(wanted);
    expect(results).toHaveLength(most * themes.length);
  });
});
