// How pictures are read for samples: on small pictures made by hand.
import { describe, expect, test } from 'vitest';
import { parseDropShadows, parseShadowList } from '../../runner/page/css-lists.ts';
import { groupsOf, modeOf, tallyOf } from '../../runner/painted/dominant-colors.ts';
import { paintedShare } from '../../runner/painted/halo.ts';
import { addOwnPixels, ownerAt, ownershipOf } from '../../runner/painted/ownership.ts';
import type { Code, Shot } from '../../runner/painted/pixels.ts';
import { codeAt, codesIn, distance } from '../../runner/painted/pixels.ts';
import { ringAround } from '../../runner/painted/ring.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { opaque } from '../../src/colour/color.ts';
import type { Rect } from '../../src/samples/view.ts';

/** A picture of 100 × 60 CSS px, painted point by point. */
function drawn(paint: (x: number, y: number) => Code, scale = 1): Shot {
  const [widthPx, heightPx] = [100 * scale, 60 * scale];
  const data = new Uint8Array(widthPx * heightPx * 3);
  for (let y = 0; y < heightPx; y += 1) {
    for (let x = 0; x < widthPx; x += 1) {
      const code = paint(x / scale, y / scale);
      data.set([code >> 16, (code >> 8) & 255, code & 255], (y * widthPx + x) * 3);
    }
  }
  return { data, widthPx, heightPx, channels: 3, leftPx: 0, topPx: 0, scale };
}

const inside = ([left, top, width, height]: Rect, x: number, y: number): boolean =>
  x >= left && x < left + width && y >= top && y < top + height;

describe('lists of shadows', () => {
  test.each([
    ['none', []],
    ['rgba(0, 0, 0, 0.3) 0px 4px 12px 0px', [{ color: 'rgba(0, 0, 0, 0.3)', x: 0, y: 4, blur: 12, spread: 0, inset: false }]],
    ['rgb(1, 2, 3) 1px -2px 3px 4px inset', [{ color: 'rgb(1, 2, 3)', x: 1, y: -2, blur: 3, spread: 4, inset: true }]],
    [
      'rgb(0, 0, 0) 0px 1px 2px 0px, color(srgb 0 1 1 / 0.5) 0px 0px 16px 0px',
      [
        { color: 'rgb(0, 0, 0)', x: 0, y: 1, blur: 2, spread: 0, inset: false },
        { color: 'color(srgb 0 1 1 / 0.5)', x: 0, y: 0, blur: 16, spread: 0, inset: false },
      ],
    ],
    ['rgb(79, 209, 224) 0px 0px 12px', [{ color: 'rgb(79, 209, 224)', x: 0, y: 0, blur: 12, spread: 0, inset: false }]],
  ])('%s', (value, expected) => {
    expect(parseShadowList(value)).toEqual(expected);
  });

  test('drop shadows are found among other filters', () => {
    const filter = 'invert(1) drop-shadow(rgb(232, 193, 90) 0px 0px 6px) blur(2px) drop-shadow(rgb(0, 0, 0) 1px 2px 0px)';
    expect(parseDropShadows(filter).map(({ color, blur }) => [color, blur])).toEqual([
      ['rgb(232, 193, 90)', 6],
      ['rgb(0, 0, 0)', 0],
    ]);
  });
});

describe('colours of an area', () => {
  test('the mode is the most frequent exact colour, groups gather near ones', () => {
    const tally = tallyOf([0x111111, 0x111111, 0x131313, 0x141414, 0xffffff]);
    expect(modeOf(tally)).toEqual({ code: 0x111111, share: 0.4 });
    expect(groupsOf(tally, 2)).toEqual([
      { code: 0x111111, share: 0.8 },
      { code: 0xffffff, share: 0.2 },
    ]);
    expect(modeOf(new Map())).toBeNull();
  });

  test('what covers a box takes its pixels away', () => {
    const [below, above]: readonly [Rect, Rect] = [
      [0, 0, 100, 60],
      [20, 20, 40, 20],
    ];
    const shot = drawn((x, y) => (inside(above, x, y) ? 0xff0000 : 0x00ff00));
    const ownership = ownershipOf([below, above], { width: 100, height: 60 });
    for (const [index, code] of [0x00ff00, 0xff0000].entries()) {
      const tally = new Map<Code, number>();
      addOwnPixels(ownership, index, index === 0 ? below : above, shot, tally);
      expect([...tally.keys()]).toEqual([code]);
    }
    expect(ownerAt(ownership, 30, 30)).toBe(1);
    expect(ownerAt(ownership, 5, 5)).toBe(0);
  });

  test('device pixels and parts of a page are read in page coordinates', () => {
    const twice = drawn((x) => (x < 50 ? 0x000000 : 0xffffff), 2);
    expect(codeAt(twice, 49, 10)).toBe(0x000000);
    expect(codeAt(twice, 51, 10)).toBe(0xffffff);
    expect(codesIn(twice, [48, 0, 4, 1])).toHaveLength(16);
    expect(codeAt({ ...drawn((x) => x), leftPx: 1000, topPx: 500 }, 1007, 510)).toBe(7);
    expect(distance(0x102030, 0x112028)).toBe(8);
  });
});

describe('the ring around a box', () => {
  const box: Rect = [30, 20, 40, 20];
  test('is one colour where nothing else touches it', () => {
    const shot = drawn((x, y) => (inside(box, x, y) ? 0xffffff : 0x121212));
    expect(ringAround(shot, box)).toEqual({ code: 0x121212, share: 1, exact: 1 });
  });

  test('says how much of it has the prevailing colour', () => {
    const shot = drawn((_, y) => (y < 40 ? 0x121212 : 0x808080));
    const ring = ringAround(shot, box);
    expect(ring?.code).toBe(0x121212);
    expect(ring?.share).toBeGreaterThan(0.5);
    expect(ring?.share).toBeLessThan(0.85);
  });

  test('leaves out what is said to be alike, and is none where the box fills the page', () => {
    const shot = drawn((_, y) => (y < 40 ? 0x121212 : 0x808080));
    expect(ringAround(shot, box, { skip: (_, y) => y >= 40 })?.share).toBe(1);
    expect(ringAround(shot, [0, 0, 100, 60])).toBeNull();
  });
});

describe('a halo', () => {
  const hole: Rect = [30, 20, 40, 20];
  const question = (color: string): Omit<Parameters<typeof paintedShare>[0], 'pixels'> => ({
    region: [20, 10, 60, 40],
    hole,
    inks: [],
    ground: opaque(parseColor('#000000')),
    color: parseColor(color),
  });

  // derived: a ring of 40 % white on black has the code 102
  test('is as strong as its strongest pixels, in shares of the shadow’s alpha', () => {
    const shot = drawn((x, y) => (inside(hole, x, y) ? 0xffffff : inside([26, 16, 48, 28], x, y) ? 0x666666 : 0));
    expect(paintedShare({ pixels: shot, ...question('#ffffff') })).toBeCloseTo(0.4, 2);
    expect(paintedShare({ pixels: shot, ...question('rgb(255 255 255 / .5)') })).toBeCloseTo(0.8, 2);
  });

  test('of another colour is no halo', () => {
    const shot = drawn((x, y) => (inside(hole, x, y) ? 0xffffff : 0x660000));
    expect(paintedShare({ pixels: shot, ...question('#00ffff') })).toBe(0);
  });

  test('does not take letters for shadow', () => {
    const shot = drawn((x, y) => (inside([40, 25, 3, 10], x, y) ? 0xffffff : inside([35, 20, 13, 20], x, y) ? 0x404040 : 0));
    const share = paintedShare({ pixels: shot, ...question('#ffffff'), hole: null, inks: [parseColor('#ffffff')] });
    expect(share).toBeCloseTo(64 / 255, 2); // derived: the rim of code 64
  });
});
