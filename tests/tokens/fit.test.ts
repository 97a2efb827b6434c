// How well a token suits a place. Expected values: derived from the rules stated at the functions.
import { describe, expect, test } from 'vitest';
import { WHITE } from '../../src/colour/color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { FitFacts } from '../../src/tokens/match/fit.ts';
import { fitOf, hueStrain, isOtherHue, seenDistance, strainOf } from '../../src/tokens/match/fit.ts';

const NOBODY: FitFacts = {
  uses: 0,
  most: 4,
  isBareStep: false,
  isOtherRamp: false,
  isPartner: false,
  isRelated: false,
  isIdle: false,
  grounds: 0,
};

describe('what a token is used as', () => {
  test('goes before where else it is met, and that before nothing', () => {
    const usual = fitOf({ ...NOBODY, uses: 4 });
    const rare = fitOf({ ...NOBODY, uses: 1 });
    const everywhere = fitOf({ ...NOBODY, grounds: 3 });
    const stranger = fitOf(NOBODY);
    expect([usual, rare, everywhere, stranger].map(({ known }) => known)).toEqual([true, true, true, false]);
    expect([usual, rare, everywhere, stranger].map(({ cost }) => cost)).toEqual(
      [usual, rare, everywhere, stranger].map(({ cost }) => cost).toSorted((a, b) => a - b),
    );
  });

  test('goes before a few steps of nearness, but not before quite another colour', () => {
    const [usual, stranger] = [fitOf({ ...NOBODY, uses: 4 }), fitOf(NOBODY)];
    expect(strainOf(usual, 4, true)).toBeLessThan(strainOf(stranger, 0, true));
    expect(strainOf(fitOf({ ...NOBODY, uses: 2 }), 30, true)).toBeGreaterThan(strainOf(fitOf({ ...NOBODY, uses: 1 }), 10, true));
  });
});

test('the very colour in a token nobody uses yet goes before a used one that is plainly another, and after one of the same colour', () => {
  const idle = strainOf(fitOf({ ...NOBODY, isIdle: true }), 0, true);
  expect(idle).toBeLessThan(strainOf(fitOf({ ...NOBODY, uses: 4 }), 8, true));
  expect(idle).toBeGreaterThan(strainOf(fitOf({ ...NOBODY, uses: 2 }), 0, true));
  expect(idle).toBeLessThan(strainOf(fitOf(NOBODY), 0, true));
});

test('a translucent colour is compared as it is seen: black at three quarters on white is a dark grey', () => {
  // derived: 255 × 0.25 = 63.75
  expect(seenDistance(parseColor('rgb(0 0 0 / .75)'), parseColor('rgb(63.75 63.75 63.75)'), [WHITE])).toBeCloseTo(0, 3);
  expect(seenDistance(parseColor('rgb(0 0 0 / .75)'), parseColor('#000000'), [WHITE])).toBeGreaterThan(10);
});

describe('hues', () => {
  test.each([
    // Red and amber, an amber and a grey, blue and green.
    ['#dc2626', '#d97706', true],
    ['#d97706', '#52525b', true],
    ['#2563eb', '#16a34a', true],
    // Two reds, two greys one of which is bluish, a pale tint and a dark one of no plain colour.
    ['#ff4d4f', '#d9212f', false],
    ['#52525b', '#475569', false],
    ['#fff8e1', '#f4f6f8', false],
  ])('%s and %s are of no kin: %s', (one, other, apart) => {
    expect(isOtherHue(parseColor(one), parseColor(other))).toBe(apart);
    expect(isOtherHue(parseColor(other), parseColor(one))).toBe(apart);
  });

  test('of one ramp are kin, however they run from its light end to its dark one', () => {
    expect(hueStrain(parseColor('#fcd34d'), parseColor('#92400e'), true)).toBe(0);
    expect(hueStrain(parseColor('#fcd34d'), parseColor('#92400e'), false)).toBeGreaterThan(1);
  });
});
