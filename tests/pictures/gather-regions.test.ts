import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gatherRegions, type Mask } from '../../src/pictures/gather-regions.ts';

const SIDE = 120;

function maskOf(points: readonly (readonly [x: number, y: number])[]): Mask {
  const mask = new Uint8Array(SIDE * SIDE);
  for (const [x, y] of points) mask[y * SIDE + x] = 1;
  return { widthPx: SIDE, heightPx: SIDE, mask };
}

const points = fc.array(fc.tuple(fc.integer({ min: 0, max: SIDE - 1 }), fc.integer({ min: 0, max: SIDE - 1 })), { maxLength: 60 });

describe('regions of changed pixels', () => {
  test('hold every changed pixel once, tightly', () => {
    fc.assert(
      fc.property(points, (list) => {
        const mask = maskOf(list);
        const regions = gatherRegions(mask);
        const there = new Set(list.map(([x, y]) => y * SIDE + x));
        expect(regions.reduce((sum, region) => sum + region.pixels, 0)).toBe(there.size);
        for (const [x, y] of list) {
          expect(regions.some((r) => x >= r.left && x < r.right && y >= r.top && y < r.bottom)).toBe(true);
        }
        for (const { left, top, right, bottom } of regions) {
          const on = (match: (x: number, y: number) => boolean): boolean => list.some(([x, y]) => match(x, y));
          expect(
            on((x) => x === left) && on((x) => x === right - 1) && on((_, y) => y === top) && on((_, y) => y === bottom - 1),
          ).toBe(true);
        }
      }),
    );
  });

  test('join pixels up to 8 px apart, and keep apart those 16 px from all others', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 90 }), fc.integer({ min: 0, max: 90 }), fc.integer({ min: -8, max: 8 }), (x, y, by) => {
        const near = gatherRegions(
          maskOf([
            [x, y],
            [Math.min(119, Math.max(0, x + by)), Math.min(119, y + 8)],
          ]),
        );
        expect(near).toHaveLength(1);
        const far = gatherRegions(
          maskOf([
            [x, y],
            [x + 16, y + 16],
          ]),
        );
        expect(far).toHaveLength(2);
      }),
    );
  });

  test('do not depend on the order of pixels, and stay few enough to look at', () => {
    fc.assert(
      fc.property(points, (list) => {
        expect(gatherRegions(maskOf(list.toReversed()))).toEqual(gatherRegions(maskOf(list)));
      }),
    );
    const width = 2000;
    const mask = new Uint8Array(width * width);
    for (let y = 0; y < width; y += 20) for (let x = 0; x < width; x += 20) mask[y * width + x] = 1;
    const regions = gatherRegions({ widthPx: width, heightPx: width, mask });
    expect(regions.length).toBeLessThanOrEqual(200);
    expect(regions.reduce((sum, region) => sum + region.pixels, 0)).toBe(10_000);
  });

  test('are none where nothing changed', () => {
    expect(gatherRegions(maskOf([]))).toEqual([]);
  });
});
