import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Color, Opaque } from '../../src/colour/color.ts';
import { BLACK, fromCodes, opaque, TRANSPARENT, WHITE } from '../../src/colour/color.ts';
import type { BlendMode } from '../../src/colour/composite.ts';
import { blendOver, flatten, isBlendMode, over, withOpacity } from '../../src/colour/composite.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { BLEND_MODES } from '../tables/colour/blend-modes.ts';
import { anyColor, anyOpaque } from './arbitraries.ts';

const codes = (c: Color): readonly number[] => [c.r * 255, c.g * 255, c.b * 255];
const hex = (text: string): Opaque => opaque(parseColor(text));

function expectCodes(color: Color, expected: readonly number[], tolerance: number): void {
  codes(color).forEach((value, i) => {
    expect(Math.abs(value - (expected[i] ?? Number.NaN))).toBeLessThanOrEqual(tolerance);
  });
}

describe('source-over', () => {
  // derived from Compositing and Blending 1 §5: αs·Cs + (1 − αs)·Cb on gamma-encoded codes; Chromium 156 paints the same within 1
  test.each([
    ['black .5 on white', ['rgb(0 0 0 / .5)'], '#ffffff', [127.5, 127.5, 127.5]],
    ['white .08 on #121212', ['rgb(255 255 255 / .08)'], '#121212', [36.96, 36.96, 36.96]],
    ['two layers', ['rgb(31 111 235 / .4)', 'rgb(232 163 61 / .25)'], '#0b3d4f', [72.25, 101.5, 121.3]],
    ['red .5, blue .5 over it', ['rgb(255 0 0 / .5)', 'rgb(0 0 255 / .5)'], '#ffffff', [127.5, 63.75, 191.25]],
  ] as const)('%s', (_, layers, ground, expected) => {
    expectCodes(flatten(layers.map(parseColor), hex(ground)), expected, 0.05);
  });

  // derived: the group [red, blue over it] is blue; opacity is applied to it once
  test('a group with opacity is composited once', () => {
    const group = over(parseColor('#0000ff'), parseColor('#ff0000'));
    expectCodes(over(withOpacity(group, 0.5), WHITE), [127.5, 127.5, 255], 1e-9);
  });

  // derived: co = αs·Cs + αb·Cb·(1 − αs), un-premultiplied; two half blacks and whites
  test('two translucent layers give a translucent one', () => {
    const mixed = over({ ...BLACK, alpha: 0.5 }, { ...WHITE, alpha: 0.5 });
    expect(mixed.alpha).toBe(0.75);
    expect(mixed.r).toBeCloseTo(1 / 3, 12);
  });

  test('nothing over nothing is nothing', () => {
    expect(over(TRANSPARENT, TRANSPARENT)).toEqual(TRANSPARENT);
    expect(blendOver('plus-lighter', TRANSPARENT, TRANSPARENT)).toEqual(TRANSPARENT);
  });

  test('alpha 1 gives the source, alpha 0 the backdrop, else each channel lies between', () => {
    fc.assert(
      fc.property(anyColor, anyOpaque, (source, backdrop) => {
        const mixed = over(source, backdrop);
        expect(over({ ...source, alpha: 1 }, backdrop)).toEqual(opaque(source));
        expectCodes(over({ ...source, alpha: 0 }, backdrop), codes(backdrop), 1e-9);
        for (const channel of ['r', 'g', 'b'] as const) {
          expect(mixed[channel]).toBeGreaterThanOrEqual(Math.min(source[channel], backdrop[channel]) - 1e-12);
          expect(mixed[channel]).toBeLessThanOrEqual(Math.max(source[channel], backdrop[channel]) + 1e-12);
        }
      }),
      { seed: 4201 },
    );
  });

  test('layers may be joined in any grouping', () => {
    fc.assert(
      fc.property(anyColor, anyColor, anyOpaque, (top, middle, ground) => {
        expectCodes(over(over(top, middle), ground), codes(over(top, over(middle, ground))), 1e-9);
      }),
      { seed: 4202 },
    );
  });
});

describe('blend modes', () => {
  test.each(BLEND_MODES)('%s', (mode, expected) => {
    expectCodes(blendOver(mode, hex('#e8a33d'), hex('#2f7f86')), expected, 0.5);
  });

  // derived: Co = (1 − αs)·Cb + αs·B(Cb, Cs) on an opaque backdrop; Chromium 156 paints 11 50 49
  test('multiply with opacity .5 on an opaque backdrop', () => {
    expectCodes(blendOver('multiply', withOpacity(hex('#e8a33d'), 0.5), hex('#0b3d4f')), [10.5, 50, 48.95], 0.05);
  });

  // derived (§5.7, §5.8 with αb = .6); Chromium 156: 124 146 113 and 121 141 104
  test.each([
    ['multiply', 0.5, [124.3, 146.1, 113]],
    ['plus-lighter', 0.4, [121, 141.4, 104.8]],
  ] as const)('%s on a translucent backdrop, then on white', (mode, alpha, expected) => {
    const backdrop = withOpacity(hex('#2f7f86'), 0.6);
    expectCodes(over(blendOver(mode, withOpacity(hex('#e8a33d'), alpha), backdrop), WHITE), expected, 0.06);
  });

  // published: Compositing and Blending 1 §10.1.7, §10.1.8, the cases of the two singular ends
  test.each([
    ['color-dodge', '#000000', '#ffffff', '#000000'],
    ['color-dodge', '#404040', '#ffffff', '#ffffff'],
    ['color-burn', '#ffffff', '#000000', '#ffffff'],
    ['color-burn', '#404040', '#000000', '#000000'],
  ] as const)('%s of %s with %s is %s', (mode, backdrop, source, expected) => {
    expectCodes(blendOver(mode, hex(source), hex(backdrop)), codes(hex(expected)), 1e-9);
  });

  // derived from §10.1.9 at B = .2: D = ((16·.2 − 12)·.2 + 4)·.2 = .448; with S = 1 the result is D, with S = .5 it is B
  test.each([
    ['#ffffff', 0.448],
    ['#808080', 0.2 + (1 / 255) * (0.448 - 0.2)],
  ])('soft-light of %s on a dark grey', (source, expected) => {
    expect(blendOver('soft-light', hex(source), fromCodes(51, 51, 51)).r).toBeCloseTo(expected, 9);
  });

  test('only modes that CSS knows are modes', () => {
    expect(['multiply', 'plus-lighter', 'normal', 'revert', ''].map(isBlendMode)).toEqual([true, true, true, false, false]);
  });

  test('a transparent source changes nothing, and every result stays in range', () => {
    const modes = BLEND_MODES.map(([mode]): BlendMode => mode);
    fc.assert(
      fc.property(fc.constantFrom(...modes), anyColor, anyOpaque, (mode, source, backdrop) => {
        expectCodes(blendOver(mode, { ...source, alpha: 0 }, backdrop), codes(backdrop), 1e-9);
        for (const value of codes(blendOver(mode, source, backdrop))) {
          expect(value).toBeGreaterThanOrEqual(-1e-9);
          expect(value).toBeLessThanOrEqual(255 + 1e-9);
        }
      }),
      { seed: 4203, numRuns: 400 },
    );
  });

  test('on a transparent backdrop every mode paints the plain source', () => {
    for (const [mode] of BLEND_MODES) expectCodes(blendOver(mode, fromCodes(10, 120, 200), TRANSPARENT), [10, 120, 200], 1e-9);
  });
});
