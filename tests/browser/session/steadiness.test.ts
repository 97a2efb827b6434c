// The same page gives the same samples and the same bytes, again and again; an aborted run ends cleanly.
import { createHash } from 'node:crypto';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { ViewResult } from '../../../src/samples/captured-view.ts';
import type { Harbour } from './harness.ts';
import { captured, renderAll, serve } from './harness.ts';

/** Nearly a month of working days. */
const TIMES = 20;

const PAGE = `<!doctype html><title>Board</title><style>
  body{font:16px/1.5 'DejaVu Sans',sans-serif;background:#f4f1e8;color:#102030;transition:all 1s} [data-look=dusk] body{background:#0b1a22;color:#dfe6e4}
  .spin{width:20px;height:20px;border:3px solid;animation:turn 1s linear infinite} @keyframes turn{to{rotate:360deg}}
  .in{animation:in 2s both} @keyframes in{from{opacity:0;translate:0 40px}}
  .band{background:linear-gradient(90deg,#0b3d4f,#e8a33d);color:#fff}
  </style><body><h1 class="in">Tide board</h1><div class="spin"></div><p class="band">Level 2.4 m and rising over the next hours</p>
  <input autofocus value="Berth"><p id="late"></p><svg width="40" height="40"><circle r="9" cx="9" cy="9"><animate attributeName="r" from="2" to="18" dur="1s" repeatCount="indefinite"/></circle></svg>
  <script>setTimeout(()=>{late.textContent='Late'},60);for(let i=0;i<60;i++)document.body.insertAdjacentHTML('beforeend','<p>Row '+i+' of the <b>table</b></p>')</script>`;

const themes: readonly Theme[] = ['noon', 'dusk'].map((name) => ({
  name,
  tone: name === 'noon' ? 'light' : 'dark',
  tokens: {},
  apply: { attributes: [{ on: 'html', name: 'data-look', value: name }] },
}));

let harbour: Harbour;
beforeAll(async () => {
  // The same page under twenty names: one run captures it so often.
  harbour = await serve(Object.fromEntries(Array.from({ length: TIMES }, (_, n) => [`/p${String(n)}`, PAGE])));
});
afterAll(() => harbour.close());

const digest = (result: ViewResult): string => {
  const { shot, samples, notes } = captured(result);
  const plain = JSON.stringify([samples, notes]).replaceAll(result.view.id, 'view').replaceAll(`/${result.view.page}`, '/page');
  return `${createHash('sha256').update(shot).digest('hex').slice(0, 12)} ${createHash('sha256').update(plain).digest('hex').slice(0, 12)}`;
};

test(`${String(TIMES)} captures of one page in two themes: two pictures, two lists of samples`, async () => {
  const paths = Array.from({ length: TIMES }, (_, n) => `/p${String(n)}`);
  const results = await renderAll({ origin: harbour.origin, paths, themes, request: { workers: 2 } });
  expect(results).toHaveLength(TIMES * 2);
  for (const theme of ['noon', 'dusk']) {
    const seen = new Set(results.filter((result) => result.view.theme === theme).map(digest));
    expect([...seen], theme).toHaveLength(1);
  }
});

test('a theme put on in place looks as after a fresh load', async () => {
  const fresh = themes.map((theme) => ({ ...theme, apply: { ...theme.apply, reload: true } }));
  const inPlace = await renderAll({ origin: harbour.origin, paths: ['/p0'], themes });
  const loaded = await renderAll({ origin: harbour.origin, paths: ['/p0'], themes: fresh });
  expect(loaded.map(digest).sort()).toEqual(inPlace.map(digest).sort());
});

/** Of a control: no element that a page can ask for. */
const PARTS: readonly (readonly [string, string])[] = [
  ['::-webkit-slider-runnable-track', '<input type="range">'],
  ['::-webkit-slider-thumb', '<input type="range">'],
  ['::-webkit-progress-bar', '<progress value=".4"></progress>'],
  ['::-webkit-progress-value', '<progress value=".4"></progress>'],
  ['::-webkit-meter-bar', '<meter value=".4"></meter>'],
  ['::-webkit-color-swatch', '<input type="color">'],
  ['::file-selector-button', '<input type="file">'],
  ['::placeholder', '<input placeholder="Berth">'],
];

test('parts of controls change with the theme at once, whatever they would rather do', async () => {
  const part = (rule: string, name: string, at: number): string =>
    `.c${String(at)}${name}{appearance:none;height:20px;color:#102030;background:#f4f1e8;${rule}} [data-look=dusk] .c${String(at)}${name}{color:#dfe6e4;background:#0b3d4f}`;
  const control = (tag: string, at: number): string =>
    `<p>${tag.replace(/^<\w+/u, (start) => `${start} class="c${String(at)}"`)}</p>`;
  const page = (rule: string): string => `<!doctype html><title>Board</title><style>
    html{background:#fff} [data-look=dusk]{background:#0b1a22} input,progress,meter{appearance:none;width:200px;height:24px;font-size:20px}
    ${PARTS.map(([name], at) => part(rule, name, at)).join('\n')} @keyframes blink{to{opacity:0}}</style><body>${PARTS.map(([, tag], at) => control(tag, at)).join('')}`;
  const rules = {
    still: '',
    slow: 'transition:color 4s,background 4s',
    insists: 'transition:color 4s,background 4s!important',
    blinks: 'animation:blink 1.3s infinite',
  };
  const own = await serve(Object.fromEntries(Object.entries(rules).map(([name, rule]) => [`/${name}`, page(rule)])));
  try {
    const results = await renderAll({ origin: own.origin, paths: Object.keys(rules).map((name) => `/${name}`), themes });
    for (const theme of ['noon', 'dusk']) {
      const seen = new Map(results.filter(({ view }) => view.theme === theme).map((result) => [result.view.page, digest(result)]));
      for (const [name, digests] of seen) expect(digests, `${name} in ${theme}`).toBe(seen.get('still'));
    }
  } finally {
    await own.close();
  }
});

test('keys are the same in every theme', async () => {
  const results = await renderAll({ origin: harbour.origin, paths: ['/p0'], themes });
  const [noon, dusk] = results.map((result) =>
    captured(result)
      .samples.filter(({ kind }) => kind === 'text')
      .map(({ key }) => key),
  );
  expect(dusk).toEqual(noon);
  expect(new Set(noon).size).toBe(noon?.length);
});

test('an aborted run ends soon, throws the reason and hands over nothing more', async () => {
  const abort = new AbortController();
  const reason = new Error('enough');
  let after = 0;
  const paths = Array.from({ length: TIMES }, (_, n) => `/p${String(n)}`);
  const run = renderAll({
    origin: harbour.origin,
    paths,
    themes,
    request: { workers: 2, signal: abort.signal },
    onResult: () => {
      if (abort.signal.aborted) after += 1;
      abort.abort(reason);
    },
  });
  await expect(run).rejects.toBe(reason);
  expect(after).toBe(0);
});

test('what the sink throws ends the run', async () => {
  const reason = new Error('the disk is full');
  const run = renderAll({
    origin: harbour.origin,
    paths: ['/p0', '/p1', '/p2'],
    themes,
    request: { workers: 2 },
    onResult: () => {
      throw reason;
    },
  });
  await expect(run).rejects.toBe(reason);
});
