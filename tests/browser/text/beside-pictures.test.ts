// Words beside a background image of their own box, or on an inset shadow that covers it, are known without a further picture; words that
// lie on an image are measured on it.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { TextSample } from '../../../src/samples/sample.ts';
import type { Harbour } from '../session/harness.ts';
import { renderAll, serve, texts } from '../session/harness.ts';

const IMAGE = `url("data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg" width="20" height="20"><path d="M0 0h20v20H0z" fill="#0b3d4f"/></svg>')}")`;
/** 300 px wide with 10 px of padding and a border of 2 px; the words at the left, 16 px high, about 60 px wide. */
const BOX =
  'box-sizing:border-box;width:300px;height:60px;padding:10px;border:2px solid #888;margin:4px;background-color:#f4f1ea;color:#222;font:16px sans-serif';

/** Where the words lie is hand-worked: from 12 px on, up to some 75 px from the left edge and 12 to 32 px from the upper one. */
const CASES: readonly (readonly [says: string, style: string, on: 'beside' | 'on the image'])[] = [
  ['an arrow at the right', 'background-position:right 12px center;background-size:16px 12px', 'beside'],
  ['sized by its width alone', 'background-position:right 12px center;background-size:16px auto', 'beside'],
  ['a share of the width', 'background-position:100% 0;background-size:30% 100%', 'beside'],
  ['at the foot', 'background-position:0 100%;background-size:100% 6px', 'beside'],
  ['from the border on', 'background-origin:border-box;background-position:calc(100% - 4px) 50%;background-size:1em 1em', 'beside'],
  ['as large as it is itself, anywhere', 'background-position:0 0', 'on the image'],
  ['under the words', 'background-position:left 10px top 10px;background-size:80px 30px', 'on the image'],
  ['over the whole width', 'background-position:right center;background-size:100% 100%', 'on the image'],
  ['repeated', 'background-repeat:repeat-x;background-position:right 12px top 10px;background-size:16px 24px', 'on the image'],
  ['as large as fits', 'background-position:left center;background-size:cover', 'on the image'],
];

let harbour: Harbour;
let runs: readonly TextSample[];

beforeAll(async () => {
  const boxes = CASES.map(
    ([, style], at) =>
      `<div id="box${String(at)}" style='${BOX};background-image:${IMAGE};background-repeat:no-repeat;${style}'>Level ${String(at)}</div>`,
  );
  harbour = await serve({
    '/': `<!doctype html><meta charset=utf-8><title>Quay</title><body style="background:#fff">${boxes.join('')}`,
  });
  const [result] = await renderAll({ origin: harbour.origin, paths: ['/'] });
  runs = texts(result);
});
afterAll(() => harbour.close());

test.each(CASES.map(([says, , on], at) => [says, on, at] as const))('%s: %s', (_, on, at) => {
  const run = runs.find(({ selector }) => selector === `#box${String(at)}`);
  if (on === 'beside') expect(run).toMatchObject({ basis: 'computed', background: '#f4f1ea', color: '#222222' });
  // The lowest contrast is that on the image.
  else expect(run).toMatchObject({ basis: 'pixels', background: '#0b3d4f' });
});

// derived: black at .5 over #f4f1ea is #7a7975 (Compositing 1 §5.1); inset shadows lie above the background (CSS Backgrounds 3 §6.1)
test.each([
  ['that covers it', 'inset 0 0 0 9999px rgb(0 0 0 / 0.5)', { basis: 'computed', background: '#7a7975' }],
  ['beside an outer one', '0 2px 4px #ccc, inset 0 0 0 9999px rgb(0 0 0 / 0.5)', { basis: 'computed', background: '#7a7975' }],
  [
    'with another one on it',
    'inset 0 0 0 30px #0b3d4f, inset 0 0 0 9999px rgb(0 0 0 / 0.5)',
    { basis: 'pixels', background: '#0b3d4f' },
  ],
  ['that is soft', 'inset 0 0 400px 100px #0b3d4f', { basis: 'pixels' }],
  ['along the edge', 'inset 0 0 0 4px #0b3d4f', { basis: 'computed', background: '#f4f1ea' }],
])('an inset shadow %s', async (_, shadow, expected) => {
  const quay = await serve({
    '/': `<!doctype html><meta charset=utf-8><title>Quay</title><body style="background:#fff"><div style='${BOX};box-shadow:${shadow}'>Level</div>`,
  });
  try {
    const [result] = await renderAll({ origin: quay.origin, paths: ['/'] });
    expect(texts(result)[0]).toMatchObject(expected);
  } finally {
    await quay.close();
  }
});

/** White at .1: derived, over #16222a it is #2d383f; twice, #42 4c 52 (Compositing 1 §5.1), or what a code of rounding makes of it. */
const LIFT = 'linear-gradient(rgb(255 255 255 / .1), rgb(255 255 255 / .1))';

test.each([
  ['of one colour', LIFT, { basis: 'computed', background: '#2d383f' }, ['background-color', 'background-image']],
  ['of one colour with more stops', 'radial-gradient(circle at top, #345 10%, #345 40%, #345)', { background: '#334455' }, null],
  ['two of one colour each', `${LIFT}, ${LIFT}`, { basis: 'computed', background: '#424c52' }, null],
  ['that is blended', `${LIFT}; background-blend-mode: multiply`, { basis: 'pixels' }, null],
  ['of two colours', 'linear-gradient(#0b3d4f, #16222a)', { basis: 'pixels' }, ['background-color', undefined]],
  ['of one colour over a part', `${LIFT};background-repeat:no-repeat;background-size:100% 50%`, { basis: 'pixels' }, null],
  ['of one colour below one of two', `linear-gradient(#0b3d4f, #16222a), ${LIFT}`, { basis: 'pixels' }, null],
])('a gradient %s', async (_, image, expected, properties) => {
  const quay = await serve({
    '/': `<!doctype html><meta charset=utf-8><title>Quay</title><style>div { background-image: ${image} }</style><body style="background:#fff"><div style="${BOX};background-color:#16222a;color:#eee">Level</div>`,
  });
  try {
    const [result] = await renderAll({ origin: quay.origin, paths: ['/'] });
    const [run] = texts(result);
    expect(run).toMatchObject(expected);
    if (properties !== null) expect(run?.layers.slice(-2).map(({ paint }) => paint?.property)).toEqual(properties);
  } finally {
    await quay.close();
  }
});

test('a gradient of one colour that a token holds is traced to it', async () => {
  const quay = await serve({
    '/': `<!doctype html><meta charset=utf-8><title>Quay</title><style>:root { --lift: rgb(255 255 255 / .1); --face: #16222a } div { background: linear-gradient(var(--lift), var(--lift)) var(--face); color: #eee }</style><div>Level</div>`,
  });
  try {
    const [result] = await renderAll({ origin: quay.origin, paths: ['/'] });
    const [run] = texts(result);
    expect(run?.layers.slice(1).map(({ paint }) => paint?.origin)).toMatchObject([
      { kind: 'token', property: '--face' },
      { kind: 'token', property: '--lift' },
    ]);
  } finally {
    await quay.close();
  }
});
