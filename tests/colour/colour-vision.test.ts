import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { opaque } from '../../src/colour/color.ts';
import { inSrgbGamut } from '../../src/colour/color.ts';
import { seenWith } from '../../src/colour/colour-vision.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { COLOUR_VISION } from '../tables/colour/colour-vision.ts';
import { anyOpaque } from './arbitraries.ts';

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
