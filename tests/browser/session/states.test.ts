// Views in a state: chosen elements, all interactive elements, clicks and scripts; nothing of it stays for the next view.
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import { LIMITS } from '../../../runner/tab/limits.ts';
import { Tab } from '../../../runner/tab/tab.ts';
import { settleAfterLoad } from '../../../runner/theme/settle.ts';
import type { State, Theme } from '../../../src/plan/configuration.ts';
import type { ViewResult } from '../../../src/samples/captured-view.ts';
import type { Harbour } from './harness.ts';
import { captured, renderAll, serve, texts } from './harness.ts';

const PAGE = `<!doctype html><title>Berths</title><style>
  body{font:20px/24px 'DejaVu Sans',sans-serif;color:#102030;background:#fff} [data-look=dusk] body{background:#0b3d4f;color:#fff}
  #moor{color:#102030;background:#e8e8e8;border:0;transition:all 3s}
  #moor:hover{background:#0b3d4f;color:#e8a33d} #moor:focus{color:#552200} #moor:focus-visible{background:#ffddaa}
  #moor:active{color:#ffffff;background:#770000}
  nav:hover a{color:#00557f} nav a:hover{color:#770000}
  .row:hover{background:#0b3d4f;color:#fff} .row:focus-within{background:#ffddaa;color:#552200}
  #menu{display:none;background:#0b3d4f;color:#fff} #menu.open{display:block;animation:in 2s} @keyframes in{from{opacity:0}}
  #byscript{display:none} dialog::backdrop{background:none}
  </style><body>
  <button id="moor">Moor</button>
  <nav><a href="#a" id="one">Quay</a> <a href="#b" id="two">Jetty</a> <a href="#c" id="three">Mole</a> <a href="#d" id="four">Pile</a></nav>
  <div class="row" tabindex="0"><span>Row</span> <a href="#e" id="inner">Inner</a></div>
  <button id="opener" onclick="menu.classList.toggle('open')">Menu</button><div id="menu">Moorings</div>
  <p id="byscript">Scripted</p><p id="listener" onmouseenter="this.textContent='Entered'" onmouseleave="this.textContent='Listener'">Listener</p>
  <button disabled id="off">Off</button>
  <div style="height:3000px"></div><button id="far">Far</button><style>#far:hover{background:#0b3d4f;color:#e8a33d}</style>`;

const on = 'html';
const THEMES: readonly Theme[] = [
  { name: 'noon', tone: 'light', tokens: {}, apply: { attributes: [{ on, name: 'data-look', value: 'noon' }] } },
  { name: 'dusk', tone: 'dark', tokens: {}, apply: { attributes: [{ on, name: 'data-look', value: 'dusk' }] } },
];

let folder: string;
let harbour: Harbour;
let results: readonly ViewResult[];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'gloam-states-'));
  const file = join(folder, 'show.js');
  await writeFile(file, 'document.getElementById("byscript").style.display = "block"');
  const states: readonly State[] = [
    { name: 'hovered', kind: 'hover', selector: '#moor' },
    { name: 'focused', kind: 'focus', selector: '#moor' },
    { name: 'pressed', kind: 'active', selector: '#moor' },
    { name: 'far', kind: 'hover', selector: '#far' },
    { name: 'entered', kind: 'hover', selector: '#listener' },
    { name: 'opened', kind: 'click', selector: '#opener' },
    { name: 'scripted', kind: 'script', file },
    { name: 'all-hovered', kind: 'hover', selector: '*' },
    { name: 'all-focused', kind: 'focus', selector: '*' },
    { name: 'nothing', kind: 'hover', selector: '#nowhere' },
  ];
  harbour = await serve({ '/': PAGE });
  results = await renderAll({ origin: harbour.origin, paths: ['/'], themes: THEMES, states });
});
afterAll(async () => {
  await harbour.close();
  await rm(folder, { recursive: true });
});

const view = (state: string, theme = 'noon'): ViewResult | undefined =>
  results.find((r) => r.view.state === state && r.view.theme === theme);
const look = (state: string, theme = 'noon'): Readonly<Record<string, readonly [string, string]>> =>
  Object.fromEntries(texts(view(state, theme)).map((text) => [text.text, [text.color, text.background]]));

// All expected colours are written in the page above.
describe('a chosen element', () => {
  test('is hovered, at once where it moves slowly', () => {
    expect(look('hovered')['Moor']).toEqual(['#e8a33d', '#0b3d4f']);
  });
  test('is focused as by keyboard', () => {
    expect(look('focused')['Moor']).toEqual(['#552200', '#ffddaa']);
  });
  test('is pressed', () => {
    expect(look('pressed')['Moor']).toEqual(['#ffffff', '#770000']);
  });
  test('is hovered far down the page', () => {
    expect(look('far')['Far']).toEqual(['#e8a33d', '#0b3d4f']);
  });
  test('tells its listeners', () => {
    expect(Object.keys(look('entered'))).toContain('Entered');
  });
  test('is clicked, once for all themes', () => {
    expect(look('opened')['Moorings']).toEqual(['#ffffff', '#0b3d4f']);
    expect(look('opened', 'dusk')['Moorings']).toEqual(['#ffffff', '#0b3d4f']);
  });
  test('that is not there is a reason', () => {
    expect(view('nothing')).toMatchObject({ status: 'failed', code: 'place-not-found' });
  });
});

test('what a timer starts and a later frame draws is waited for', async () => {
  const draw = "requestAnimationFrame(()=>requestAnimationFrame(()=>{this.textContent='Opened'}))";
  const tips = await serve({
    '/': `<!doctype html><title>Tip</title><p id="tip" onmouseenter="setTimeout(()=>${draw},100)">Slow</p>`,
  });
  try {
    const states: readonly State[] = [{ name: 'hovered', kind: 'hover', selector: '#tip' }];
    const seen = await renderAll({ origin: tips.origin, paths: ['/'], themes: THEMES.slice(0, 1), states });
    const told = seen.flatMap((each) => texts(each).map(({ text }) => `${each.view.state}: ${text}`));
    expect(told.sort()).toEqual(['hovered: Opened', 'rest: Slow']);
  } finally {
    await tips.close();
  }
});

test('at rest nothing is hovered, and nobody is taken to be about to leave', async () => {
  // Who leaves over the upper edge is asked to stay (common practice).
  const board = await serve({
    '/': `<!doctype html><title>Corner</title><p id="corner" style="position:absolute;left:0;top:0;width:90px;height:40px">Corner</p>
      <p id="stay" style="margin-top:60px">Quay</p>
      <script>document.addEventListener('mouseout',(event)=>{if(event.clientY<=0)stay.textContent='Stay'})</script>`,
  });
  const browser = await launchBrowser(await findBrowser(process.env));
  try {
    const seen: string[] = [];
    // In all tabs but the first the pointer is at the top left before anyone moves it (measured).
    for (let n = 0; n < 3; n += 1) {
      const tab = await Tab.open(browser, { limits: LIMITS, signal: new AbortController().signal });
      await tab.goto(`${board.origin}/`);
      await settleAfterLoad(tab);
      seen.push(await tab.page.evaluate(() => `${String(document.querySelector(':hover')?.localName)} ${document.body.innerText}`));
      await tab.close();
    }
    expect(seen).toEqual(Array.from({ length: 3 }, () => 'undefined Corner\n\nQuay'));
  } finally {
    await browser.close();
    await board.close();
  }
});

// Each page would otherwise be clicked beside its button, and the view taken for one of the menu.
test.each([
  [
    'what moves away as it comes into view',
    `<style>html{overflow-anchor:none}</style><div style="height:2000px"></div><div id="ebb" style="height:10px"></div><button id="go">Go</button><div style="height:380px"></div>
     <script>addEventListener('scroll',()=>requestAnimationFrame(()=>{ebb.style.height=scrollY>0?'150px':'10px'}))</script>`,
  ],
  [
    'what something covers as soon as the pointer comes',
    `<button id="go">Go</button><div id="veil" style="position:fixed;inset:0;display:none"></div>
     <script>addEventListener('mousemove',()=>veil.style.display='block',{once:true})</script>`,
  ],
  [
    'what is pressed and gone before the click',
    `<button onpointerdown="this.remove();document.body.append('Opened')" id="go">Go</button>`,
  ],
  ['what answers the press and takes the click', `<button id="go" onpointerdown="event.preventDefault()">Go</button>`],
])('%s is clicked, once', async (_, html) => {
  const opens =
    "document.getElementById('go').addEventListener('click',()=>{const p=document.createElement('p');p.textContent='Opened';document.body.append(p)})";
  const pages = await serve({ '/': `<!doctype html><title>Go</title><body>${html}<script>${opens}</script>` });
  try {
    const states: readonly State[] = [{ name: 'gone', kind: 'click', selector: '#go' }];
    const seen = await renderAll({ origin: pages.origin, paths: ['/'], themes: THEMES.slice(0, 1), states });
    const told = seen.flatMap((each) => texts(each).map(({ text }) => `${each.view.state}: ${text}`));
    expect(told.filter((text) => text.endsWith('Opened'))).toEqual(['gone: Opened']);
  } finally {
    await pages.close();
  }
});

test('a script brings the page into its state', () => {
  expect(Object.keys(look('scripted'))).toContain('Scripted');
  expect(Object.keys(look('rest'))).not.toContain('Scripted');
});

test('nothing of a state stays', () => {
  for (const state of ['rest', 'hovered', 'focused', 'pressed', 'far']) {
    const { Moor, Far, ...rest } = look(state);
    expect([Moor, Far]).toHaveLength(2);
    expect(Object.keys(rest)).toEqual(['Quay', 'Jetty', 'Mole', 'Pile', 'Row', 'Inner', 'Menu', 'Listener', 'Off']);
    if (state !== 'far') expect(Far?.[1]).toBe('#efefef');
    if (state === 'rest' || state === 'far') expect(Moor).toEqual(['#102030', '#e8e8e8']);
  }
  expect(look('rest', 'dusk')['Moor']).toEqual(['#102030', '#e8e8e8']);
});

describe('all interactive elements', () => {
  test('are judged hovered, each by itself', () => {
    const seen = look('all-hovered');
    expect(seen['Moor']).toEqual(['#e8a33d', '#0b3d4f']);
    for (const name of ['Quay', 'Jetty', 'Mole', 'Pile']) expect(seen[name], name).toEqual(['#770000', '#ffffff']);
    expect(seen['Row']).toEqual(['#ffffff', '#0b3d4f']);
    expect(seen['Far']).toEqual(['#e8a33d', '#0b3d4f']);
  });
  test('are judged focused, each by itself', () => {
    const seen = look('all-focused');
    expect(seen['Moor']).toEqual(['#552200', '#ffddaa']);
    expect(seen['Row']).toEqual(['#552200', '#ffddaa']);
  });
  test('and nothing else is: no other text, no disabled control', () => {
    expect(Object.keys(look('all-hovered')).sort()).toEqual([
      'Far',
      'Inner',
      'Jetty',
      'Menu',
      'Mole',
      'Moor',
      'Pile',
      'Quay',
      'Row',
    ]);
  });
  test('each place has one sample with a key of its own', () => {
    const keys = texts(view('all-hovered')).map((text) => text.key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(captured(view('all-hovered')).notes).toEqual([]);
  });
});
