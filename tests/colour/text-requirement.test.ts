import { describe, expect, test } from 'vitest';
import { isLargeText, requiredContrast } from '../../src/colour/text-requirement.ts';

// published: WCAG 2.2, definition "large scale": at least 18 point or 14 point bold; 1 pt = 4/3 CSS px (CSS Values 4 §6.2), so 24 and
// 18⅔ px. The rows at 18.66 and 18.6 are ours: where the computed 18.6667 px is rounded, it still counts.
describe('large text', () => {
  test.each([
    [24, 400, true],
    [23.99, 400, false],
    [24, 100, true],
    [(14 * 4) / 3, 700, true],
    [18.66, 700, true],
    [18.6, 700, false],
    [18.67, 699, false],
    [18.67, 600, false],
    [18.67, 900, true],
    [16, 900, false],
    [100, 400, true],
  ])('%d px, weight %d: %s', (fontSizeCssPx, fontWeight, large) => {
    expect(isLargeText({ fontSizeCssPx, fontWeight })).toBe(large);
  });

  // published: SC 1.4.3 (AA), SC 1.4.6 (AAA)
  test.each([
    [false, 'AA', 4.5],
    [true, 'AA', 3],
    [false, 'AAA', 7],
    [true, 'AAA', 4.5],
  ] as const)('large: %s at %s needs %d', (large, level, ratio) => {
    expect(requiredContrast(large, level)).toBe(ratio);
  });
});
