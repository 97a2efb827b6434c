import Color from 'colorjs.io';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { opaque } from '../../src/colour/color.ts';
import { relativeLuminance } from '../../src/colour/contrast-ratio.ts';
import { inSrgbGamut } from '../../src/colour/color.ts';
import { toHex } from '../../src/colour/format-color.ts';
import {
  cieLightness,
  deltaE2000,
  deltaE2000OfLab,
  deltaEOk,
  fromOklch,
  lightnessOfLuminance,
  luminanceOfLightness,
  toLab65,
  toOklch,
} from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { CIEDE2000_PAIRS } from '../tables/colour/ciede2000-pairs.ts';
import { COLOUR_SPACES } from '../tables/colour/colour-spaces.ts';
import { anyOpaque } from './arbitraries.ts';

type Triple = readonly [number, number, number];
const lab = ([lightness, a, b]: Triple): { lightness: number; a: number; b: number } => ({ lightness, a, b });

describe('colour spaces', () => {
  // tolerances: Y and L* of the table use six-digit coefficients of CSS Color 4, ours the four of WCAG (.00005 in Y, .01 in L*);
  // OKLab rows are printed to five digits, culori's matrix differs in the sixth
  test.each(COLOUR_SPACES)('%s', (srgb, luminance, lightness, [okL], chroma, hueDeg) => {
    const color = opaque(parseColor(srgb));
    expect(Math.abs(relativeLuminance(color) - luminance)).toBeLessThan(0.00006);
    expect(Math.abs(cieLightness(color) - lightness)).toBeLessThan(0.01);
    const oklch = toOklch(color);
    expect(Math.abs(oklch.okLightness - okL)).toBeLessThan(0.00002);
    expect(Math.abs(oklch.chroma - chroma)).toBeLessThan(0.00002);
    expect(Math.abs(oklch.hueDeg - (hueDeg ?? 0))).toBeLessThan(0.01);
  });

  // second library
  test('OKLCH and Lab (D65) agree with colorjs.io', () => {
    fc.assert(
      fc.property(anyOpaque, (color) => {
        const theirs = new Color(toHex(color));
        const [l, a, b] = theirs.to('oklab').coords.map((v) => v ?? 0);
        const { okLightness, chroma, hueDeg } = toOklch(color);
        const radians = (hueDeg * Math.PI) / 180;
        // 1e-4: culori and colorjs.io carry OKLab's matrices to different digits; greys below 1e-4 chroma have hue 0 here
        expect(Math.abs(okLightness - (l ?? 0))).toBeLessThan(1e-4);
        expect(Math.abs(chroma * Math.cos(radians) - (a ?? 0))).toBeLessThan(1.5e-4);
        expect(Math.abs(chroma * Math.sin(radians) - (b ?? 0))).toBeLessThan(1.5e-4);
        const ours = toLab65(color);
        const lab65 = theirs.to('lab-d65').coords.map((v) => v ?? 0);
        // .01: rounded white points and matrices
        expect(Math.abs(ours.lightness - (lab65[0] ?? 0))).toBeLessThan(0.01);
        expect(Math.abs(ours.a - (lab65[1] ?? 0))).toBeLessThan(0.02);
        expect(Math.abs(ours.b - (lab65[2] ?? 0))).toBeLessThan(0.02);
      }),
      { seed: 4301, numRuns: 400 },
    );
  });

  test('OKLCH there and back is the same colour, and inside the gamut', () => {
    fc.assert(
      fc.property(anyOpaque, (color) => {
        const back = fromOklch(toOklch(color));
        expect(inSrgbGamut(back)).toBe(true);
        expect(toHex(back)).toBe(toHex(color));
      }),
      { seed: 4302 },
    );
  });

  // published: CIE 15, both branches meet at Y = 216/24389 (L* 8), white is 100
  test('L* has its two branches', () => {
    expect(lightnessOfLuminance(216 / 24389)).toBeCloseTo(8, 10);
    expect(lightnessOfLuminance(0)).toBe(0);
    expect(lightnessOfLuminance(1)).toBeCloseTo(100, 10);
    expect(lightnessOfLuminance(0.18418651851244416)).toBeCloseTo(50, 10); // derived: ((50 + 16) / 116)³
    for (let l = 0; l <= 100; l += 0.5) expect(lightnessOfLuminance(luminanceOfLightness(l))).toBeCloseTo(l, 9);
  });

  // derived: rows of the published step table, 12 codes each (CIE 15 lightness)
  test.each([
    ['#121212', '#1e1e1e', 5.8],
    ['#2a2a2a', '#363636', 5.55],
    ['#808080', '#8c8c8c', 4.67],
    ['#f3f3f3', '#ffffff', 4.16],
  ])('%s to %s is a step of %d L*', (one, other, step) => {
    const difference = cieLightness(opaque(parseColor(other))) - cieLightness(opaque(parseColor(one)));
    expect(Math.abs(difference - step)).toBeLessThan(0.006);
  });
});

describe('colour differences', () => {
  test.each(CIEDE2000_PAIRS)('CIEDE2000 of %j and %j is %d', (one, other, difference) => {
    expect(Math.abs(deltaE2000OfLab(lab(one), lab(other)) - difference)).toBeLessThan(0.00006);
    expect(Math.abs(deltaE2000OfLab(lab(other), lab(one)) - difference)).toBeLessThan(0.00006);
  });

  // second library: the same Lab numbers in both, since colorjs.io would measure with a D50 white
  test('CIEDE2000 agrees with colorjs.io', () => {
    fc.assert(
      fc.property(anyOpaque, anyOpaque, (one, other) => {
        const [a, b] = [toLab65(one), toLab65(other)];
        const theirs = new Color('lab', [a.lightness, a.a, a.b]).deltaE(new Color('lab', [b.lightness, b.a, b.b]), '2000');
        expect(Math.abs(deltaE2000(one, other) - theirs)).toBeLessThan(1e-6);
      }),
      { seed: 4303, numRuns: 300 },
    );
  });

  // derived with culori and colorjs.io; printed to five digits
  test.each([
    ['#121212', '#1e1e1e', 0.05283],
    ['#1f6feb', '#2073f0', 0.01232],
  ])('ΔE OK of %s and %s is %d', (one, other, difference) => {
    expect(Math.abs(deltaEOk(parseColor(one), parseColor(other)) - difference)).toBeLessThan(0.00002);
  });

  test('a colour differs from itself by nothing', () => {
    fc.assert(
      fc.property(anyOpaque, (color) => {
        expect(deltaE2000(color, color)).toBe(0);
        expect(deltaEOk(color, color)).toBe(0);
      }),
      { seed: 4304 },
    );
  });
});
