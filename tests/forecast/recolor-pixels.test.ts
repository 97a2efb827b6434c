// A picture recoloured: every expected pixel is derived by hand, as a mixture in the same share of the two new colours.
import { expect, test } from 'vitest';
import type { PixelLook, Rgb } from '../../src/forecast/recolor-pixels.ts';
import { recolorPixels } from '../../src/forecast/recolor-pixels.ts';

function pictureOf(rows: readonly (readonly Rgb[])[]): Uint8ClampedArray {
  return Uint8ClampedArray.from(rows.flat().flatMap(([red, green, blue]) => [red, green, blue, 255]));
}

function recolored(rows: readonly (readonly Rgb[])[], looks: readonly PixelLook[]): readonly Rgb[] {
  const pixels = pictureOf(rows);
  recolorPixels(pixels, rows[0]?.length ?? 0, looks);
  return Array.from({ length: pixels.length / 4 }, (_, at): Rgb => [
    pixels[at * 4] ?? -1,
    pixels[at * 4 + 1] ?? -1,
    pixels[at * 4 + 2] ?? -1,
  ]);
}

const [INK, DECK, RUST]: readonly [Rgb, Rgb, Rgb] = [
  [0, 0, 0],
  [200, 200, 200],
  [180, 60, 40],
];
const text = (rect: PixelLook['rect']): PixelLook => ({
  rect,
  part: 'both',
  before: { fore: INK, back: DECK },
  after: { fore: [255, 255, 255], back: [20, 40, 60] },
});

test('ink, background and what lies between them go the same share of the new way; other colours stay', () => {
  // derived: [50, 50, 50] is 3/4 of the way from 200 to 0, so 20 + 0.75 × 235 = 196.25, 40 + 0.75 × 215 = 201.25, 60 + 0.75 × 195 = 206.25
  expect(recolored([[INK, [50, 50, 50], DECK, RUST]], [text([0, 0, 4, 1])])).toEqual([
    [255, 255, 255],
    [196, 201, 206],
    [20, 40, 60],
    RUST,
  ]);
});

test('only inside its place, also where that reaches beyond the picture; a small place counts before the large one it lies in', () => {
  const small: PixelLook = { ...text([1, 1, 1, 1]), after: { fore: RUST, back: [1, 2, 3] } };
  const rows: readonly (readonly Rgb[])[] = [
    [DECK, DECK],
    [DECK, INK],
  ];
  expect(recolored(rows, [text([-3, 0, 4, 9])])).toEqual([[20, 40, 60], DECK, [20, 40, 60], INK]);
  expect(recolored(rows, [text([0, 0, 2, 2]), small])).toEqual([[20, 40, 60], [20, 40, 60], [20, 40, 60], RUST]);
});

test('a surface is its own colour alone: what is drawn on it and around it stays', () => {
  const surface: PixelLook = { ...text([0, 0, 4, 1]), part: 'fore', before: { fore: DECK, back: INK } };
  expect(recolored([[DECK, [203, 200, 200], [100, 100, 100], INK]], [surface])).toEqual([
    [255, 255, 255],
    [255, 255, 255],
    [100, 100, 100],
    INK,
  ]);
});
