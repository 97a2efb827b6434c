import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { shadowPeak, shadowShareAt } from '../../src/colour/shadow-profile.ts';
import { SHADOW_SHARES } from '../tables/colour/shadow-shares.ts';

const px = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });
const anyShape = fc.record({
  width: px(1, 600),
  height: px(1, 600),
  sigma: px(0, 40),
  spread: px(-20, 20),
  offset: fc.tuple(px(-40, 40), px(-40, 40)),
  inset: fc.boolean(),
});

describe('shadow profile', () => {
  test.each(SHADOW_SHARES)('%s', (_, shape, at, share) => {
    // one unit of the last printed digit: the table's erf is another approximation
    expect(Math.abs(shadowShareAt(shape, at) - share)).toBeLessThan(0.0001);
  });

  test('is a share, and no place at an edge beats the peak found at the edges', () => {
    fc.assert(
      fc.property(anyShape, px(0, 100), (shape, percent) => {
        const peak = shadowPeak(shape);
        expect(peak.share).toBeGreaterThanOrEqual(-1e-6);
        expect(peak.share).toBeLessThanOrEqual(1 + 1e-6);
        if (shape.inset || shape.sigma === 0) return;
        const along = (shape.width * percent) / 100 - shape.width / 2;
        expect(shadowShareAt(shape, [along, shape.height / 2 + 0.5])).toBeLessThanOrEqual(peak.share + 1e-6);
      }),
      { seed: 4701 },
    );
  });

  // derived: a large box is a half plane, Φ((spread + offset − ½) / σ) at the first pixel outside
  test('at a large box the peak is the normal distribution of offset and spread', () => {
    const shape = { width: 4000, height: 4000, sigma: 10, spread: 2, offset: [0, 8], inset: false } as const;
    expect(shadowPeak(shape).edge).toBe('bottom');
    expect(shadowPeak(shape).share).toBeCloseTo(0.82894, 4); // published: Φ(0.95), table of the normal distribution
  });

  test('without blur it is all or nothing', () => {
    const ring = { width: 100, height: 40, sigma: 0, spread: 2, offset: [0, 0], inset: false } as const;
    expect(shadowPeak(ring).share).toBe(1);
    expect(shadowPeak({ ...ring, spread: 0 }).share).toBe(0);
  });
});
