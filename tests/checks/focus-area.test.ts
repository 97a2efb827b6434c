import { expect, test } from 'vitest';
import type { Change } from '../../runner/painted/focus-samples.ts';
import { perimeterShare } from '../../runner/painted/focus-samples.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { fromCodes, opaque } from '../../src/colour/color.ts';

// A control of 20 × 10 device px on #121212; perimeter 60 px, so that WCAG 2.2 SC 2.4.13 asks for 120 px² that change by 3:1.
const PERIMETER_PX = 60;
const grey = (code: number): number => (code << 16) | (code << 8) | code;
const change = (x: number, y: number, code: number): Change => ({
  at: [x, y],
  now: grey(code),
  before: grey(0x12),
  contrast: contrastRatio({ ink: opaque(fromCodes(code, code, code)), background: opaque(fromCodes(0x12, 0x12, 0x12)) }),
});
const row = (y: number, length: number, code: number): readonly Change[] => Array.from({ length }, (_, x) => change(x, y, code));

test('a ring of 2 px is all of it', () => {
  // derived: 2 × 60 = 120 px² of 120
  expect(perimeterShare([...row(0, 60, 0xff), ...row(1, 60, 0xff)], PERIMETER_PX)).toBe(1);
});

test('a ring of 1 px is half of it', () => {
  expect(perimeterShare(row(0, 60, 0xff), PERIMETER_PX)).toBe(0.5);
});

// published: pixels modified by anti-aliasing can be ignored (WCAG 2.2, note to "contrast ratio")
test('softened pixels of a curve are left out of what is asked', () => {
  // derived: 12 of 120 px² are softened: 108 of 108
  const corner = row(2, 12, 0x40);
  const ring = [...row(0, 60, 0xff), ...row(1, 48, 0xff), ...corner];
  expect(perimeterShare(ring, PERIMETER_PX)).toBe(1);
});

test('a weak line along a strong one is no softening', () => {
  // derived: 60 of 120, since 60 weak px are more than a quarter of the perimeter
  expect(perimeterShare([...row(0, 60, 0xff), ...row(1, 60, 0x40)], PERIMETER_PX)).toBe(0.5);
});

test('what goes on changing further out is a glow and no softening', () => {
  const glow = [...row(1, 12, 0x40), ...row(2, 12, 0x30)];
  expect(perimeterShare([...row(0, 60, 0xff), ...glow], PERIMETER_PX)).toBe(0.5);
});

test('a pixel of another colour than a mix is no softening', () => {
  const red = { ...change(0, 2, 0x40), now: (0x40 << 16) | (0x12 << 8) | 0x00 };
  const outside = { ...red, now: (0x40 << 16) | (0x00 << 8) | 0x00, before: grey(0x18) };
  expect(perimeterShare([...row(1, 60, 0xff), outside], PERIMETER_PX)).toBe(0.5);
});
