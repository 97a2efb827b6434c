// Apps whose pages are not the pages asked for, and apps that only look so. Each of the first must be told, none of the others.
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Answer } from '../session/harness.ts';
import type { App } from './judge-app.ts';
import { quay } from './judge-app.ts';

const SIGN_IN = quay(
  '<h1>Who is there?</h1><form><input type="password" aria-label="Password"><button>Enter</button></form>',
  undefined,
  '<style>input,button{background:transparent;color:inherit;border:1px solid currentcolor}</style>',
);
const BOARD = quay('<h1>Board</h1><p>Low water at noon.</p>');
const TIDES = quay('<h1>Tides</h1><p>Two today.</p><p>Springs on Friday.</p>');

const to =
  (location: string, status = 302): Answer =>
  (_, response) =>
    void response.writeHead(status, { location }).end();
const answers =
  (status: number, text = quay('<h1>Nothing here</h1>')): Answer =>
  (_, response) =>
    void response.writeHead(status, { 'content-type': 'text/html; charset=utf-8' }).end(text);
const scripted = (script: string, body = '<h1>Board</h1><p id="text">Low water at noon.</p>'): string =>
  quay(`${body}<script>${script}</script>`);

/** Lets so many loads of documents in, then sends everyone to the sign-in. */
function runsOut(loads: number): Exclude<Answer, string> {
  let left = loads;
  return (_request: IncomingMessage, response: ServerResponse) => {
    left -= 1;
    if (left >= 0) response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(BOARD);
    else response.writeHead(302, { location: '/-sign-in' }).end();
  };
}

const LEAVES = `new MutationObserver(()=>location.replace('/-sign-in')).observe(document.documentElement,{attributes:true,attributeFilter:['data-mode']})`;

/** Paths that start with `/-` are served, and no pages of the plan. */
export const OTHER_PAGES: readonly (App & { readonly no: RegExp })[] = [
  {
    says: 'every page leads to the sign-in',
    pages: () => ({ '/': to('/-sign-in'), '/board': to('/-sign-in'), '/-sign-in': SIGN_IN }),
    no: /ended at .*sign-in.*asks for a password/u,
  },
  {
    says: 'one page of three leads to the sign-in',
    pages: () => ({ '/': BOARD, '/tides': TIDES, '/watch': to('/-sign-in'), '/-sign-in': SIGN_IN }),
    no: /watch: ended at/u,
  },
  {
    says: 'a sign-in that keeps in mind where one came from',
    pages: () => ({ '/board': to('/-sign-in?next=%2Fboard'), '/-sign-in': SIGN_IN }),
    no: /ended at .*next/u,
  },
  {
    says: 'a script replaces the page by the sign-in',
    pages: () => ({ '/': scripted(`location.replace('/-sign-in')`), '/-sign-in': SIGN_IN }),
    no: /ended at/u,
  },
  {
    says: 'a script goes to the sign-in after a while',
    pages: () => ({ '/': scripted(`setTimeout(()=>{location.href='/-sign-in'},350)`), '/-sign-in': SIGN_IN }),
    no: /ended at/u,
  },
  {
    says: 'a router shows its sign-in at another address',
    pages: () => ({ '/board': scripted(`history.replaceState(null,'','/sign-in');text.textContent='Who is there?'`) }),
    no: /ended at .*sign-in/u,
  },
  {
    says: 'a router asks the server first, and is told no',
    pages: () => ({
      '/board': scripted(
        `fetch('/-me').then((a)=>{if(a.status===401){history.pushState(null,'','/sign-in');text.textContent='Who is there?'}})`,
      ),
      '/-me': (_, response) => void setTimeout(() => response.writeHead(401).end(), 250),
    }),
    no: /ended at .*sign-in/u,
  },
  {
    says: 'a page refreshes itself to the sign-in',
    pages: () => ({
      '/': quay('<h1>Board</h1>', undefined, '<meta http-equiv="refresh" content="0;url=/-sign-in">'),
      '/-sign-in': SIGN_IN,
    }),
    no: /ended at|went on to/u,
  },
  { says: 'what is not known leads home', pages: () => ({ '/': BOARD, '/old': to('/') }), no: /old: ended at/u },
  { says: 'home leads to a page further down', pages: () => ({ '/': to('/-tides'), '/-tides': TIDES }), no: /ended at/u },
  {
    says: 'a sign-in on another port',
    pages: () => ({ '/': to('http://127.0.0.1:9/sign-in') }),
    no: /cannot be reached|ended at/u,
  },
  { says: 'a page that is not there', pages: () => ({ '/': BOARD, '/lost': answers(404) }), no: /HTTP 404/u },
  { says: 'a server that broke', pages: () => ({ '/': answers(500) }), no: /HTTP 500/u },
  { says: 'a page one may not see, with a handsome answer', pages: () => ({ '/': answers(403, BOARD) }), no: /HTTP 403/u },
  { says: 'a page that asks who one is by its status', pages: () => ({ '/': answers(401, SIGN_IN) }), no: /HTTP 401/u },
  { says: 'a choice of pages (300)', pages: () => ({ '/': answers(300, BOARD) }), no: /HTTP 300/u },
  {
    says: 'a script leads to a page that is not there',
    pages: () => ({ '/': scripted(`location.replace('/-gone')`), '/-gone': answers(404) }),
    no: /ended at/u,
  },
  {
    says: 'a session that runs out in the middle of a run',
    pages: () => ({
      '/a': shared,
      '/b': shared,
      '/c': shared,
      '/-sign-in': SIGN_IN,
    }),
    no: /ended at/u,
  },
  {
    says: 'a theme whose load leads to the sign-in',
    config: { themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { cookie: { mode: 'dusk' } } } } },
    pages: () => ({
      '/': (request, response) => {
        if (request.headers.cookie?.includes('dusk') === true) response.writeHead(302, { location: '/-sign-in' }).end();
        else response.writeHead(200, { 'content-type': 'text/html' }).end(BOARD);
      },
      '/-sign-in': SIGN_IN,
    }),
    no: /dusk.*ended at/u,
  },
  {
    says: 'a switch of theme that leads away',
    pages: () => ({ '/': scripted(LEAVES), '/-sign-in': SIGN_IN }),
    no: /dusk.*ended at/u,
  },
  {
    says: 'a hash route that becomes the sign-in',
    config: { pages: ['/#/watch'] },
    pages: () => ({ '/': scripted(`if(location.hash==='#/watch')location.replace('#/sign-in')`) }),
    no: /ended at .*#\/sign-in/u,
  },
  {
    says: 'a route in the query that the server drops',
    config: { pages: ['/app?route=watch'] },
    pages: () => ({
      '/app': (request, response) => {
        if (request.url?.includes('route') === true) response.writeHead(302, { location: '/app' }).end();
        else response.writeHead(200, { 'content-type': 'text/html' }).end(BOARD);
      },
    }),
    no: /ended at/u,
  },
  {
    says: 'a route in the query that becomes another',
    config: { pages: ['/app?route=watch'] },
    pages: () => ({ '/app': scripted(`history.replaceState(null,'','?route=sign-in')`) }),
    no: /ended at .*route=sign-in/u,
  },
  {
    says: 'a page said to lead on that leads elsewhere',
    config: { pages: [{ path: '/old', lands: '/-new' }] },
    pages: () => ({ '/old': to('/-sign-in'), '/-new': BOARD, '/-sign-in': SIGN_IN }),
    no: /as its lands says/u,
  },
  {
    says: 'a page said to lead on that stays',
    config: { pages: [{ path: '/old', lands: '/-new' }] },
    pages: () => ({ '/old': BOARD, '/-new': BOARD }),
    no: /as its lands says/u,
  },
  {
    says: 'a page said to be missing that is there',
    config: { pages: [{ path: '/nowhere', status: 404 }] },
    pages: () => ({ '/nowhere': BOARD }),
    no: /expected HTTP 404/u,
  },
  { says: 'redirects in a circle', pages: () => ({ '/': to('/-b'), '/-b': to('/') }), no: /cannot be reached/u },
  {
    says: 'a server that hangs up',
    pages: () => ({ '/': BOARD, '/gone': (_, response) => void response.destroy() }),
    no: /cannot be reached/u,
  },
  { says: 'an answer without content', pages: () => ({ '/': answers(204, '') }), no: /cannot be reached|HTTP 204/u },
  {
    says: 'a download',
    pages: () => ({
      '/': (_, response) =>
        void response.writeHead(200, { 'content-type': 'application/octet-stream', 'content-disposition': 'attachment' }).end('x'),
    }),
    no: /download/u,
  },
];

const shared = runsOut(1);

export const SAME_PAGES: readonly App[] = [
  {
    says: 'a slash is put behind a folder',
    pages: () => ({ '/tides': to('/tides/', 301), '/tides/': TIDES }),
    config: { pages: ['/tides'] },
  },
  {
    says: 'the ending is taken off',
    pages: () => ({ '/tides.html': to('/tides', 301), '/tides': TIDES }),
    config: { pages: ['/tides.html'] },
  },
  {
    says: 'a redirect that is meant',
    config: { pages: [{ path: '/old', lands: '/tides' }] },
    pages: () => ({ '/old': to('/tides'), '/tides': TIDES }),
  },
  {
    says: 'a page that is meant to be missing',
    config: { pages: ['/', { path: '/nowhere', status: 404 }] },
    pages: () => ({ '/': BOARD, '/nowhere': answers(404) }),
  },
  { says: 'the sign-in itself, asked for', pages: () => ({ '/sign-in': SIGN_IN }) },
  { says: 'home takes a hash route', pages: () => ({ '/': scripted(`location.hash='#/watch'`) }) },
  {
    says: 'hash routes',
    config: { pages: ['/#/board', '/#/tides'] },
    pages: () => ({ '/': scripted(`text.textContent=location.hash`) }),
  },
  { says: 'a place within a page', config: { pages: ['/board#low'] }, pages: () => ({ '/board': BOARD }) },
  {
    says: 'a script that tidies the address',
    config: { pages: ['/board?day=2'] },
    pages: () => ({ '/board': scripted(`history.replaceState(null,'','/board')`) }),
  },
  { says: 'an app that adds to the query', pages: () => ({ '/board': scripted(`history.replaceState(null,'','?sort=name')`) }) },
  {
    says: 'one document for every path, and a router',
    pages: () => ({
      '/board': scripted(`text.textContent=location.pathname`),
      '/watch': scripted(`text.textContent=location.pathname`),
    }),
  },
  {
    says: 'a click that leads to another page',
    config: { pages: [{ path: '/', states: ['next'] }], states: { next: { click: 'a' } } },
    pages: () => ({
      '/': quay('<h1>Board</h1><a href="/-tides">Tides</a>', undefined, '<style>a{color:inherit}</style>'),
      '/-tides': TIDES,
    }),
  },
  {
    says: 'an answer that was kept and is still so (304)',
    pages: () => ({
      '/board': (request, response) => {
        const kept = request.headers['if-none-match'] === '"1"';
        response
          .writeHead(kept ? 304 : 200, { etag: '"1"', 'cache-control': 'no-cache', 'content-type': 'text/html' })
          .end(kept ? undefined : BOARD);
      },
    }),
    config: {
      themes: {
        noon: { tone: 'light' },
        dusk: { tone: 'dark', apply: { attribute: { name: 'data-mode', value: 'dusk' }, reload: true } },
      },
    },
  },
  {
    says: 'themes by a query that the script takes away',
    config: { themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { query: { mode: 'dusk' } } } } },
    pages: () => ({
      '/board': scripted(
        `document.documentElement.dataset.mode=new URLSearchParams(location.search).get('mode')??'';history.replaceState(null,'',location.pathname)`,
      ),
    }),
  },
  {
    says: 'letters that are written otherwise',
    config: { pages: ['/h%C3%B6he'] },
    pages: () => ({ '/h%C3%B6he': scripted(`history.replaceState(null,'','/höhe')`) }),
  },
];
