import Color from 'colorjs.io';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { toCssText, toHex, toReadableText } from '../../src/colour/format-color.ts';
import { findColor, parseColor } from '../../src/colour/parse-color.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import { anyColor, anyOpaque } from './arbitraries.ts';

describe('reading CSS colours', () => {
  // published: examples and definitions of CSS Color 4 (§5.2 hex, §6.1 names, §5.1 rgb(), §7 hsl(), §8 hwb(), §9 lab/oklab, §10 color())
  test.each([
    ['#2a6f86', '#2a6f86', 1],
    ['#2A6F86', '#2a6f86', 1],
    ['#abc', '#aabbcc', 1],
    ['#abc8', '#aabbcc', 136 / 255],
    ['#2a6f8680', '#2a6f86', 128 / 255],
    ['rebeccapurple', '#663399', 1],
    ['RebeccaPurple', '#663399', 1],
    ['transparent', '#000000', 0],
    ['rgb(42 111 134)', '#2a6f86', 1],
    ['rgb(42, 111, 134)', '#2a6f86', 1],
    ['rgba(42, 111, 134, 0.5)', '#2a6f86', 0.5],
    ['rgb(42 111 134 / 50%)', '#2a6f86', 0.5],
    ['rgb(100% 0% 0%)', '#ff0000', 1],
    ['rgb(none 111 134)', '#006f86', 1],
    ['hsl(120deg 100% 25%)', '#008000', 1],
    ['hsl(0.5turn 100% 50%)', '#00ffff', 1],
    ['hwb(90 10% 10%)', '#80e61a', 1],
    ['lab(100 0 0)', '#ffffff', 1],
    ['oklab(1 0 0)', '#ffffff', 1],
    ['oklch(0.51975 0.17686 142.495)', '#008000', 1],
    ['color(srgb 1 0.5 0)', '#ff8000', 1],
    ['color(srgb none 0.5 1)', '#0080ff', 1],
    // recorded: Chromium 156 paints this; colorjs.io follows a later definition of rec2020's transfer curve
    ['color(rec2020 0.3 0.5 0.7)', '#0090bf', 1],
    ['color(srgb-linear 1 1 1 / 25%)', '#ffffff', 0.25],
    ['  #2a6f86  ', '#2a6f86', 1],
  ])('%s', (text, hex, alpha) => {
    const color = parseColor(text);
    expect(toHex(color)).toBe(hex);
    expect(color.alpha).toBeCloseTo(alpha, 6);
  });

  // second library: every notation Chromium reports for computed colours
  test.each([
    'color(display-p3 0.2 0.6 0.4)',
    'oklch(0.7 0.1 200)',
    'oklab(0.4 0.1 -0.05)',
    'lch(60 40 250)',
    'lab(40 20 -30)',
    'color(a98-rgb 0.3 0.5 0.7)',
    'color(prophoto-rgb 0.3 0.5 0.4)',
    'color(xyz-d50 0.3 0.3 0.2)',
    'color(xyz-d65 0.3 0.3 0.2)',
    'hsl(200 50% 40%)',
    'hwb(20 10% 30%)',
  ])('%s is what colorjs.io says', (text) => {
    const [r, g, b] = new Color(text).to('srgb').coords.map((v) => v ?? 0);
    const ours = parseColor(text);
    // 3e-4 is below a tenth of an 8-bit code: the libraries carry their matrices to different digits
    expect(Math.abs(ours.r - (r ?? 0))).toBeLessThan(3e-4);
    expect(Math.abs(ours.g - (g ?? 0))).toBeLessThan(3e-4);
    expect(Math.abs(ours.b - (b ?? 0))).toBeLessThan(3e-4);
  });

  test.each([
    ...[
      '100',
      'face',
      'ABC123',
      '',
      'none',
      'currentcolor',
      'Canvas',
      'var(--water)',
      '#12',
      '#12345',
      'rgb(1 2)',
      'calc(1)',
      'url(#a)',
    ],
    ...['blur(0.375rem)', 'color(', 'color()', 'translate(1px', 'inset(0 1px 2px)', 'rgb(from red r g b)', '\0(', '0 1px 2px #000'],
  ])('%j is no colour', (text) => {
    expect(findColor(text)).toBeNull();
    try {
      parseColor(text);
      expect.unreachable();
    } catch (error) {
      expect(error).toBeInstanceOf(GloamError);
      expect(error).toMatchObject({ code: 'color-unreadable', data: { text } });
    }
  });

  test('alpha beyond its range is clipped', () => {
    expect(parseColor('rgb(0 0 0 / 150%)').alpha).toBe(1);
    expect(parseColor('rgb(0 0 0 / -1)').alpha).toBe(0);
  });
});

describe('writing colours', () => {
  test('an opaque sRGB colour is #rrggbb and reads back as itself', () => {
    fc.assert(
      fc.property(anyOpaque, (color) => {
        expect(toCssText(color)).toMatch(/^#[0-9a-f]{6}$/);
        expect(parseColor(toCssText(color))).toEqual(color);
      }),
      { seed: 4401 },
    );
  });

  test('a translucent one keeps its alpha', () => {
    fc.assert(
      fc.property(anyColor, (color) => {
        const back = parseColor(toCssText(color));
        expect(toHex(back)).toBe(toHex(color));
        expect(back.alpha).toBeCloseTo(color.alpha, 5);
      }),
      { seed: 4402 },
    );
  });

  test('a colour outside sRGB is written so that nothing is lost', () => {
    const wide = parseColor('color(display-p3 0 1 0)');
    expect(toCssText(wide)).toMatch(/^color\(srgb /);
    const back = parseColor(toCssText(wide));
    for (const channel of ['r', 'g', 'b'] as const) expect(back[channel]).toBeCloseTo(wide[channel], 5);
    expect(toCssText({ ...wide, alpha: 0.5 })).toMatch(/ \/ 0\.5\)$/);
  });
});

// The colour is written in the very notation; 3 and 1 decimals.
test.each([
  ['oklch(77.4% 0.220 161.5)', 'oklch(77.4% 0.220 161.5)'],
  ['oklch(77.4% 0.220 161.5 / 0.5)', 'oklch(77.4% 0.220 161.5 / 0.5)'],
  ['#2f7a5c', '#2f7a5c'],
  ['rgb(47 122 92 / 0.5)', 'rgb(47 122 92 / 0.5)'],
])('%s is told as %s', (written, told) => {
  expect(toReadableText(parseColor(written))).toBe(told);
});
