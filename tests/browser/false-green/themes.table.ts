// Themes that are not put on, and themes that only look so.
import type { App } from './judge-app.ts';
import { quay, themed } from './judge-app.ts';

const BOARD = quay('<h1>Board</h1><p>Low water at noon.</p>');
const two =
  (text = BOARD) =>
  () => ({ '/': text, '/tides': quay('<h1>Tides</h1><p>Two today.</p>') });
const dusk = (apply: object, more: object = {}): Readonly<Record<string, unknown>> => ({
  themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply, ...more } },
});
const PICTURE = `<svg xmlns="http://www.w3.org/2000/svg" width="600" height="400"><rect width="600" height="400" fill="#0b3d4f"/><circle cx="300" cy="200" r="90" fill="#e8a33d"/></svg>`;
const PLATE = `<img alt="" style="display:block;width:100vw;height:100vh" src="data:image/svg+xml,${encodeURIComponent(PICTURE)}">`;

export const IDLE_THEMES: readonly (App & { readonly no: RegExp })[] = [
  {
    says: 'an attribute that no rule names',
    config: dusk({ attribute: { name: 'data-mod', value: 'dusk' } }),
    pages: two(),
    no: /theme "dusk" looks exactly like "noon" on all 2 pages: .*"data-mod" is named by no style rule.*"data-mode" is/u,
  },
  {
    says: 'a value that no rule names',
    config: dusk({ attribute: { name: 'data-mode', value: 'night' } }),
    pages: two(),
    no: /style rules name "data-mode" with "dusk" only/u,
  },
  {
    says: 'a class that no rule names',
    config: dusk({ class: { add: ['duskk'] } }),
    pages: two(quay('<h1>Board</h1>', 'html.dusk{background:#000;color:#fff}')),
    no: /class "duskk" is named by no style rule.*"dusk" is/u,
  },
  {
    says: 'the right class on the wrong element',
    config: dusk({ class: { on: 'body', add: ['dusk'] } }),
    pages: () => ({ '/': quay('<h1>Board</h1>', 'html.dusk{background:#000;color:#fff}') }),
    no: /class "dusk" is named by style rules, which change no colour/u,
  },
  {
    says: 'a media feature that no rule asks for',
    config: dusk({ media: { colorScheme: 'dark' } }),
    pages: two(),
    no: /no style rule asks for prefers-color-scheme/u,
  },
  {
    says: 'a contrast that no rule asks for',
    config: { themes: { noon: { tone: 'light' }, stark: { tone: 'light', apply: { media: { contrast: 'more' } } } } },
    pages: two(),
    no: /no style rule asks for prefers-contrast/u,
  },
  {
    says: 'a query that no script reads',
    config: dusk({ query: { mode: 'dusk' } }),
    pages: two(),
    no: /"mode" in the query is looked up by no script/u,
  },
  {
    says: 'a cookie that nobody reads',
    config: dusk({ cookie: { mode: 'dusk' } }),
    pages: two(),
    no: /the cookie mode=dusk changed nothing/u,
  },
  {
    says: 'a script that does nothing',
    config: dusk({ script: 'dusk.js' }),
    files: { 'dusk.js': 'void 0' },
    pages: two(),
    no: /its script changed no colour/u,
  },
  { says: 'a theme that puts nothing on', config: dusk({}), pages: two(), no: /its apply puts nothing on/u },
  {
    says: 'a theme that only moves things',
    config: dusk({ class: { add: ['wide'] } }),
    pages: two(quay('<h1>Board</h1>', 'html.wide h1{margin-left:200px}')),
    no: /looks exactly like/u,
  },
  {
    says: 'an app that puts its own theme back',
    config: dusk({ attribute: { name: 'data-mode', value: 'dusk' } }),
    pages: () => ({
      '/': quay(
        `<h1>Board</h1><script>new MutationObserver(()=>{if(document.documentElement.dataset.mode!=='noon')document.documentElement.dataset.mode='noon'}).observe(document.documentElement,{attributes:true})</script>`,
      ),
    }),
    no: /looks exactly like/u,
  },
  {
    says: 'an app that is dark from the start',
    config: { themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } } },
    pages: () => ({ '/': quay('<h1>Board</h1>', 'html.dusk,html{background:#000;color:#fff}') }),
    no: /looks exactly like/u,
  },
  {
    says: 'a clock that ticks in an idle theme',
    config: dusk({ attribute: { name: 'data-mod', value: 'dusk' } }),
    pages: () => ({
      '/': quay(
        `<h1>Board</h1><p id="at">0</p><p>Low water</p><script>let n=0;setInterval(()=>{at.textContent=String(++n)},900)</script>`,
      ),
    }),
    no: /looks exactly like/u,
  },
  {
    says: 'an idle theme that is loaded afresh',
    config: dusk({ attribute: { name: 'data-mod', value: 'dusk' }, reload: true }),
    pages: two(),
    no: /looks exactly like/u,
  },
  {
    says: 'a class taken off that was never on',
    config: dusk({ class: { remove: ['noon'] } }),
    pages: two(),
    no: /class "noon" is taken off/u,
  },
  {
    says: 'one idle theme among three',
    config: {
      themes: {
        noon: { tone: 'light' },
        dusk: { tone: 'dark', apply: { attribute: { name: 'data-mode', value: 'dusk' } } },
        night: { tone: 'dark', apply: { attribute: { name: 'data-mode', value: 'night' } } },
      },
    },
    pages: two(),
    no: /theme "night" looks exactly like/u,
  },
  {
    says: 'a theme for an element that is not there',
    config: dusk({ attribute: { on: '#app', name: 'data-mode', value: 'dusk' } }),
    pages: two(),
    no: /nothing matches the selector "#app"/u,
  },
  {
    says: 'one page that the theme does not reach: its tokens stay',
    config: { gate: { '*': { '*': 0 } } },
    pages: () => ({
      '/': BOARD,
      '/lost': quay('<h1>Lost</h1><p>Nothing.</p>', 'html{--paper:#fff;--ink:#111;background:var(--paper);color:var(--ink)}'),
    }),
    no: /lost@dusk.*did not reach/u,
  },
  {
    says: 'one page that the theme does not reach: its colours are written out',
    config: { gate: { '*': { '*': 0 } } },
    pages: () => ({ '/': BOARD, '/lost': quay('<h1>Lost</h1><p>Nothing.</p>', 'html{background:#fff;color:#111}') }),
    no: /lost@dusk.*did not reach/u,
  },
  {
    says: 'frames that the theme does not reach: one of the same origin, one of another',
    pages: () => ({
      '/': quay(
        `<h1>Board</h1>${['', 'sandbox']
          .map(
            (more) =>
              `<iframe title="Log" ${more} style="border:0" srcdoc="<body style='background:#fff;color:#111'>Log"></iframe>`,
          )
          .join('')}`,
      ),
    }),
    no: /unthemed: html > body > iframe:nth-of-type\(1\)[\s\S]*unthemed: html > body > iframe:nth-of-type\(2\)|unthemed: .*\(2\)[\s\S]*unthemed: .*\(1\)/u,
  },
  {
    says: 'one page without style sheets',
    config: { gate: { '*': { '*': 0 } } },
    pages: () => ({ '/': BOARD, '/lost': quay('<h1>Lost</h1><p>Nothing.</p>', '') }),
    no: /lost@dusk.*did not reach/u,
  },
];

export const WORKING_THEMES: readonly App[] = [
  { says: 'an attribute', pages: two() },
  {
    says: 'a theme that differs on one page of two',
    config: { themes: { noon: { tone: 'light' }, spring: { tone: 'light', apply: { class: { add: ['spring'] } } } } },
    pages: () => ({
      '/': quay('<h1>Board</h1><p>Low water.</p>', themed('.mark{color:#1b5e20}html.spring .mark{color:#0d47a1}')),
      '/tides': quay(
        '<h1>Tides</h1><p class="mark">Two today.</p>',
        themed('.mark{color:#1b5e20}html.spring .mark{color:#0d47a1}'),
      ),
    }),
  },
  {
    says: 'a page that is nothing but a picture',
    config: { gate: { '*': { '*': 0 } } },
    pages: () => ({ '/': BOARD, '/chart': quay(PLATE, 'body{margin:0}') }),
  },
  {
    says: 'a variant that is meant to look the same',
    config: {
      themes: { noon: { tone: 'light' }, eastern: { tone: 'light', apply: { class: { add: ['eastern'] } }, alike: true } },
    },
    pages: two(),
  },
  {
    says: 'a theme of less motion',
    config: { themes: { noon: { tone: 'light' }, calm: { tone: 'light', apply: { media: { reducedMotion: 'reduce' } } } } },
    pages: two(),
  },
  {
    says: 'a theme that changes a shadow alone',
    config: { themes: { noon: { tone: 'light' }, flat: { tone: 'light', apply: { class: { add: ['flat'] } } } } },
    pages: () => ({
      '/': quay(
        '<h1>Board</h1><div class="card">Low water</div>',
        themed(
          '.card{margin:40px;padding:20px;width:200px;background:#fff;box-shadow:0 4px 12px rgb(0 0 0/40%)}html.flat .card{box-shadow:0 4px 12px rgb(0 0 0/10%)}',
        ),
      ),
    }),
  },
  {
    says: 'a theme that changes one picture alone',
    config: { themes: { noon: { tone: 'light' }, east: { tone: 'light', apply: { class: { add: ['east'] } } } } },
    pages: () => ({
      '/': quay(
        `<h1>Board</h1><img alt="Harbour" width="200" height="130" id="plate" src="data:image/svg+xml,${encodeURIComponent(PICTURE)}"><script>const other='data:image/svg+xml,${encodeURIComponent(PICTURE.replace('#0b3d4f', '#4f0b0b'))}',first=plate.src;new MutationObserver(()=>{plate.src=document.documentElement.classList.contains('east')?other:first}).observe(document.documentElement,{attributes:true})</script>`,
      ),
    }),
  },
  {
    says: 'a media feature',
    config: dusk({ media: { colorScheme: 'dark' } }),
    pages: () => ({
      '/': quay(
        '<h1>Board</h1>',
        'html{background:#fff;color:#111}@media(prefers-color-scheme:dark){html{background:#101418;color:#eee}}',
      ),
    }),
  },
  {
    says: 'colours of the system',
    config: dusk({ media: { colorScheme: 'dark' } }),
    pages: () => ({ '/': quay('<h1>Board</h1>', ':root{color-scheme:light dark}') }),
  },
  {
    says: 'a query that the server reads',
    config: dusk({ query: { mode: 'dusk' } }),
    pages: () => ({
      '/': (request, response) =>
        void response
          .writeHead(200, { 'content-type': 'text/html' })
          .end(request.url?.includes('dusk') === true ? BOARD.replace('<html', '<html data-mode="dusk"') : BOARD),
    }),
  },
  {
    says: 'a cookie that the server reads',
    config: dusk({ cookie: { mode: 'dusk' } }),
    pages: () => ({
      '/': (request, response) =>
        void response
          .writeHead(200, { 'content-type': 'text/html' })
          .end(request.headers.cookie?.includes('dusk') === true ? BOARD.replace('<html', '<html data-mode="dusk"') : BOARD),
    }),
  },
  {
    says: 'a surface that stays',
    config: { stay: [{ selector: '.paper', tone: 'light' }], gate: { '*': { '*': 0 } } },
    pages: () => ({
      '/': quay('<h1>Board</h1><div class="paper">Low water</div>', themed('.paper{background:#fff;color:#111;padding:20px}')),
    }),
  },
];
