import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { opaque } from '../../src/colour/color.ts';
import { inSrgbGamut } from '../../src/colour/color.ts';
import { seenWith } from '../../src/colour/colour-vision.ts';
import { cuspChroma, cuspShare } from '../../src/colour/cusp.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { fromOklch, toOklch } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { COLOUR_VISION } from '../tables/colour/colour-vision.ts';
import { anyOpaque } from './arbitraries.ts';

describe('the most chromatic colour of a hue', () => {
  // published: OKLCH of the sRGB primaries and secondaries (CSS Color 4), which are their own cusps
  test.each([
    ['#ff0000', 0.25768],
    ['#ffff00', 0.21101],
    ['#00ff00', 0.29483],
    ['#00ffff', 0.15455],
    ['#0000ff', 0.31321],
    ['#ff00ff', 0.32249],
  ])('%s is one, chroma %d', (text, chroma) => {
    const { hueDeg } = toOklch(parseColor(text));
    expect(Math.abs(cuspChroma(hueDeg) - chroma)).toBeLessThan(0.0005);
    expect(cuspChroma(hueDeg + 360)).toBeCloseTo(cuspChroma(hueDeg), 9);
    expect(cuspShare(toOklch(parseColor(text)))).toBeGreaterThan(0.998);
  });

  // derived: search over okLightness and chroma for the last colour inside the sRGB gamut
  test.each([30, 90, 142, 195, 264, 328, 0, 60, 120, 240, 300])('at %d° no sRGB colour has more chroma', (hueDeg) => {
    let most = 0;
    for (let okLightness = 0.3; okLightness < 1; okLightness += 0.005) {
      for (let chroma = most; chroma < 0.4; chroma += 0.001) {
        // strict: the half code of grace in inSrgbGamut would let through some .003 more
        const { r, g, b } = fromOklch({ okLightness, chroma, hueDeg });
        if (Math.min(r, g, b) < -1e-4 || Math.max(r, g, b) > 1.0001) break;
        most = chroma;
      }
    }
    expect(Math.abs(cuspChroma(hueDeg) - most)).toBeLessThan(0.004);
  });

  test('no sRGB colour exceeds its cusp', () => {
    fc.assert(
      fc.property(anyOpaque, (color) => {
        const { chroma, hueDeg } = toOklch(color);
        expect(chroma).toBeLessThanOrEqual(cuspChroma(hueDeg) + 0.001);
        expect(cuspShare({ chroma, hueDeg })).toBeLessThanOrEqual(1);
      }),
      { seed: 4801, numRuns: 500 },
    );
  });
});

describe('colour-vision deficiency', () => {
  test.each(COLOUR_VISION)('%s seen with %s is %s', (text, deficiency, seen) => {
    expect(toHex(seenWith(deficiency, opaque(parseColor(text))))).toBe(seen);
  });

  // derived: each row of the matrices sums to 1 (protan, deutan exactly, tritan to the printed digits), so greys stay
  test.each(['protan', 'deutan', 'tritan'] as const)('greys stay grey with %s', (deficiency) => {
    for (const text of ['#000000', '#808080', '#ffffff', '#121212']) {
      const seen = seenWith(deficiency, opaque(parseColor(text)));
      const wanted = parseColor(text);
      for (const channel of ['r', 'g', 'b'] as const) expect(Math.abs(seen[channel] - wanted[channel])).toBeLessThan(0.5 / 255);
    }
  });

  test('what is seen lies inside sRGB', () => {
    fc.assert(
      fc.property(anyOpaque, fc.constantFrom('protan', 'deutan', 'tritan'), (color, deficiency) => {
        expect(inSrgbGamut(seenWith(deficiency, color))).toBe(true);
      }),
      { seed: 4802 },
    );
  });
});
