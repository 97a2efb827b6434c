import Color from 'colorjs.io';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inSrgbGamut, opaque } from '../../src/colour/color.ts';
import type { SpaceName } from '../../src/colour/color-spaces.ts';
import { componentsIn } from '../../src/colour/color-spaces.ts';
import { intoSrgb } from '../../src/colour/into-gamut.ts';
import { fromOklch, toOklch } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { anyOpaque } from './arbitraries.ts';

describe('components in another space', () => {
  // second library; it writes no hue for greys, and percentages as we do
  test.each<[SpaceName, string, number]>([
    ['srgb', 'srgb', 1e-9],
    ['srgb-linear', 'srgb-linear', 1e-6],
    ['display-p3', 'p3', 1e-4],
    ['a98-rgb', 'a98rgb', 1e-4],
    ['prophoto-rgb', 'prophoto', 1e-3],
    ['xyz-d65', 'xyz-d65', 1e-4],
    ['xyz-d50', 'xyz-d50', 1e-4],
    ['hsl', 'hsl', 1e-6],
    ['hwb', 'hwb', 1e-6],
    ['lab', 'lab', 0.02],
    ['lch', 'lch', 0.02],
    ['oklab', 'oklab', 1e-4],
    ['oklch', 'oklch', 0.02],
  ])('%s', (space, theirs, tolerance) => {
    for (const text of ['#1f6feb', '#e8a33d', '#2f7f86']) {
      const expected = new Color(text).to(theirs).coords.map((value) => value ?? 0);
      componentsIn(space, parseColor(text)).forEach((value, at) => {
        expect(Math.abs(value - (expected[at] ?? Number.NaN)), `${text} ${String(at)}`).toBeLessThan(tolerance);
      });
    }
  });

  test('a hue that says nothing is 0', () => {
    expect(componentsIn('hsl', parseColor('#808080'))[0]).toBe(0);
    expect(componentsIn('hwb', parseColor('#ffffff'))).toEqual([0, 100, 0]);
  });
});

describe('a colour that no screen can paint', () => {
  // CSS Color 4 §13.2: lightness and hue stay, chroma goes down as far as it must and no further
  test('gives chroma up, and no more than it must', () => {
    fc.assert(
      fc.property(
        fc.record({
          okLightness: fc.double({ min: 0.2, max: 0.95, noNaN: true }),
          chroma: fc.double({ min: 0.33, max: 0.5, noNaN: true }),
          hueDeg: fc.integer({ min: 0, max: 359 }),
        }),
        (wide) => {
          const near = intoSrgb(fromOklch(wide));
          const { okLightness, chroma, hueDeg } = toOklch(near);
          expect(inSrgbGamut(near)).toBe(true);
          expect(okLightness).toBeCloseTo(wide.okLightness, 4);
          expect(Math.cos(((hueDeg - wide.hueDeg) * Math.PI) / 180)).toBeCloseTo(1, 4);
          expect(inSrgbGamut(fromOklch({ okLightness, chroma: chroma + 1e-3, hueDeg: wide.hueDeg }))).toBe(false);
        },
      ),
      { seed: 4801 },
    );
  });

  test('lighter than white is white, darker than black is black', () => {
    for (const [lightness, code] of [
      [1.2, 1],
      [-0.2, 0],
    ] as const)
      for (const channel of Object.values(intoSrgb(fromOklch({ okLightness: lightness, chroma: 0.1, hueDeg: 80 }))).slice(0, 3))
        expect(Math.abs(channel - code)).toBeLessThan(0.01);
  });

  test('what a screen can paint stays as it is', () => {
    fc.assert(
      fc.property(anyOpaque, (color) => {
        expect(intoSrgb(color)).toBe(color);
      }),
      { seed: 4802 },
    );
  });

  // derived: half an 8-bit code of grace, .5 / 255 = .00196
  test.each([
    [-0.0019, true],
    [-0.0021, false],
    [1.0019, true],
    [1.0021, false],
  ])('a channel of %d is inside: %s', (value, inside) => {
    for (const channel of ['r', 'g', 'b'])
      expect(inSrgbGamut({ ...opaque({ r: 0.5, g: 0.5, b: 0.5 }), [channel]: value })).toBe(inside);
  });
});
