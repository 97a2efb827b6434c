import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fromCodes } from '../../src/colour/color.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import {
  colorAt,
  LEAST_LOG,
  lightnessOfLog,
  logLuminance,
  logOfLightness,
  MIDDLE_LOG,
  MOST_LOG,
} from '../../src/palette/log-luminance.ts';
import { lpText } from '../../src/palette/lp-text.ts';

const color = fc.tuple(fc.nat(255), fc.nat(255), fc.nat(255)).map(([r, g, b]) => fromCodes(r, g, b));

describe('the scale on which ratios are differences', () => {
  test('the ratio of two colours is the exponential of their difference (WCAG 2.2, "contrast ratio")', () => {
    fc.assert(
      fc.property(color, color, (ink, background) => {
        const difference = Math.abs(logLuminance(ink) - logLuminance(background));
        expect(Math.exp(difference)).toBeCloseTo(contrastRatio({ ink, background }), 9);
      }),
    );
  });

  test('black and white lie 21 apart, and the middle reaches √21 with both (derived)', () => {
    expect(Math.exp(MOST_LOG - LEAST_LOG)).toBeCloseTo(21, 9);
    expect(Math.exp(MOST_LOG - MIDDLE_LOG)).toBeCloseTo(Math.sqrt(21), 9);
  });

  test('L* and back', () => {
    for (const lightness of [0, 5, 8, 20, 50, 90, 100]) expect(lightnessOfLog(logOfLightness(lightness))).toBeCloseTo(lightness, 9);
  });

  test('a colour moved to another luminance comes within one code of it', () => {
    fc.assert(
      fc.property(color, fc.double({ min: 0.02, max: 0.98, noNaN: true }), (start, share) => {
        const log = LEAST_LOG + share * (MOST_LOG - LEAST_LOG);
        // One code of grey is worth at most .01 on this scale above black (derived: 1/255/12.92/0.05 = .006), a coloured one up to three channels of it.
        expect(Math.abs(logLuminance(colorAt(start, log)) - log)).toBeLessThan(0.02);
      }),
      { numRuns: 60 },
    );
  });
});

test('a programme in the text form of solvers', () => {
  const text = lpText({
    variables: [
      { lower: 0, upper: Infinity, cost: 1 },
      { lower: -Infinity, upper: 4, cost: 0 },
      { lower: 0, upper: 1, cost: -2, isChoice: true },
    ],
    rows: [
      {
        terms: [
          { variable: 0, factor: 1 },
          { variable: 1, factor: -0.5 },
        ],
        lower: 2,
      },
      {
        terms: [
          { variable: 1, factor: 1 },
          { variable: 2, factor: 1 },
        ],
        lower: 1,
        upper: 1,
      },
    ],
  });
  expect(text.replaceAll(/\s+/g, ' ')).toBe(
    'Minimize obj: + 1 x0 - 2 x2 Subject To r0l: + 1 x0 - 0.5 x1 >= 2 r1: + 1 x1 + 1 x2 = 1 ' +
      'Bounds 0 <= x0 <= +inf -inf <= x1 <= 4 0 <= x2 <= 1 General x2 End ',
  );
});
