// Which verdict a contrast, a size and a weight lead to (WCAG 2.2 SC 1.4.3, 1.4.6, definitions "contrast ratio", "large scale").
import { describe, expect, test } from 'vitest';
import { judge } from '../../../runner/text/verdict.ts';
import { contrastOfPairs } from '../../../runner/text/contrast-of-pairs.ts';
import type { ContrastLevel } from '../../../src/colour/text-requirement.ts';
import type { Verdict } from '../../../src/samples/sample.ts';

describe('size and weight decide what is required', () => {
  // "Large scale": at least 18 point or 14 point bold; 1 pt = 1.333 px. Bold is CSS 700 (CSS Fonts 4 §2.2).
  const rows: readonly (readonly [sizeCssPx: number, weight: number, level: ContrastLevel, large: boolean, required: number])[] = [
    [16, 400, 'AA', false, 4.5],
    [16, 900, 'AA', false, 4.5],
    [18, 700, 'AA', false, 4.5],
    [18.65, 700, 'AA', false, 4.5],
    [18.66, 700, 'AA', true, 3],
    // 14 pt as browsers compute it.
    [18.6667, 700, 'AA', true, 3],
    [18.6667, 699, 'AA', false, 4.5],
    [18.6667, 900, 'AA', true, 3],
    [23.99, 400, 'AA', false, 4.5],
    [24, 400, 'AA', true, 3],
    [24, 100, 'AA', true, 3],
    [72, 400, 'AA', true, 3],
    [16, 400, 'AAA', false, 7],
    [18.6667, 700, 'AAA', true, 4.5],
    [23.99, 400, 'AAA', false, 7],
    [24, 400, 'AAA', true, 4.5],
  ];
  test.each(rows)('%f px, weight %i, %s: large %s, %f', (fontSizeCssPx, fontWeight, level, large, required) => {
    expect(judge({ contrast: { min: 21, max: 21 }, fontSizeCssPx, fontWeight, level })).toMatchObject({ large, required });
  });
});

describe('least and highest contrast decide the verdict, unrounded', () => {
  const rows: readonly (readonly [min: number, max: number, sizeCssPx: number, level: ContrastLevel, verdict: Verdict])[] = [
    [4.5, 4.5, 16, 'AA', 'pass'],
    // Understanding SC 1.4.3: 4.499:1 would not meet 4.5:1.
    [4.499, 4.499, 16, 'AA', 'fail'],
    [4.49999999, 4.49999999, 16, 'AA', 'fail'],
    [4.499, 4.5, 16, 'AA', 'mixed'],
    [1, 21, 16, 'AA', 'mixed'],
    [4.5, 21, 16, 'AA', 'pass'],
    [1, 4.499, 16, 'AA', 'fail'],
    [3, 3, 24, 'AA', 'pass'],
    [2.999, 2.999, 24, 'AA', 'fail'],
    [2.999, 3, 24, 'AA', 'mixed'],
    [7, 7, 16, 'AAA', 'pass'],
    [6.999, 6.999, 16, 'AAA', 'fail'],
    [4.5, 4.5, 24, 'AAA', 'pass'],
    [4.499, 4.499, 24, 'AAA', 'fail'],
  ];
  test.each(rows)('%f to %f at %f px, %s: %s', (min, max, fontSizeCssPx, level, verdict) => {
    expect(judge({ contrast: { min, max }, fontSizeCssPx, fontWeight: 400, level }).verdict).toBe(verdict);
  });
});

test('an exempt text has no requirement and says why', () => {
  const exempt = { reason: 'inactive', why: 'button is disabled' } as const;
  expect(judge({ contrast: { min: 1, max: 1 }, fontSizeCssPx: 16, fontWeight: 400, level: 'AA', exempt })).toEqual({
    large: false,
    required: null,
    exempt: 'inactive',
    verdict: 'exempt',
    why: 'button is disabled',
  });
});

test('what cannot be measured neither passes nor fails', () => {
  const unknown = 'its lines moved while it was measured';
  expect(judge({ contrast: { min: 21, max: 21 }, fontSizeCssPx: 16, fontWeight: 400, level: 'AA', unknown })).toMatchObject({
    verdict: 'unknown',
    why: unknown,
  });
});

describe('pairs of colours', () => {
  // Published ratios of greys on white and black, reference "contrast and colour" §1 (computed there with two libraries).
  const rows: readonly (readonly [ink: number, background: number, contrast: number])[] = [
    [0x000000, 0xffffff, 21],
    [0x777777, 0xffffff, 4.4781],
    [0x767676, 0xffffff, 4.5422],
    [0x959595, 0xffffff, 2.9953],
    [0x949494, 0xffffff, 3.0335],
    [0x595959, 0xffffff, 7.0047],
    [0xff0000, 0xffffff, 3.9985],
    [0x0000ff, 0x000000, 2.444],
    [0xffff00, 0x4189b9, 3.5533],
  ];
  test.each(rows)('%s on %s', (ink, background, contrast) => {
    expect(contrastOfPairs([{ ink, background, count: 1 }], null)?.min).toBeCloseTo(contrast, 4);
  });

  test('one pixel in a thousand does not decide, two in a hundred do', () => {
    const white = { ink: 0, background: 0xffffff, count: 999 };
    const odd = contrastOfPairs([white, { ink: 0, background: 0, count: 1 }], null);
    expect([odd?.min, odd?.lowest]).toEqual([21, 1]);
    const many = contrastOfPairs(
      [
        { ...white, count: 980 },
        { ink: 0, background: 0, count: 20 },
      ],
      null,
    );
    expect([many?.min, many?.lowest]).toEqual([1, 1]);
  });

  test('a border round the letters helps where it stands out more than they do', () => {
    expect(contrastOfPairs([{ ink: 0xffffff, background: 0xffffff, count: 9 }], 0x000000)?.min).toBe(21);
    expect(contrastOfPairs([{ ink: 0x000000, background: 0xffffff, count: 9 }], 0xeeeeee)?.min).toBe(21);
  });

  test('backgrounds met are listed by frequency, at most eight, near ones once', () => {
    const pairs = Array.from({ length: 20 }, (_, n) => ({ ink: 0, background: (n * 12) << 16, count: n + 1 }));
    const spread = contrastOfPairs([...pairs, { ink: 0, background: (19 * 12 + 1) << 16, count: 1 }], null)?.spread ?? [];
    expect(spread.map((one) => one.background >> 16)).toEqual([228, 216, 204, 192, 180, 168, 156, 144]);
    expect(spread[0]?.share).toBeCloseTo(21 / 211, 6);
  });
});
