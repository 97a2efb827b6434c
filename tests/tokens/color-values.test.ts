// Colour values of tokens against a second library (colorjs.io), in all spaces of the Color Module 2025.10, C4.2.
import Color from 'colorjs.io';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { colorOfValue, cssColorText } from '../../src/tokens/values/color-of-value.ts';
import type { ColorSpace, ColorValue } from '../../src/tokens/values/token-value.ts';
import { problemsOf, readOne } from './read.ts';

/** Our key → the second library's, with the range to draw from (C4.2, "in practice"). */
const SPACES: Readonly<
  Record<
    ColorSpace,
    { readonly id: string; readonly max: readonly [number, number, number]; readonly min?: readonly [number, number, number] }
  >
> = {
  srgb: { id: 'srgb', max: [1, 1, 1] },
  'srgb-linear': { id: 'srgb-linear', max: [1, 1, 1] },
  'display-p3': { id: 'p3', max: [1, 1, 1] },
  'a98-rgb': { id: 'a98rgb', max: [1, 1, 1] },
  'prophoto-rgb': { id: 'prophoto', max: [1, 1, 1] },
  // The transfer curve of BT.2020 itself, which Chromium 15x paints with (seen: color(rec2020 0.4 0.5 0.45) is 97 142 126); later
  // texts of CSS Color 4 take a plain power of 2.4 instead, the second library's `rec2020`.
  rec2020: { id: '--rec2020-oetf', max: [1, 1, 1] },
  'xyz-d65': { id: 'xyz-d65', max: [0.95, 1, 1] },
  'xyz-d50': { id: 'xyz-d50', max: [0.96, 1, 0.82] },
  hsl: { id: 'hsl', max: [359, 100, 100] },
  hwb: { id: 'hwb', max: [359, 100, 100] },
  lab: { id: 'lab', max: [100, 100, 100], min: [0, -100, -100] },
  lch: { id: 'lch', max: [100, 130, 359] },
  oklab: { id: 'oklab', max: [1, 0.4, 0.4], min: [0, -0.4, -0.4] },
  oklch: { id: 'oklch', max: [1, 0.4, 359] },
};

const NAMES: readonly ColorSpace[] = [
  'srgb',
  'srgb-linear',
  'display-p3',
  'a98-rgb',
  'prophoto-rgb',
  'rec2020',
  'xyz-d65',
  'xyz-d50',
  'hsl',
  'hwb',
  'lab',
  'lch',
  'oklab',
  'oklch',
];

describe.each(NAMES)('%s', (colorSpace) => {
  const { id, max, min = [0, 0, 0] } = SPACES[colorSpace];
  const part = (i: 0 | 1 | 2): fc.Arbitrary<number> =>
    fc.integer({ min: Math.round(min[i] * 1000), max: Math.round(max[i] * 1000) }).map((n) => n / 1000);
  const values = fc
    .tuple(part(0), part(1), part(2))
    .map((components): ColorValue => ({ colorSpace, components, alpha: 1, hex: null }));

  test('gives the same sRGB as the second library', () => {
    fc.assert(
      fc.property(values, (value) => {
        const ours = colorOfValue(value);
        const [a, b, c] = value.components.map(Number);
        const theirs = new Color({ space: id, coords: [a ?? 0, b ?? 0, c ?? 0] }).to('srgb').coords;
        // Both round their matrices differently, and ProPhoto and Lab adapt between white points: half an 8-bit code is far above
        // that, and below what a screen can show. Far outside sRGB the curve is steep, hence relative.
        for (const [i, channel] of [ours.r, ours.g, ours.b].entries()) {
          expect(Math.abs(channel - (theirs[i] ?? NaN))).toBeLessThan(0.002 * Math.max(1, Math.abs(channel)));
        }
      }),
      { numRuns: 200 },
    );
  });

  test('written to a file and read again it is the same value', () => {
    fc.assert(
      fc.property(values, fc.integer({ min: 0, max: 100 }), (value, alpha) => {
        const written = { colorSpace, components: value.components, alpha: alpha / 100 };
        const graph = readOne({ reed: { $type: 'color', $value: written } });
        expect(problemsOf(graph)).toEqual([]);
        const reed = graph.resolve('reed', 'only');
        expect(reed.kind === 'value' ? reed.value.value : null).toEqual({ ...written, hex: null });
      }),
      { numRuns: 50 },
    );
  });
});

// derived: CSS Color 4 §4, §10; `none` counts as 0 in a single colour (C4.1.1)
test.each<[ColorValue, string]>([
  [{ colorSpace: 'srgb', components: [0.8, 0.6, 0.4], alpha: 1, hex: null }, 'color(srgb 0.8 0.6 0.4)'],
  [{ colorSpace: 'hsl', components: [200, 50, 'none'], alpha: 0.5, hex: null }, 'hsl(200 50% none / 0.5)'],
  [{ colorSpace: 'oklch', components: [0.5, 1e-7, 80], alpha: 1, hex: null }, 'oklch(0.5 0.0000001 80)'],
  [{ colorSpace: 'xyz-d50', components: [0.1, 0.2, 0.3], alpha: 1, hex: null }, 'color(xyz-d50 0.1 0.2 0.3)'],
])('%j is written %s', (value, text) => {
  expect(cssColorText(value)).toBe(text);
});

// C4.2, at and just outside the ends of each range, on either side of which the rule differs
test.each<[string, readonly unknown[], string]>([
  ['srgb', [0, 1, 0.5], ''],
  ['srgb', [0, 1.0001, 0.5], 'color-range'],
  ['hsl', [0, 100, 0], ''],
  ['hsl', [359.999, 0, 0], ''],
  ['hsl', [360, 0, 0], 'color-range'],
  ['hwb', [10, 100.1, 0], 'color-range'],
  ['lab', [100, 500, -500], ''],
  ['lab', [100.1, 0, 0], 'color-range'],
  ['lch', [50, 0, 0], ''],
  ['lch', [50, 1000, 0], ''],
  ['lch', [50, -1, 0], 'color-range'],
  ['oklab', [1, -9, 9], ''],
  ['oklab', [1.1, 0, 0], 'color-range'],
  ['oklch', [0, 0, 360], 'color-range'],
  ['xyz-d65', [1, 1, 1], ''],
  ['xyz-d50', [0, 0, -0.1], 'color-range'],
  ['rec2020', ['none', 'none', 'none'], ''],
])('%s %j: %s', (colorSpace, components, code) => {
  const graph = readOne({ reed: { $type: 'color', $value: { colorSpace, components } } });
  expect(problemsOf(graph)).toEqual(code === '' ? [] : [`${code} reed`]);
});

test('a hex fallback is held against the components only where sRGB can show them, within one code', () => {
  const hexOf = (components: readonly number[], hex: string, colorSpace = 'srgb'): readonly string[] =>
    problemsOf(readOne({ reed: { $type: 'color', $value: { colorSpace, components, hex } } }));
  expect(hexOf([0.2, 0.4, 0.6], '#336699')).toEqual([]);
  expect(hexOf([0.2, 0.4, 0.6], '#346699')).toEqual([]);
  expect(hexOf([0.2, 0.4, 0.6], '#356699')).toEqual(['hex-mismatch reed']);
  // outside sRGB any fallback is a choice
  expect(hexOf([1, 0, 0], '#123456', 'rec2020')).toEqual([]);
});
