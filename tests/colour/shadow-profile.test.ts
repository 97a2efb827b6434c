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

  // derived: the same, turned; inset, the hole moves away from the edge it was at, and the first pixel lies inside
  test.each([
    [[0, 8], 'bottom', 'top'],
    [[0, -8], 'top', 'bottom'],
    [[8, 0], 'right', 'left'],
    [[-8, 0], 'left', 'right'],
  ] as const)('moved by %j it is strongest at the %s, inset at the %s', (offset, outer, inner) => {
    const shape = { width: 4000, height: 3000, sigma: 10, spread: 2, offset };
    for (const [inset, edge] of [
      [false, outer],
      [true, inner],
    ] as const) {
      const peak = shadowPeak({ ...shape, inset });
      expect(peak.edge).toBe(edge);
      expect(peak.share).toBeCloseTo(0.82894, 4);
    }
  });

  // derived: without blur a place lies in the moved box or not
  test.each([
    // along the right edge, 20 px down, lies the upper end of a box moved by 30 and 30; its middle does not
    [{ width: 40, height: 40, spread: 0, offset: [30, 30] }, 'right', 1],
    [{ width: 40, height: 40, spread: 0, offset: [-30, -30] }, 'top', 1],
    // a strip moved below itself touches no pixel beside its edges
    [{ width: 100, height: 10, spread: 0, offset: [5, 30] }, 'top', 0],
    [{ width: 100, height: 10, spread: 0, offset: [5, -30] }, 'top', 0],
    [{ width: 10, height: 100, spread: 0, offset: [30, 5] }, 'top', 0],
    [{ width: 10, height: 100, spread: 0, offset: [-30, 5] }, 'top', 0],
    // grown by half a pixel it just reaches the first one
    [{ width: 40, height: 40, spread: 0.5, offset: [0, 0] }, 'top', 1],
    [{ width: 40, height: 40, spread: 0.4, offset: [0, 0] }, 'top', 0],
    // shrunk to nothing
    [{ width: 40, height: 40, spread: -20, offset: [20.5, 0] }, 'top', 0],
  ] as const)('%j, unblurred: %s, %d', (shape, edge, share) => {
    expect(shadowPeak({ ...shape, sigma: 0, inset: false })).toEqual({ edge, share });
  });

  test('without blur it is all or nothing', () => {
    const ring = { width: 100, height: 40, sigma: 0, spread: 2, offset: [0, 0], inset: false } as const;
    expect(shadowPeak(ring).share).toBe(1);
    expect(shadowPeak({ ...ring, spread: 0 }).share).toBe(0);
  });
});
