import { environment, toCam16 } from 'colorjs.io/src/spaces/cam16.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cam16, D65, equivalentLightness, toXyz } from '../../src/colour/appearance.ts';
import { fromCodes, opaque } from '../../src/colour/color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { CAM16 } from '../tables/colour/cam16.ts';
import { EQUIVALENT_LIGHTNESS } from '../tables/colour/equivalent-lightness.ts';
import { anyOpaque } from './arbitraries.ts';

const hex = (text: string): ReturnType<typeof opaque> => opaque(parseColor(text));

describe('CAM16', () => {
  // second library: the worked example in the documents of colour-science 0.4.6 for Li and others 2017
  test('the worked example', () => {
    const seen = cam16([19.01, 20, 21.78], {
      white: [95.05, 100, 108.88],
      adaptingLuminance: 318.31,
      background: 20,
      surround: 'average',
    });
    expect(seen.lightness).toBeCloseTo(41.7312, 4);
    expect(seen.chroma).toBeCloseTo(0.1033557, 6);
    expect(seen.hueDeg).toBeCloseTo(217.068, 3);
    expect(seen.saturation).toBeCloseTo(2.345, 3);
    expect(seen.brightness).toBeCloseTo(195.3717, 4);
    expect(seen.colourfulness).toBeCloseTo(0.1074, 4);
  });

  test.each(CAM16)('%s on a background of Y %d', (srgb, background, lightness, chroma, colourfulness, saturation) => {
    const seen = cam16(toXyz(hex(srgb)), { white: D65, adaptingLuminance: 16, background, surround: 'average' });
    // printed to one decimal
    expect(Math.abs(seen.lightness - lightness)).toBeLessThan(0.06);
    expect(Math.abs(seen.chroma - chroma)).toBeLessThan(0.06);
    expect(Math.abs(seen.colourfulness - colourfulness)).toBeLessThan(0.06);
    expect(Math.abs(seen.saturation - saturation)).toBeLessThan(0.06);
  });

  // second library, in all three surrounds
  test('agrees with colorjs.io', () => {
    const surround = fc.constantFrom('average', 'dim', 'dark');
    const conditions = fc.tuple(fc.integer({ min: 1, max: 300 }), fc.integer({ min: 1, max: 100 }), surround);
    fc.assert(
      fc.property(anyOpaque, conditions, (color, [adaptingLuminance, background, around]) => {
        const [x, y, z] = toXyz(color);
        const white: [number, number, number] = [D65[0] / 100, 1, D65[2] / 100];
        const theirs = toCam16([x / 100, y / 100, z / 100], environment(white, adaptingLuminance, background, around, false));
        const ours = cam16([x, y, z], { white: D65, adaptingLuminance, background, surround: around });
        expect(ours.lightness).toBeCloseTo(theirs.J, 6);
        expect(ours.colourfulness).toBeCloseTo(theirs.M, 6);
        expect(ours.chroma).toBeCloseTo(theirs.C, 6);
        expect(ours.brightness).toBeCloseTo(theirs.Q, 6);
      }),
      { seed: 4501, numRuns: 300 },
    );
  });
});

describe('equivalent lightness', () => {
  test.each(EQUIVALENT_LIGHTNESS)('%s (L* %d) looks like L* %d', (srgb, _, equivalent) => {
    expect(Math.abs(equivalentLightness(hex(srgb)) - equivalent)).toBeLessThan(0.006);
  });

  test('greys look as light as they are', () => {
    for (let code = 0; code < 256; code += 15) {
      const grey = fromCodes(code, code, code);
      // derived: L* of the luminance; .02 since culori's white point leaves greys a trace of chroma
      expect(Math.abs(equivalentLightness(grey) - greyLightness(code))).toBeLessThan(0.02);
    }
  });
});

/** CIE 15 on the sRGB curve, written out once more. */
function greyLightness(code: number): number {
  const v = code / 255;
  const y = v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (y * 24389) / 27;
}
