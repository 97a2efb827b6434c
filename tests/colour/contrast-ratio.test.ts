import { describe, expect, test } from 'vitest';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { opaque } from '../../src/colour/color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';

describe('contrast ratio', () => {
  // derived: the two last greys that pass and fail 4.5 on white by WCAG 2.2's formula; ±0.0001 for the four printed digits
  test.each([
    ['#777777', '#ffffff', 4.4781],
    ['#767676', '#ffffff', 4.5422],
    ['#000000', '#ffffff', 21],
  ])('%s on %s is %f', (ink, background, ratio) => {
    expect(contrastRatio({ ink: opaque(parseColor(ink)), background: opaque(parseColor(background)) })).toBeCloseTo(ratio, 4);
  });
});
