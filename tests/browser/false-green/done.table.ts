// Pages that are not done when they look at rest, pages that never come, and pages that only look so. What comes late holds a fault:
// whoever sees it says no.
import type { Answer } from '../session/harness.ts';
import type { App } from './judge-app.ts';
import { quay } from './judge-app.ts';

const FAULT = '<h1>Board</h1><p style="color:#999;background:#fff">Low water at noon, and again at midnight.</p>';
const GOOD = '<h1>Board</h1><p>Low water at noon.</p>';
const room = (script: string, first = '<p>Loading …</p>'): string =>
  quay(`<main id="room">${first}</main><script>const come=(html)=>{room.innerHTML=html};${script}</script>`);
const late =
  (text: string, ms: number, type = 'text/html'): Answer =>
  (_, response) =>
    void setTimeout(() => response.writeHead(200, { 'content-type': type }).end(text), ms);
const never: Answer = () => undefined;
const stream: Answer = (_, response) => {
  response.writeHead(200, { 'content-type': 'text/plain' });
  response.write('.');
};
const PULSE =
  '<style>@keyframes pulse{50%{opacity:.5}}.p{animation:pulse 2s infinite}.p>i{display:block;height:20px;background:#bbb}</style>';
const pulsing = `${PULSE}<div class="p"><i></i><i></i></div>`;
const fault = JSON.stringify(FAULT);
const good = JSON.stringify(GOOD);
const lines = (count: number, from = 'Berth'): string =>
  Array.from({ length: count }, (_, at) => `<p>${from} ${String(at)}: free until noon</p>`).join('');

const hidden = 'childNodes attributes parentElement parentNode children style matches closest getBoundingClientRect getClientRects'
  .concat(' localName nodeType nodeName ownerDocument shadowRoot getAttribute querySelectorAll getRootNode checkVisibility')
  .concat(' textContent innerHTML firstChild nextSibling previousElementSibling className classList id dataset hidden host')
  .split(' ');
const hiding = (as: 'name' | 'id'): string => hidden.map((name) => `<input type="hidden" ${as}="${name}">`).join('');
const hidingInDocument = [
  'querySelectorAll',
  'body',
  'documentElement',
  'fonts',
  'images',
  'title',
  'defaultView',
  'adoptedStyleSheets',
]
  .map((name) => `<form name="${name}"></form><embed name="${name}" style="width:0;height:0">`)
  .join('');

/** Every page but these, which are asked for by scripts. */
const only = { pages: ['/'] };

export const NOT_DONE: readonly (App & { readonly no: RegExp })[] = [
  {
    says: 'a lazy route on a timer of 350 ms',
    pages: () => ({ '/': room(`setTimeout(()=>come(${fault}),350)`) }),
    no: /text below|contrast/iu,
  },
  { says: 'the same without a word', pages: () => ({ '/': room(`setTimeout(()=>come(${fault}),350)`, '') }), no: /contrast/iu },
  {
    says: 'steps of 150 ms, each of its own',
    pages: () => ({ '/': room(`setTimeout(()=>setTimeout(()=>setTimeout(()=>come(${fault}),150),151),152)`) }),
    no: /contrast/iu,
  },
  {
    says: 'a timer of 2 s behind a placeholder',
    pages: () => ({ '/': room(`setTimeout(()=>come(${fault}),2000)`) }),
    no: /contrast/iu,
  },
  {
    says: 'a timer of 1.5 s behind a busy region',
    pages: () => ({
      '/': room(
        `setTimeout(()=>{come(${fault});room.removeAttribute('aria-busy')},1500);room.setAttribute('aria-busy','true')`,
        '<p>Berths</p>',
      ),
    }),
    no: /contrast/iu,
  },
  {
    says: 'a timer of 1.5 s behind grey boxes',
    pages: () => ({
      '/': room(`setTimeout(()=>come(${fault}),1500)`, '<div class="skeleton-line" style="height:20px;background:#ddd"></div>'),
    }),
    no: /contrast/iu,
  },
  {
    says: 'an idle callback',
    pages: () => ({ '/': room(`requestIdleCallback(()=>requestIdleCallback(()=>come(${fault})))`) }),
    no: /contrast/iu,
  },
  {
    says: 'an answer after 3 s behind a placeholder',
    config: only,
    pages: () => ({ '/': room(`fetch('/-data').then(()=>come(${fault}))`), '/-data': late('{}', 3_000) }),
    no: /contrast/iu,
  },
  {
    says: 'an answer after 4 s, without a word',
    config: only,
    pages: () => ({ '/': room(`fetch('/-data').then(()=>come(${fault}))`, ''), '/-data': late('{}', 4_000) }),
    no: /contrast/iu,
  },
  {
    says: 'an answer that never comes',
    config: only,
    pages: () => ({ '/': room(`fetch('/-data').then(()=>come(${good}))`, GOOD), '/-data': never }),
    no: /still loading: no answer to .*-data/u,
  },
  {
    says: 'a timer of 2 s behind boxes that pulse',
    pages: () => ({ '/': room(`setTimeout(()=>come(${fault}),2000)`, pulsing) }),
    no: /contrast/iu,
  },
  {
    says: 'an answer that fails, behind boxes that pulse',
    config: only,
    pages: () => ({ '/': room(`fetch('/-data').then((it)=>it.ok&&come(${good}))`, pulsing) }),
    no: /still loading: i/u,
  },
  {
    says: 'what a script builds later, and fills when it is seen',
    pages: () => ({
      '/': room(
        `setTimeout(()=>{come('<div style="height:3000px"></div><section id="deep"></section>');new IntersectionObserver(([it])=>it.isIntersecting&&(deep.innerHTML=${fault})).observe(deep)},300)`,
        '',
      ),
    }),
    no: /contrast/iu,
  },
  {
    says: 'what is filled when it is seen, just below what is seen first',
    pages: () => ({
      '/': quay(
        `${GOOD}<div style="height:500px"></div><section id="deep"></section><script>new IntersectionObserver(([it])=>it.isIntersecting&&(deep.innerHTML=${fault})).observe(deep)</script>`,
      ),
    }),
    no: /contrast/iu,
  },
  {
    says: 'an answer, and a timer behind it',
    config: only,
    pages: () => ({ '/': room(`fetch('/-data').then(()=>setTimeout(()=>come(${fault}),300))`), '/-data': late('{}', 250) }),
    no: /contrast/iu,
  },
  {
    says: 'an answer, and another behind it',
    config: only,
    pages: () => ({
      '/': room(`fetch('/-data').then(()=>fetch('/-more')).then(()=>come(${fault}))`),
      '/-data': late('{}', 200),
      '/-more': late('{}', 200),
    }),
    no: /contrast/iu,
  },
  {
    says: 'a chunk that is slow',
    config: only,
    pages: () => ({
      '/': room(`import('/-chunk.js').then((it)=>come(it.page))`),
      '/-chunk.js': late(`export const page=${fault}`, 500, 'text/javascript'),
    }),
    no: /contrast/iu,
  },
  {
    says: 'a timer of a frame',
    config: only,
    pages: () => ({
      '/': quay(`${GOOD}<iframe src="/-frame" title="Tides" style="border:0"></iframe>`),
      '/-frame': (_, response) =>
        void response
          .writeHead(200, { 'content-type': 'text/html' })
          .end(room(`setTimeout(()=>come(${fault}),450)`, '').replace('background:var(--paper)', 'background:#fff')),
    }),
    no: /contrast/iu,
  },
  {
    says: 'a theme whose scripts redraw a while later',
    pages: () => ({
      '/': quay(
        `${GOOD}<p id="late">Springs</p><script>new MutationObserver(()=>setTimeout(()=>{late.style.cssText='color:#444'},200)).observe(document.documentElement,{attributes:true})</script>`,
      ),
    }),
    no: /contrast/iu,
  },
  {
    says: 'a fault in a form whose fields hide what a form has',
    pages: () => ({
      '/': quay(
        `<form>${hiding('name')}<p style="color:#999;background:#fff">Low water</p></form><form>${hiding('id')}<p>Tide</p></form>${hidingInDocument}`,
      ),
    }),
    no: /form.*: text-contrast|text-contrast: .*contrast/u,
  },
  { says: 'a placeholder that stays for ever', pages: () => ({ '/': room('') }), no: /still says|still loading/u },
  {
    says: 'a region that stays busy',
    pages: () => ({ '/': quay(`${GOOD}<section aria-busy="true"><p>Berths</p></section>`) }),
    no: /still loading: section/u,
  },
  {
    says: 'grey boxes that stay',
    pages: () => ({ '/': quay(`${GOOD}<div class="row-skeleton" style="height:20px;background:var(--paper)"></div>`) }),
    no: /still loading: div\.row-skeleton/u,
  },
  {
    says: 'a placeholder that stays in a shadow tree',
    pages: () => ({
      '/': quay(
        `${GOOD}<tide-card></tide-card><script>document.querySelector('tide-card').attachShadow({mode:'open'}).innerHTML='Please wait …'</script>`,
      ),
    }),
    no: /still loading: tide-card "Please wait …"/u,
  },
  {
    says: 'one theme whose load comes half empty',
    config: { themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { cookie: { mode: 'dusk' } } } } },
    pages: () => ({
      '/': (request, response) =>
        void response
          .writeHead(200, { 'content-type': 'text/html' })
          .end(
            request.headers.cookie?.includes('dusk') === true
              ? quay(GOOD).replace('<html', '<html data-mode="dusk"')
              : quay(GOOD + lines(30)),
          ),
    }),
    no: /far fewer places/u,
  },
  {
    says: 'tonight far less than the night before',
    before: () => ({ '/': quay(GOOD + lines(30)) }),
    pages: () => ({ '/': quay('<h1>Board</h1><p>No berths could be read.</p>') }),
    no: /far fewer places/u,
  },
  {
    says: 'the sign-in at every address',
    pages: () => ({ '/board': signIn, '/tides': signIn, '/watch': signIn }),
    no: /look the same/u,
  },
  {
    says: 'an error page at two addresses of three',
    pages: () => ({
      '/board': quay('<h1>Something went wrong</h1>'),
      '/tides': quay('<h1>Something went wrong</h1>'),
      '/watch': quay(GOOD),
    }),
    no: /look the same/u,
  },
  {
    says: 'pages that stay blank',
    pages: () => ({
      '/board': quay('<div id="app"></div><script>throw new Error("no")</script>'),
      '/tides': quay('<div id="app"></div>'),
    }),
    no: /look the same/u,
  },
  {
    says: 'a router that knows none of the paths',
    pages: () => ({ '/board': room(`come('<h1>No such page</h1>')`), '/tides': room(`come('<h1>No such page</h1>')`) }),
    no: /look the same/u,
  },
  {
    says: 'hash routes that nobody reads',
    config: { pages: ['/#/board', '/#/tides'] },
    pages: () => ({ '/': quay(GOOD) }),
    no: /look the same/u,
  },
];

const signIn = quay(
  '<h1>Who is there?</h1><input type="password" aria-label="Password" style="border:1px solid currentcolor;color:inherit;background:transparent">',
);

export const DONE: readonly App[] = [
  { says: 'a timer of 350 ms that brings nothing new', pages: () => ({ '/': room(`setTimeout(()=>come(${good}),350)`) }) },
  {
    says: 'a greeting that goes after 5 s',
    pages: () => ({ '/': quay(`${GOOD}<p id="hail">Welcome aboard</p><script>setTimeout(()=>hail.remove(),5000)</script>`) }),
  },
  {
    says: 'a clock by timers',
    pages: () => ({
      '/': quay(`${GOOD}<script>let n=0;const tick=()=>{document.title=String(++n);setTimeout(tick,400)};tick()</script>`),
    }),
  },
  {
    says: 'a page that asks for news again and again',
    config: only,
    pages: () => ({
      '/': quay(`${GOOD}<script>const ask=()=>fetch('/-news').then(()=>setTimeout(ask,300));ask()</script>`),
      '/-news': late('{}', 20),
    }),
  },
  {
    says: 'a page that waits for news, and says when it is there',
    config: { pages: [{ path: '/', waitFor: 'h1' }] },
    pages: () => ({ '/': quay(`${GOOD}<script>fetch('/-news')</script>`), '/-news': never }),
  },
  {
    says: 'news that come in a stream',
    config: only,
    pages: () => ({ '/': quay(`${GOOD}<script>fetch('/-news')</script>`), '/-news': stream }),
  },
  {
    says: 'dots that pulse beside what is live',
    pages: () => ({
      '/': quay(
        `${PULSE}${GOOD}${'<p>Gauge <i class="p" style="display:inline-block;width:10px;height:10px;background:var(--ink)"></i></p>'.repeat(3)}`,
      ),
    }),
  },
  {
    says: 'a harbour in which ships are loading',
    pages: () => ({
      '/': quay(
        '<h1>Board</h1><table><tr><td>Quay 4</td><td>Loading</td></tr><tr><td>Loading bay 2</td><td>free</td></tr></table>',
      ),
    }),
  },
  {
    says: 'an answer after 900 ms',
    config: only,
    pages: () => ({ '/': room(`fetch('/-data').then(()=>come(${good}))`), '/-data': late('{}', 900) }),
  },
  {
    says: 'a region that was busy',
    pages: () => ({
      '/': room(`room.setAttribute('aria-busy','true');setTimeout(()=>{room.removeAttribute('aria-busy');come(${good})},700)`),
    }),
  },
  {
    says: 'a page about loading',
    pages: () => ({
      '/': quay(
        '<h1>Loading</h1><p>Loading dock 3</p><p>Please wait for the pilot.</p><p>Loading is done by noon.</p><div class="skeleton-free">Berth 4</div>',
      ),
    }),
  },
  {
    says: 'one load that comes half empty, and the next one whole',
    config: { themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { cookie: { mode: 'dusk' } } } } },
    pages: (): Readonly<Record<string, Answer>> => {
      let loads = 0;
      return {
        '/': (request, response) => {
          const isDusk = request.headers.cookie?.includes('dusk') === true;
          if (isDusk) loads += 1;
          const page = quay(GOOD + (isDusk && loads === 1 ? '' : lines(30)));
          response
            .writeHead(200, { 'content-type': 'text/html' })
            .end(isDusk ? page.replace('<html', '<html data-mode="dusk"') : page);
        },
      };
    },
  },
  {
    says: 'a placeholder that is hidden',
    pages: () => ({ '/': quay(`${GOOD}<p hidden>Loading …</p><div class="skeleton" style="display:none">x</div>`) }),
  },
  {
    says: 'a bar that says how far it is',
    pages: () => ({ '/': quay(`${GOOD}<progress value="0.4" aria-label="Tide" style="accent-color:#2a6f86"></progress>`) }),
    config: { checks: { 'graphic-contrast': 'off' } },
  },
  {
    says: 'a little less than the night before',
    before: () => ({ '/': quay(GOOD + lines(30)) }),
    pages: () => ({ '/': quay(GOOD + lines(24)) }),
  },
  {
    says: 'two addresses that are meant to be one page',
    config: { pages: ['/tides', { path: '/old', lands: '/tides' }] },
    pages: () => ({ '/tides': quay(GOOD), '/old': (_, response) => void response.writeHead(302, { location: '/tides' }).end() }),
  },
  {
    says: 'two spellings of one address',
    config: { pages: ['/', { path: '/index.html', name: 'start' }] },
    pages: () => ({ '/': quay(GOOD), '/index.html': quay(GOOD) }),
  },
];
