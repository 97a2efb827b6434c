// Frames of another origin are read like the page around them: of another port of the same host (same process) and of another host (a
// process of its own).
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { CapturedView } from '../../../src/samples/captured-view.ts';
import { verdictOnSample } from '../../../src/checks/verdict-on-sample.ts';
import type { SurfaceSample, TextSample } from '../../../src/samples/sample.ts';
import type { SampleVerdict } from '../../../src/samples/sample-verdict.ts';
import type { Answer, Harbour } from '../session/harness.ts';
import { captured, renderAll, serve } from '../session/harness.ts';

const STYLE = "<style>body{margin:0;font:20px/24px 'DejaVu Sans','Liberation Sans',sans-serif}p{margin:0;height:24px}</style>";
/** Pale text, white text on a navy panel. */
const INNER = `<!doctype html>${STYLE}<p id="pale" style="color:#c8c8c8">Level</p><div id="panel" style="background:#0b3d4f;width:200px;height:60px"><p style="color:#fff">Tide</p></div>`;
const frame = (src: string, style: string, id: string): string =>
  `<iframe id="${id}" src="${src}" style="position:absolute;border:5px solid #000;padding:10px;width:300px;height:120px;${style}"></iframe>`;

let far: Harbour;
let near: Harbour;
let views: ReadonlyMap<string, CapturedView>;

beforeAll(async () => {
  const denies: Answer = (_, response) => void response.writeHead(200, { 'x-frame-options': 'DENY' }).end('Level');
  far = await serve({
    '/denies': denies,
    '/long': `<!doctype html>${STYLE}<div id="panel" style="background:#0b3d4f;height:60px;margin-top:1380px"></div>`,
    '/forbids': (_, response) => void response.writeHead(200, { 'content-security-policy': "frame-ancestors 'none'" }).end('Level'),
    '/inner': INNER,
    '/around': (request, response) => {
      const other = `http://127.0.0.1:${request.headers.host?.split(':')[1] ?? ''}`;
      response
        .writeHead(200, { 'content-type': 'text/html' })
        .end(`<!doctype html>${STYLE}<p>Quay</p>${frame(`${other}/inner`, 'left:0;top:30px;border:0;padding:0', 'deep')}`);
    },
  });
  const here = far.origin;
  const there = here.replace('127.0.0.1', 'localhost');
  const page = (body: string): string => `<!doctype html><title>Frames</title>${STYLE}<body><p>Harbour</p>${body}`;
  near = await serve({
    '/port': page(frame(`${here}/inner`, 'left:40px;top:100px', 'f')),
    '/host': page(frame(`${there}/inner`, 'left:40px;top:100px', 'f')),
    '/nested': page(frame(`${there}/around`, 'left:40px;top:100px;height:260px', 'f')),
    '/veiled': page(
      `${frame(`${there}/inner`, 'left:40px;top:100px', 'f')}<div style="position:fixed;inset:0;background:rgb(0 0 0/.5)"></div>`,
    ),
    '/clipped': page(
      `<div style="position:absolute;left:0;top:100px;height:20px;width:400px;overflow:hidden">${frame(`${there}/inner`, 'left:0;top:-24px;border:0;padding:0', 'f')}</div>`,
    ),
    '/hidden': page(frame(`${there}/inner`, 'display:none', 'f')),
    // Of another origin and of the same: each forbids to be framed, in either way, or is not there at all (RFC 7034; CSP 3 §6.4.2).
    '/refused': page(
      [`${here}/denies`, `${there}/forbids`, '/denies', 'http://127.0.0.1:9/']
        .map((src, i) => frame(src, `left:40px;top:${String(60 + i * 130)}px;width:200px;height:90px`, `f${String(i)}`))
        .join(''),
    ),
    '/denies': denies,
    // Below the first screen of 600 px, in the same process and in one of their own, and longer than a screen.
    '/below': page(
      `<div style="height:3000px"></div>${[here, there]
        .map((origin, i) => frame(`${origin}/inner`, `left:${String(40 + i * 380)}px;top:900px`, `f${String(i)}`))
        .join('')}${frame(`${there}/long`, 'left:40px;top:1200px;height:1500px', 'long')}`,
    ),
  });
  const paths = ['/port', '/host', '/nested', '/veiled', '/clipped', '/hidden', '/refused', '/below'];
  const results = await renderAll({ origin: near.origin, paths });
  views = new Map(results.map((result) => [result.view.page, captured(result)] as const));
});
afterAll(async () => {
  await near.close();
  await far.close();
});

const texts = (page: string): readonly TextSample[] =>
  (views.get(page)?.samples ?? []).filter((one): one is TextSample => one.kind === 'text');
/** With its verdict at level AA. */
const textOf = (page: string, text: string): (TextSample & SampleVerdict) | undefined => {
  const [sample, view] = [texts(page).find((one) => one.text === text), views.get(page)?.view];
  if (sample === undefined || view === undefined) return undefined;
  return { ...sample, ...verdictOnSample(sample, view, { level: 'AA', exempt: [], today: '2031-05-04' }), exempt: sample.exempt };
};

describe.each(['port', 'host'])('of another %s', (page) => {
  test('pale text is found, where the frame shows it', () => {
    // derived: 40 + 5 border + 10 padding, 100 + 15; #c8c8c8 on white is 1.67 (WCAG 2.2).
    expect(textOf(page, 'Level')).toMatchObject({
      selector: '#f >>> #pale',
      color: '#c8c8c8',
      background: '#ffffff',
      verdict: 'fail',
    });
    expect(textOf(page, 'Level')?.rect.slice(0, 2).map(Math.round)).toEqual([55, 115]);
  });
  test('text lies on the panel inside', () => {
    expect(textOf(page, 'Tide')).toMatchObject({
      color: '#ffffff',
      background: '#0b3d4f',
      verdict: 'pass',
    });
  });
  test('the panel is a surface', () => {
    const panel = views.get(page)?.samples.find((one): one is SurfaceSample => one.selector === '#f >>> #panel');
    // derived: 115 + a line of 24.
    expect(panel).toMatchObject({
      kind: 'surface',
      color: '#0b3d4f',
      around: '#ffffff',
      rect: [55, 139, 200, 60],
    });
  });
  test('nothing is noted: it was read', () => {
    expect(views.get(page)?.notes).toEqual([]);
  });
  test('the page around it is read as ever', () => {
    expect(textOf(page, 'Harbour')).toMatchObject({
      selector: 'html > body > p',
      verdict: 'pass',
    });
  });
});

test('a frame in a frame', () => {
  expect(textOf('nested', 'Quay')).toMatchObject({ verdict: 'pass' });
  expect(textOf('nested', 'Level')).toMatchObject({
    selector: '#f >>> #deep >>> #pale',
    verdict: 'fail',
  });
});

test('a frame beneath a veil is not what is shown', () => {
  expect(textOf('veiled', 'Level')).toMatchObject({
    verdict: 'exempt',
    exempt: 'behind',
  });
});

test('what is cut off of a frame is not seen', () => {
  expect(texts('clipped').map(({ text }) => text)).toEqual(['Harbour', 'Tide']);
});

test('nor is one that is not shown', () => {
  expect(texts('hidden').map(({ text }) => text)).toEqual(['Harbour']);
});

test('what lies below the first screen is looked at there, since the browser does not paint it from afar', () => {
  const { notes, samples } = views.get('below') ?? { notes: [], samples: [] };
  expect(notes).toEqual([]);
  for (const id of ['f0', 'f1']) {
    expect(samples.find(({ selector }) => selector === `#${id} >>> #pale`)).toMatchObject({
      color: '#c8c8c8',
      background: '#ffffff',
    });
    expect(samples.find(({ selector }) => selector === `#${id} >>> #panel`)).toMatchObject({ color: '#0b3d4f', around: '#ffffff' });
  }
  expect(samples.find(({ selector }) => selector === '#long >>> #panel')).toMatchObject({ color: '#0b3d4f' });
});

test('one that forbids to be framed, or does not come, is named, and the browser’s own page in its place is not judged', () => {
  const { notes, samples } = views.get('refused') ?? { notes: [], samples: [] };
  const at = [`${far.origin}/denies`, `${far.origin.replace('127.0.0.1', 'localhost')}/forbids`, `${near.origin}/denies`];
  expect(notes).toEqual([...at, 'http://127.0.0.1:9/'].map((address) => ({ code: 'frame-refused', at: address, data: {} })));
  expect(samples.filter(({ selector }) => selector.includes('>>>'))).toEqual([]);
});
