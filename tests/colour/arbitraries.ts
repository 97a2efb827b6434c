// Random colours for laws; seeds stand in the tests.
import fc from 'fast-check';
import type { Color, Opaque } from '../../src/colour/color.ts';
import { fromCodes } from '../../src/colour/color.ts';

const code = fc.integer({ min: 0, max: 255 });

export const anyOpaque: fc.Arbitrary<Opaque> = fc.tuple(code, code, code).map(([r, g, b]) => fromCodes(r, g, b));

/** Alpha in percent, so that texts stay exact. */
export const anyColor: fc.Arbitrary<Color> = fc
  .tuple(anyOpaque, fc.integer({ min: 0, max: 100 }))
  .map(([color, percent]) => ({ ...color, alpha: percent / 100 }));
