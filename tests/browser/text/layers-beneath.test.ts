// Samples name what lies behind a text, bottom first, also where its ancestors do not tell.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { TextSample } from '../../../src/samples/sample.ts';
import type { Harbour } from '../session/harness.ts';
import { renderAll, serve, texts } from '../session/harness.ts';

const PAGE = `<!doctype html><title>Layers</title><style>body{margin:0;font:20px/24px 'DejaVu Sans',sans-serif;background:#f4f1e8}
  #under{position:absolute;top:100px;width:300px;height:60px;background:#123456}
  #over{position:absolute;top:110px;margin:0;color:#fff}
  #card{position:relative;z-index:0;margin-top:200px;height:60px} #card::before{content:"";position:absolute;inset:0;z-index:-1;background:#0b3d4f}
  </style><div id="plain" style="background:rgb(255 255 255/.5)"><p id="own" style="margin:0;background:#e8a33d">Level</p></div>
  <div id="under"></div><div style="position:absolute;top:100px;width:300px;height:60px;background:#fff;opacity:0"></div><p id="over">Tide</p>
  <div id="card"><p style="color:#fff;margin:0">Height</p></div>
  <img id="photo" alt="" style="position:absolute;top:400px;width:300px;height:60px" src="data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg"><rect width="300" height="150" fill="#123456"/></svg>')}">
  <p style="position:absolute;top:410px;margin:0;color:#fff">Quay</p>`;

let harbour: Harbour;
let found: readonly TextSample[];
beforeAll(async () => {
  harbour = await serve({ '/': PAGE });
  found = texts((await renderAll({ origin: harbour.origin, paths: ['/'] }))[0]);
});
afterAll(() => harbour.close());

const layers = (text: string): unknown =>
  found
    .find((sample) => sample.text === text)
    ?.layers.map(({ selector, kind, paint, opacity }) => [selector, kind, paint?.color, opacity]);
const BELOW = [
  [null, 'color', 'rgb(255, 255, 255)', 1],
  ['html > body', 'color', 'rgb(244, 241, 232)', 1],
];

test('ancestors, from the canvas up', () => {
  expect(layers('Level')).toEqual([
    ...BELOW,
    ['#plain', 'color', 'rgba(255, 255, 255, 0.5)', 1],
    ['#own', 'color', 'rgb(232, 163, 61)', 1],
  ]);
});
test('a sibling beneath, and none that is not seen', () => {
  expect(layers('Tide')).toEqual([...BELOW, ['#under', 'color', 'rgb(18, 52, 86)', 1]]);
});
test('a pseudo-element beneath', () => {
  expect(layers('Height')).toEqual([...BELOW, ['#card::before', 'color', 'rgb(11, 61, 79)', 1]]);
});
test('an image beneath', () => {
  expect(layers('Quay')).toEqual([...BELOW, ['#photo', 'picture', undefined, 1]]);
});
