// What an icon lies on, on small pictures made by hand. Colours are as drawn; the rest is derived.
import { expect, test } from 'vitest';
import { ownGround } from '../../runner/painted/own-ground.ts';
import type { Code, Shot } from '../../runner/painted/pixels.ts';
import { toColor } from '../../runner/painted/pixels.ts';
import { toHex } from '../../src/colour/format-color.ts';

const SIDE = 40;
const ICON = [8, 8, 24, 24] as const;
const PAGE = 0x121212;
const INK = 0x101010;

function drawn(paint: (x: number, y: number) => Code): Shot {
  const data = new Uint8Array(SIDE * SIDE * 3);
  for (let at = 0; at < SIDE * SIDE; at += 1) {
    const code = paint(at % SIDE, Math.floor(at / SIDE));
    data.set([code >> 16, (code >> 8) & 255, code & 255], at * 3);
  }
  return { data, widthPx: SIDE, heightPx: SIDE, channels: 3, leftPx: 0, topPx: 0, scale: 1 };
}

const isStroke = (x: number, y: number): boolean => x >= 18 && x < 22 && y >= 10 && y < 30;
const onIcon = (x: number, y: number): boolean => x >= 8 && x < 32 && y >= 8 && y < 32;
const groundOf = (shot: Shot, ink: Code): string | null => {
  const found = ownGround(shot, ICON, toColor(PAGE), [toColor(ink)]);
  return found === null ? null : toHex(found);
};

test('a tile as large as the icon is its ground, though the ink is that of the page', () => {
  expect(
    groundOf(
      drawn((x, y) => (isStroke(x, y) ? INK : onIcon(x, y) ? 0x9fd8e2 : PAGE)),
      INK,
    ),
  ).toBe('#9fd8e2');
});

test('a gradient is named by the colours it mostly has', () => {
  const shot = drawn((x, y) => (isStroke(x, y) ? INK : onIcon(x, y) ? 0x80d0e0 + (y - 8) * 0x010000 : PAGE));
  expect(groundOf(shot, INK)).toMatch(/^#[89][0-9a-f]d0e0$/);
});

test('without a tile, or wholly covered by ink, it lies on what is around', () => {
  expect(
    groundOf(
      drawn((x, y) => (isStroke(x, y) ? 0xffffff : PAGE)),
      0xffffff,
    ),
  ).toBeNull();
  expect(
    groundOf(
      drawn((x, y) => (onIcon(x, y) ? 0xffffff : PAGE)),
      0xffffff,
    ),
  ).toBeNull();
});

test('anti-aliased edges are no ground', () => {
  const shot = drawn((x, y) => (!onIcon(x, y) ? PAGE : x === 8 || y === 8 ? 0x888888 : 0xffffff));
  expect(groundOf(shot, 0xffffff)).toBeNull();
});
