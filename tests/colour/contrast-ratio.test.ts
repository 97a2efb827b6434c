import Color from 'colorjs.io';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { opaque } from '../../src/colour/color.ts';
import {
  contrastRatio,
  luminanceRatio,
  relativeLuminance,
  showRatio,
  toEncoded,
  toLinear,
} from '../../src/colour/contrast-ratio.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { CONTRAST_RATIOS } from '../tables/colour/contrast-ratios.ts';
import { anyOpaque } from './arbitraries.ts';

const ratioOf = (one: string, other: string): number =>
  contrastRatio({ ink: opaque(parseColor(one)), background: opaque(parseColor(other)) });

describe('contrast ratio', () => {
  // half of the last printed digit
  test.each(CONTRAST_RATIOS)('%s and %s: %d', (one, other, ratio) => {
    expect(Math.abs(ratioOf(one, other) - ratio)).toBeLessThanOrEqual(0.00006);
    expect(ratioOf(other, one)).toBe(ratioOf(one, other));
  });

  // derived: √(1.05/0.05) = 4.5826 is the best that one grey can reach against both ends; brute force over all 256 greys
  test('only #757575 and #767676 reach 4.5 on both black and white', () => {
    const greys = Array.from({ length: 256 }, (_, code) => toHex({ r: code / 255, g: code / 255, b: code / 255, alpha: 1 }));
    expect(greys.filter((grey) => ratioOf(grey, '#000000') >= 4.5 && ratioOf(grey, '#ffffff') >= 4.5)).toEqual([
      '#757575',
      '#767676',
    ]);
  });

  // derived: WCAG said 0.03928 until May 2021; thresholds × 255 are 10.016 and 10.315, no code lies between
  test('the old and the new cut give the same luminance for every 8-bit code', () => {
    for (let code = 0; code < 256; code += 1) {
      const v = code / 255;
      const old = v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
      expect(toLinear(v)).toBe(old);
    }
  });

  // second library: colorjs.io takes Y from XYZ with more digits; on white the ratios differ by .00096 at most, elsewhere by less than .003
  test('agrees with colorjs.io up to its other coefficients', () => {
    fc.assert(
      fc.property(anyOpaque, anyOpaque, (ink, background) => {
        const theirs = new Color(toHex(ink)).contrast(new Color(toHex(background)), 'WCAG21');
        const ours = ratioOf(toHex(ink), toHex(background));
        expect(Math.abs(ours - theirs)).toBeLessThan(0.003);
      }),
      { seed: 4101, numRuns: 500 },
    );
  });

  test('is symmetric, from 1 to 21, and 1 for a colour on itself', () => {
    fc.assert(
      fc.property(anyOpaque, anyOpaque, (ink, background) => {
        const ratio = contrastRatio({ ink, background });
        expect(ratio).toBe(contrastRatio({ ink: background, background: ink }));
        expect(ratio).toBeGreaterThanOrEqual(1);
        expect(ratio).toBeLessThanOrEqual(21);
        expect(contrastRatio({ ink, background: ink })).toBe(1);
      }),
      { seed: 4102 },
    );
  });

  test('encoding undoes linearising', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (v) => {
        expect(toEncoded(toLinear(v))).toBeCloseTo(v, 5);
      }),
      { seed: 4103 },
    );
  });

  // our rule: a screen clips what lies outside sRGB
  test('channels outside sRGB count as clipped', () => {
    expect(relativeLuminance({ r: 1.2, g: -0.2, b: 0, alpha: 1 })).toBe(relativeLuminance({ r: 1, g: 0, b: 0, alpha: 1 }));
  });

  // Understanding SC 1.4.3 and 1.4.11: 4.499 and 2.999 fail, so they must not be shown as passing
  test.each([
    [4.499999, '4.49'],
    [4.5, '4.50'],
    [2.999, '2.99'],
    [21, '21.00'],
    [1, '1.00'],
    [7.0047, '7.00'],
  ])('%d is shown as %s, cut and not rounded', (ratio, shown) => {
    expect(showRatio(ratio)).toBe(shown);
  });

  test('luminances may come in either order', () => {
    expect(luminanceRatio(0, 1)).toBe(luminanceRatio(1, 0));
    expect(luminanceRatio(0, 1)).toBeCloseTo(21, 12); // derived: 1.05 / 0.05
  });
});

// published (IEC 61966-2-1): v / 12.92 up to .04045, ((v + .055) / 1.055) ^ 2.4 above; 188 of 255 is half the light, within a hundredth
describe('light and codes', () => {
  test.each([
    [0, 0],
    [0.02, 0.02 / 12.92],
    [0.04, 0.04 / 12.92],
    [0.5, 0.21404],
    [188 / 255, 0.50289],
    [1, 1],
  ])('%d is %d of the light, and back', (code, light) => {
    expect(toLinear(code)).toBeCloseTo(light, 5);
    expect(toEncoded(light)).toBeCloseTo(code, 5);
  });

  test('a colour between two codes has its light between theirs', () => {
    for (const at of [0.5, 10.5, 99.5, 254.5]) {
      const [low, middle, high] = [at - 0.5, at, at + 0.5].map((code) => toLinear(code / 255));
      expect(middle).toBeGreaterThan(low ?? 1);
      expect(middle).toBeLessThan(high ?? 0);
    }
  });
});
