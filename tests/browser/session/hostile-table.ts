// Pages that fight back, as data: what each does, and what must come of it.
import { createHash } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import type { Answer } from './harness.ts';

const LEVEL = '<p style="margin:0;background:#0b3d4f;color:#e8a33d">Level</p>';
const page = (rest: string): string => `<!doctype html><html><head><title>Board</title></head><body>${LEVEL}${rest}</body></html>`;
const script = (code: string): string => page(`<script>${code}</script>`);
const later = (code: string): string => script(`addEventListener("load",()=>setTimeout(()=>{${code}},60))`);

export interface Hostile {
  readonly path: string;
  readonly about: string;
  readonly answer: Answer;
  /** Codes of the failure; absent: captured, with the text measured right. */
  readonly codes?: readonly string[];
  /** The reason says this. */
  readonly reason?: RegExp;
  /** Either captured or failed: luck of the moment decides. */
  readonly either?: true;
  /** Captured, though nothing of it can be seen. */
  readonly bare?: true;
  /** Notes that must be there. */
  readonly notes?: readonly RegExp[];
}

const OVER = ['view-out-of-time', 'page-floods', 'page-timeout', 'page-crashed'] as const;

export const FLOODS: readonly Hostile[] = [
  { path: '/alerts', about: 'alert in an endless loop', answer: script('for(;;)alert("tide")'), codes: OVER },
  { path: '/alerts-later', about: 'the same after loading', answer: later('for(;;)alert("tide")'), codes: OVER },
  {
    path: '/confirms',
    about: 'a question that is asked until it is answered yes',
    answer: script('while(!confirm("tide?"));'),
    codes: OVER,
  },
  {
    path: '/pushes',
    about: 'history.pushState without end',
    answer: script('for(let i=0;;i++)history.pushState(i,"","?"+i)'),
    codes: OVER,
  },
  {
    path: '/pushes-softly',
    about: 'history.pushState by a timer',
    answer: script('let n=0;setInterval(()=>{for(let i=0;i<40;i++)history.pushState(n,"","?"+n++)},0)'),
    either: true,
  },
  {
    path: '/hashes',
    about: 'the fragment changed without end',
    answer: script('let n=0;setInterval(()=>{for(let i=0;i<40;i++)location.hash=n++},0)'),
    either: true,
  },
  { path: '/logs', about: 'the console written full', answer: script('for(let i=0;;i++)console.log("tide "+i,{i})'), codes: OVER },
  {
    path: '/logs-softly',
    about: 'the console written full by a timer',
    answer: script('setInterval(()=>{for(let i=0;i<3000;i++)console.log("tide",i)},0)'),
    either: true,
  },
  {
    path: '/throws',
    about: 'errors without end',
    answer: script('setInterval(()=>{for(let i=0;i<500;i++)setTimeout(()=>{throw new Error("tide")})},0)'),
    either: true,
  },
  {
    path: '/imports',
    about: 'style sheets that import each other without end',
    answer: page('<style>@import "/import.css?0";</style>'),
    either: true,
  },
  {
    path: '/sockets',
    about: 'web sockets that are flooded',
    answer: script(
      'for(let i=0;i<20;i++){const s=new WebSocket("ws://"+location.host+"/socket");s.onopen=()=>{(function f(){for(let k=0;k<500;k++)s.send("tide".repeat(50));setTimeout(f,0)})()}}',
    ),
    either: true,
  },
  {
    path: '/opens-sockets',
    about: 'web sockets opened without end',
    answer: script('setInterval(()=>{for(let i=0;i<50;i++)new WebSocket("ws://"+location.host+"/socket")},0)'),
    either: true,
  },
  {
    path: '/asks',
    about: 'requests without end',
    answer: script('let n=0;setInterval(()=>{for(let i=0;i<100;i++)fetch("/nowhere?"+n++).catch(()=>{})},0)'),
    either: true,
  },
  {
    path: '/frames',
    about: 'frames inside frames',
    answer: page('<iframe src="/frames?0"></iframe><iframe src="/frames?1"></iframe>'),
    either: true,
  },
  {
    path: '/works',
    about: 'workers without end',
    answer: script('const u=URL.createObjectURL(new Blob(["for(;;);"]));for(let i=0;i<12;i++)new Worker(u)'),
    either: true,
  },
  { path: '/loops', about: 'a script that never ends', answer: script('for(;;);'), codes: OVER },
  { path: '/loops-later', about: 'the same after loading', answer: later('for(;;);'), codes: OVER },
  {
    path: '/promises',
    about: 'promises that never let go',
    answer: later('(function f(){Promise.resolve().then(f)})()'),
    codes: OVER,
  },
  {
    path: '/eats',
    about: 'memory eaten up',
    answer: later('const a=[];for(;;)a.push(new Array(1e6).fill(a.length))'),
    codes: OVER,
  },
];

export const ANSWERS: Readonly<Record<string, Answer>> = {
  '/import.css': (request, response) => {
    const n = Number((request.url ?? '').split('?')[1] ?? 0);
    response.writeHead(200, { 'content-type': 'text/css' }).end(`@import "/import.css?${String(n + 1)}";p{margin:0}`);
  },
  '/ok-before': page('<p style="margin:0;background:#0b3d4f;color:#e8a33d">Tide</p>'),
  // What the flooding requests ask for.
  '/nowhere': (_, response) => response.writeHead(204).end(),
  '/ok-after': page('<p style="margin:0;background:#0b3d4f;color:#e8a33d">Tide</p>'),
};

/** Accepts every web socket and reads what comes (RFC 6455 §4.2.2). */
export function acceptSockets(request: IncomingMessage, socket: Duplex): void {
  const key = request.headers['sec-websocket-key'] ?? '';
  const accept = createHash('sha1').update(`${key}258EAFA5-E914-47DA-95CA-C5AB0DC85B11`).digest('base64');
  socket.on('error', () => undefined);
  socket.resume();
  socket.write(
    `HTTP/1.1 101 Switching Protocols\r\nupgrade: websocket\r\nconnection: upgrade\r\nsec-websocket-accept: ${accept}\r\n\r\n`,
  );
}

const sandboxed =
  (policy: string): Answer =>
  (_, response) =>
    response
      .writeHead(200, { 'content-type': 'text/html; charset=utf-8', 'content-security-policy': policy })
      .end(`<!doctype html><title>Board</title><table bgcolor="#0b3d4f"><tr><td><font color="#e8a33d">Tide</font></table>`);

/** Names of what a reader asks of each element. */
const ASKED =
  'childNodes children firstChild lastChild firstElementChild lastElementChild nextSibling previousSibling nextElementSibling parentNode parentElement ownerDocument getRootNode nodeType nodeName nodeValue textContent localName tagName namespaceURI id className classList attributes getAttribute setAttribute removeAttribute hasAttribute matches closest querySelector querySelectorAll getBoundingClientRect getClientRects shadowRoot assignedSlot isConnected contains style dataset title hidden checkVisibility clientTop clientLeft clientWidth clientHeight offsetWidth offsetHeight offsetParent scrollWidth scrollHeight dispatchEvent addEventListener getAnimations computedStyleMap elements labels lang dir tabIndex ariaLabel'.split(
    ' ',
  );
const shadowing = (as: 'name' | 'id'): string => ASKED.map((name) => `<input type="hidden" ${as}="${name}">`).join('');
const DOCUMENT =
  'documentElement body head fonts images styleSheets adoptedStyleSheets querySelector querySelectorAll getElementById createRange createTreeWalker createElement defaultView scrollingElement activeElement title cookie compatMode readyState getAnimations elementFromPoint forms'.split(
    ' ',
  );

export const TRICKS: readonly Hostile[] = [
  { path: '/no-head', about: 'a document whose head is taken out', answer: script('document.head.remove()') },
  { path: '/no-body', about: 'a document whose body is taken out', answer: later('document.body.remove()'), bare: true },
  {
    path: '/no-root',
    about: 'a document whose root is taken out',
    answer: later('document.documentElement.remove()'),
    codes: ['page-without-root'],
    reason: /no root element any more/u,
  },
  {
    path: '/no-root-at-once',
    about: 'the same while it is built',
    answer: script('document.documentElement.remove()'),
    codes: ['page-without-root'],
  },
  {
    path: '/root-blinks',
    about: 'a root that goes and comes',
    answer: later('const r=document.documentElement;setInterval(()=>{r.remove();setTimeout(()=>document.append(r),15)},20)'),
    codes: ['page-without-root', 'unsettled', 'capture-failed'],
  },
  {
    path: '/other-root',
    about: 'a root of another kind',
    answer: later(
      'const r=document.createElement("section");r.innerHTML=document.body.innerHTML;document.documentElement.replaceWith(r)',
    ),
  },
  {
    path: '/frameset',
    about: 'frames in place of a body, which are read',
    answer:
      '<!doctype html><html><head><title>Board</title></head><frameset cols="50%,50%"><frame src="/ok-before"><frame src="/ok-after"></frameset></html>',
  },
  {
    path: '/form-names',
    about: 'a form whose fields are named as what is asked of elements',
    answer: page(`<form style="background:#0b3d4f;color:#e8a33d"><span>Tide</span>${shadowing('name')}</form>`),
  },
  {
    path: '/form-ids',
    about: 'the same by id',
    answer: page(`<form style="background:#0b3d4f;color:#e8a33d">Tide${shadowing('id')}</form>`),
  },
  {
    path: '/document-names',
    about: 'elements named as what is asked of the document',
    answer: page(DOCUMENT.map((name) => `<img name="${name}" alt=""><form name="${name}"></form><embed name="${name}">`).join('')),
  },
  {
    path: '/reloads',
    about: 'a page that loads itself anew',
    answer: later('location.reload()'),
    codes: ['page-reloads'],
    reason: /loaded itself anew while it was captured, again and again/u,
  },
  {
    path: '/reloads-at-once',
    about: 'the same before it is there',
    answer: script('location.reload()'),
    codes: ['page-reloads', 'page-timeout', 'view-out-of-time'],
  },
  {
    path: '/refreshes',
    about: 'a refresh header that loads it anew',
    answer: (_, response) => response.writeHead(200, { 'content-type': 'text/html', refresh: '0' }).end(page('')),
    codes: ['page-reloads', 'page-timeout', 'view-out-of-time'],
  },
  {
    path: '/goes-on',
    about: 'a page that goes on to the next again and again',
    answer: later('location.href="/goes-on?"+Math.random()'),
    codes: ['page-left', 'page-reloads'],
  },
  { path: '/forbids', about: 'a policy that forbids everything', answer: sandboxed("default-src 'none'; sandbox") },
  {
    path: '/forbids-more',
    about: 'the same with every directive',
    answer: sandboxed(
      "default-src 'none'; script-src 'none'; style-src 'none'; img-src 'none'; connect-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'; sandbox; upgrade-insecure-requests",
    ),
  },
  {
    path: '/spins',
    about: 'a canvas that moves for ever on a page that rests',
    answer: page(
      '<canvas id="radar" width="120" height="90"></canvas><script>const x=document.querySelector("canvas").getContext("2d");(function f(n){x.fillStyle="hsl("+n+" 90% 50%)";x.fillRect(0,0,120,90);requestAnimationFrame(()=>f(n+7))})(0)</script>',
    ),
    notes: [/moves/u],
  },
  {
    path: '/spins-many',
    about: 'several of them, one scaled and one in a shadow tree',
    answer: page(
      '<canvas width="40" height="30" style="width:200px;height:100px"></canvas><div id="host"></div><script>const s=document.querySelector("#host").attachShadow({mode:"open"});s.innerHTML="<canvas width=50 height=50></canvas>";for(const c of [document.querySelector("canvas"),s.querySelector("canvas")]){const x=c.getContext("2d");(function f(n){x.fillStyle="hsl("+n+" 90% 50%)";x.fillRect(0,0,99,99);requestAnimationFrame(()=>f(n+7))})(0)}</script>',
    ),
    notes: [/moves/u],
  },
  {
    path: '/blinks',
    about: 'a surface that changes colour for ever',
    answer: page(
      '<div id="lamp" style="width:90px;height:60px"></div><script>let n=0;setInterval(()=>document.querySelector("#lamp").style.background="hsl("+(n+=7)+" 90% 50%)",5)</script>',
    ),
    codes: ['unsettled'],
    reason: /mask|waitFor/u,
  },
];
