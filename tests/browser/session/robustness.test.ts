// Pages that misbehave: each yields a captured view or a clear reason, and never costs a neighbour.
import type { ServerResponse } from 'node:http';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Limits } from '../../../runner/tab/limits.ts';
import type { ViewResult } from '../../../src/samples/captured-view.ts';
import type { NoteCode } from '../../../src/samples/note.ts';
import type { Answer, Harbour } from './harness.ts';
import { captured, renderAll, serve, texts } from './harness.ts';

const TEXT = '<p style="margin:0;background:#0b3d4f;color:#e8a33d">Level</p>';
const page = (rest: string): string => `<!doctype html><html><head><title>Board</title></head><body>${TEXT}${rest}</body></html>`;
const script = (code: string): string => page(`<script>${code}</script>`);
const GRADIENT = '<p style="margin:0;background:linear-gradient(#0b3d4f,#0b3d4f);color:#e8a33d">Tide</p>';

interface Odd {
  readonly path: string;
  readonly about: string;
  readonly answer: Answer;
  /** Code of the failure; absent: captured, with the text measured right. */
  readonly code?: string;
  /** Large, not hostile: gets the time that such pages get. */
  readonly large?: true;
  /** Notes that must be there. */
  /** One of these was noted. */
  readonly notes?: readonly NoteCode[];
}

const hanging = (response: ServerResponse, head: string): void => {
  response.writeHead(200, { 'content-type': 'text/html' });
  response.write(head);
};

const ODD: readonly Odd[] = [
  { path: '/missing', about: 'HTTP 404', answer: (_, response) => response.writeHead(404).end('gone'), code: 'page-http-error' },
  { path: '/broken', about: 'HTTP 500', answer: (_, response) => response.writeHead(500).end('sorry'), code: 'page-http-error' },
  { path: '/cut', about: 'connection cut', answer: (request) => request.socket.destroy(), code: 'page-unreachable' },
  { path: '/silent', about: 'an answer that never comes', answer: () => undefined, code: 'page-timeout' },
  { path: '/loops', about: 'a script that never ends', answer: script('for(;;);'), code: 'page-timeout' },
  {
    path: '/loops-later',
    about: 'a script that never ends, after the page is there',
    answer: script('addEventListener("load",()=>setTimeout(()=>{for(;;);},50))'),
    code: 'page-timeout',
  },
  {
    path: '/crash',
    about: 'a crash of the renderer',
    answer: page('<iframe src="chrome://crash"></iframe><script>location="chrome://crash"</script>'),
  },
  {
    path: '/download',
    about: 'a download in place of a page',
    answer: (_, response) =>
      response.writeHead(200, { 'content-type': 'application/zip', 'content-disposition': 'attachment' }).end('PK'),
    code: 'page-is-download',
  },
  {
    path: '/downloads-later',
    about: 'a download from a page',
    answer: script('const a=document.createElement("a");a.href="/download";a.download="x";a.click()'),
  },
  {
    path: '/streams',
    about: 'a page that never ends loading',
    answer: (_, response) => {
      hanging(response, page('<img src="/silent" alt="">'));
      response.end();
    },
    notes: ['never-loaded', 'no-answer', 'picture-loading'],
  },
  {
    path: '/unfinished',
    about: 'a document whose end never comes',
    answer: (_, response) => {
      hanging(response, page(''));
    },
    code: 'page-timeout',
  },
  { path: '/polls', about: 'a page that asks again and again', answer: script('setInterval(()=>fetch("/ok?"+Math.random()),30)') },
  {
    path: '/ticks',
    about: 'a document that changes all the time',
    answer: page('<i id="t"></i><script>setInterval(()=>t.textContent=Math.random(),10)</script>'),
    code: 'unsettled',
  },
  {
    path: '/heavy',
    about: 'a document that changes all the time, with long frames between',
    answer: page(
      '<i id="t"></i><script>setInterval(()=>t.textContent=Math.random(),10);(function f(){const t=performance.now();while(performance.now()-t<200);requestAnimationFrame(f)})()</script>',
    ),
    code: 'unsettled',
  },
  {
    path: '/stutters',
    about: 'a document that changes all the time, stopped for a while now and then',
    answer: page(
      '<i id="t"></i><script>setInterval(()=>t.textContent=Math.random(),40);const c=new MessageChannel();c.port1.onmessage=()=>{const t=performance.now();while(performance.now()-t<200);};let n=0;(function f(){if(++n%3===0)c.port2.postMessage(0);requestAnimationFrame(f)})()</script>',
    ),
    code: 'unsettled',
  },
  {
    path: '/spins',
    about: 'a canvas that never rests',
    answer: page(
      '<canvas id="c" width="40" height="40"></canvas><script>const x=c.getContext("2d");(function f(n){x.fillStyle="hsl("+n+" 90% 50%)";x.fillRect(0,0,40,40);requestAnimationFrame(()=>f(n+7))})(0)</script>',
    ),
    notes: ['canvas-moves'],
  },
  {
    path: '/grows',
    large: true,
    about: 'a page that grows as it is scrolled',
    answer: page(
      '<main></main><script>const m=document.querySelector("main");const more=()=>{const d=document.createElement("div");d.style.height="2000px";m.append(d)};more();addEventListener("scroll",more)</script>',
    ),
    notes: ['grows'],
  },
  {
    path: '/grows-by-itself',
    large: true,
    about: 'a page that grows without end',
    answer: page(
      '<main></main><script>const m=document.querySelector("main");setInterval(()=>{const d=document.createElement("div");d.style.height="500px";m.append(d)},20)</script>',
    ),
    notes: ['keeps-changing'],
  },
  { path: '/runs', about: 'a running line', answer: page('<marquee>Tide</marquee>'), code: 'unsettled' },
  { path: '/alerts', about: 'dialogs', answer: script('alert("a");confirm("b");prompt("c")') },
  {
    path: '/begs',
    about: 'a question before leaving',
    answer: script('addEventListener("beforeunload",e=>{e.preventDefault();e.returnValue="stay"})'),
  },
  { path: '/opens', about: 'windows', answer: script('for(let i=0;i<3;i++)open("/ok")') },
  { path: '/prints', about: 'printing', answer: script('print()') },
  { path: '/full', about: 'full screen', answer: script('document.documentElement.requestFullscreen().catch(()=>{})') },
  { path: '/redirects', about: 'a redirect by script', answer: script('location.replace("/ok")'), code: 'page-landed-elsewhere' },
  {
    path: '/refreshes',
    about: 'a redirect by refresh',
    answer: `<meta http-equiv="refresh" content="0;url=/ok">`,
    code: 'page-landed-elsewhere',
  },
  {
    path: '/leaves',
    about: 'a page that leaves again and again',
    answer: script('setTimeout(()=>location.reload(),40)'),
    code: 'page-reloads',
  },
  {
    path: '/natives',
    about: 'changed built-ins',
    answer: page(`${GRADIENT}<script>
      for (const name of ['map','filter','forEach','push','flatMap','some','includes','join']) Array.prototype[name] = () => { throw new Error('mine') };
      window.getComputedStyle = () => null; Element.prototype.matches = () => false; Element.prototype.getBoundingClientRect = () => null;
      Range.prototype.getClientRects = () => []; Document.prototype.createRange = null; JSON.stringify = () => 'x'; JSON.parse = null;
      window.Map = null; window.Set = null; window.requestAnimationFrame = () => 0; window.setTimeout = () => 0; window.Promise = null;
      Object.defineProperty(Document.prototype, 'querySelectorAll', { value: null }); window.CSSStyleSheet = null; window.Highlight = null; window.CSS = null;
      Object.defineProperty(Document.prototype, 'adoptedStyleSheets', { get() { return [] }, set() {} });
      Node.prototype.getRootNode = null; Array.from = null; Symbol.iterator; String.prototype.replace = null;
    </script>`),
  },
  {
    path: '/named',
    about: 'elements whose names hide properties of the document',
    answer: page(
      '<form name="fonts"><input name="body"></form><img name="images" alt=""><a id="scrollX"></a><a id="innerHeight"></a>',
    ),
  },
  {
    path: '/policy',
    about: 'a strict content security policy and trusted types',
    answer: (_, response) =>
      response
        .writeHead(200, {
          'content-type': 'text/html',
          'content-security-policy':
            "default-src 'none'; style-src-attr 'unsafe-inline'; require-trusted-types-for 'script'; trusted-types 'none'; sandbox allow-scripts",
        })
        .end(page(GRADIENT)),
  },
  {
    path: '/many',
    large: true,
    about: '100,000 elements',
    answer: script(
      'const f=document.createElement("div");f.style.cssText="font-size:2px;line-height:2px";f.innerHTML="<b></b>".repeat(100000);document.body.append(f)',
    ),
  },
  {
    path: '/tall',
    large: true,
    about: '100,000 px height',
    answer: page('<div style="height:100000px"></div>' + GRADIENT),
    notes: ['cut-off'],
  },
  {
    path: '/too-tall',
    large: true,
    about: '1,000,000 px height',
    // Neither text below the cut, nor the edge of a box, may ask for a picture of what there is none of.
    answer: page('<div style="height:1000000px"></div>' + GRADIENT + '<button style="border:1px solid #123456">Tide</button>'),
    notes: ['cut-off'],
  },
  { path: '/deep', large: true, about: 'elements nested 400 deep', answer: page('<div>'.repeat(400) + GRADIENT) },
  {
    path: '/wide',
    large: true,
    about: 'a line of 100,000 characters',
    answer: page(`<div style="overflow:hidden;height:20px">${'tide '.repeat(20000)}</div>`),
  },
  {
    path: '/empty',
    about: 'no document to speak of',
    answer: (_, response) => response.writeHead(200, { 'content-type': 'text/plain' }).end(''),
  },
  {
    path: '/text',
    about: 'plain text',
    answer: (_, response) => response.writeHead(200, { 'content-type': 'text/plain' }).end('Level'),
  },
  {
    path: '/xml',
    about: 'XHTML',
    answer: (_, response) =>
      response
        .writeHead(200, { 'content-type': 'application/xhtml+xml' })
        .end(`<html xmlns="http://www.w3.org/1999/xhtml"><head><title>Board</title></head><body>${TEXT}</body></html>`),
  },
  {
    path: '/svg',
    about: 'a drawing',
    answer: (_, response) =>
      response
        .writeHead(200, { 'content-type': 'image/svg+xml' })
        .end(
          '<svg xmlns="http://www.w3.org/2000/svg" width="300" height="80"><rect width="300" height="80" fill="#0b3d4f"/><text y="40" x="10" fill="#e8a33d">Level</text></svg>',
        ),
  },
  {
    path: '/writes',
    about: 'a page that writes itself anew',
    answer: script(
      `addEventListener("load",()=>{document.open();document.write('<title>Board</title>${TEXT.replaceAll("'", '')}');document.close()})`,
    ),
  },
  { path: '/ok', about: 'a healthy page', answer: page(GRADIENT) },
];

/** What these pages show has no text of ours. */
const WITHOUT_TEXT = new Set(['/empty', '/text', '/crash']);

let harbour: Harbour;
const results = new Map<string, ViewResult>();

beforeAll(async () => {
  harbour = await serve(Object.fromEntries(ODD.map(({ path, answer }) => [path, answer])));
  const rendered = async (odd: readonly Odd[], limits: Partial<Limits>): Promise<void> => {
    const request = { workers: 2, limits };
    const found = await renderAll({ origin: harbour.origin, paths: odd.map(({ path }) => path), request });
    for (const result of found) results.set(`/${result.view.page}`, result);
  };
  // Short waits for what never comes.
  await rendered(
    ODD.filter(({ large }) => large === undefined),
    { loadMs: 6_000, settleMs: 3_000, callMs: 15_000 },
  );
  await rendered(
    ODD.filter(({ large }) => large !== undefined),
    // They grow past whatever is the limit of a picture; a lower one than usual, since pictures of 120,000 px take minutes on a busy machine
    // and their size is not what is asked here.
    { viewMs: 240_000, callMs: 240_000, heightPx: 30_000 },
  );
}, 600_000);
afterAll(() => harbour.close());

describe('each page yields a view or a reason', () => {
  test.each(ODD)('$path: $about', ({ path, code, notes = [] }) => {
    const result = results.get(path);
    if (code !== undefined) {
      expect(result).toMatchObject({ status: 'failed', code });
      return;
    }
    if (path === '/crash') {
      expect(result?.status === 'captured' || result?.code === 'page-crashed').toBe(true);
      return;
    }
    const view = captured(result);
    const said = view.notes.map((note) => note.code);
    if (notes.length > 0) expect(said).toSatisfy(() => said.some((code) => notes.includes(code)));
    if (WITHOUT_TEXT.has(path)) return;
    const ours = texts(result).filter((text) => text.text === 'Level' || text.text === 'Tide');
    expect(ours.length).toBeGreaterThan(0);
    for (const one of ours) expect([one.color, one.background]).toEqual(['#e8a33d', '#0b3d4f']);
  });
});
