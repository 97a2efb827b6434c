// Reading ink and background from pixels: small pictures drawn by hand.
import { describe, expect, test } from 'vitest';
import type { Pixels } from '../../src/pictures/pixels.ts';
import { areaInside, cutTo } from '../../src/pictures/pixels.ts';
import { showsTwoColors } from '../../src/pictures/two-colors.ts';
import { underGlyphs } from '../../src/pictures/under-glyphs.ts';

type Code = readonly [number, number, number];
const SEA: Code = [11, 61, 79];
const SAND: Code = [232, 163, 61];

/** One character a pixel: `.` background, `#` ink, digits tenths of coverage, others by `colors`. */
function draw(rows: readonly string[], background: Code, ink: Code, colors: Readonly<Record<string, Code>> = {}): Pixels {
  const widthPx = rows[0]?.length ?? 0;
  const mix = (share: number): Code =>
    [0, 1, 2].map((i) => Math.round((ink[i] ?? 0) * share + (background[i] ?? 0) * (1 - share))) as unknown as Code;
  const codes = rows.flatMap((row) =>
    Array.from(row).flatMap((c) => colors[c] ?? (c === '.' ? background : c === '#' ? ink : mix(Number(c) / 10))),
  );
  return { data: Uint8Array.from(codes), widthPx, heightPx: rows.length, channels: 3, leftPx: 0, topPx: 0 };
}

const WHOLE = { left: 0, top: 0, right: 12, bottom: 5 };
const GLYPHS = ['............', '.3#3..5#5...', '.3#3..5#5...', '.3#3..5#5...', '............'];
const asked = { background: SAND, ink: SEA, inkAlpha: 1, solidPx: 3 };

describe('a picture proves a pair of colours', () => {
  test('when every pixel lies between them', () => {
    expect(showsTwoColors(draw(GLYPHS, SAND, SEA), WHOLE, asked)).toBe(true);
  });
  test('not when another colour is met', () => {
    const strange = [...GLYPHS.slice(0, 4), '.........x..'];
    expect(showsTwoColors(draw(strange, SAND, SEA, { x: [255, 0, 0] }), WHOLE, asked)).toBe(false);
  });
  test('not when the background is another', () => {
    expect(showsTwoColors(draw(GLYPHS, [240, 163, 61], SEA), WHOLE, asked)).toBe(false);
  });
  test('not when the ink is never reached: a veil may lie over it', () => {
    const faint = GLYPHS.map((row) => row.replaceAll('#', '5'));
    expect(showsTwoColors(draw(faint, SAND, SEA), WHOLE, asked)).toBe(false);
  });
  test('not when the ink is exceeded', () => {
    expect(showsTwoColors(draw(GLYPHS, SAND, [0, 50, 82]), WHOLE, asked)).toBe(false);
  });
  test('beyond a translucent ink, since glyphs overlap', () => {
    // Sea at half over sand: 121.5 112 70; overlapped 66.25 86.5 74.5.
    const half = { ...asked, ink: [121.5, 112, 70] as const, inkAlpha: 0.5 };
    const overlapped = GLYPHS.with(2, '.3x3..5#5...');
    expect(showsTwoColors(draw(overlapped, SAND, [122, 112, 70], { x: [66, 87, 75] }), WHOLE, half)).toBe(true);
  });
  test('not where a patch of the ink’s colour lies', () => {
    const patch = ['###.........', '###.........', '###...5#5...', '......5#5...', '............'];
    expect(showsTwoColors(draw(patch, SAND, SEA), WHOLE, asked)).toBe(false);
  });
  test('not when both colours are nearly one', () => {
    expect(showsTwoColors(draw(GLYPHS, SAND, [233, 163, 61]), WHOLE, { ...asked, ink: [233, 163, 61] })).toBe(false);
  });
  test('not outside the picture', () => {
    expect(showsTwoColors(draw(GLYPHS, SAND, SEA), { left: 20, top: 0, right: 30, bottom: 5 }, asked)).toBe(false);
  });
});

describe('pairs under glyphs', () => {
  const bare = draw(
    GLYPHS.map(() => '............'),
    SAND,
    SEA,
  );
  const inked = draw(
    GLYPHS.map(() => '############'),
    SAND,
    SEA,
  );
  const normal = draw(GLYPHS, SAND, SEA);
  const hex = (code: Code): number => (code[0] << 16) | (code[1] << 8) | code[2];

  test('are ink and background, not the edges of letters', () => {
    const { pairs, glyphPixels } = underGlyphs({ normal, bare, inked }, WHOLE);
    expect(pairs.map(({ ink, background }) => [ink, background])).toEqual([[hex(SEA), hex(SAND)]]);
    expect(glyphPixels).toBe(18);
  });
  test('do not take in a line beside the letters', () => {
    const line = draw([...GLYPHS.slice(0, 4), 'xxxxxxxxxxxx'], SAND, SEA, { x: [0, 0, 0] });
    const bareLine = draw([...GLYPHS.slice(0, 4).map(() => '............'), 'xxxxxxxxxxxx'], SAND, SEA, { x: [0, 0, 0] });
    const { pairs } = underGlyphs({ normal: line, bare: bareLine, inked }, WHOLE);
    expect(pairs.map(({ background }) => background)).toEqual([hex(SAND)]);
  });
  test('leave out what lies under a cover', () => {
    const cover = (rows: readonly string[]): readonly string[] => rows.map((row) => `xxxxx${row.slice(5)}`);
    const red: Readonly<Record<string, Code>> = { x: [255, 0, 0] };
    const { pairs, unfilled } = underGlyphs(
      {
        normal: draw(cover(GLYPHS), SAND, SEA, red),
        bare: draw(cover(GLYPHS.map(() => '............')), SAND, SEA, red),
        inked: draw(cover(GLYPHS.map(() => '############')), SAND, SEA, red),
      },
      WHOLE,
    );
    expect(pairs.map(({ background }) => background)).toEqual([hex(SAND)]);
    expect(unfilled).toBeCloseTo(25 / 60, 6);
  });
  test('are none where no text is painted', () => {
    expect(underGlyphs({ normal: bare, bare, inked }, WHOLE).pairs).toEqual([]);
  });
  test('the strongest pixel is the one furthest from what lies behind', () => {
    expect(underGlyphs({ normal, bare, inked: null }, WHOLE).strongest?.ink).toBe(hex(SEA));
  });
});

test('areas are the whole device pixels inside a rectangle', () => {
  expect(areaInside([10.4, 5, 20, 7.5], 1)).toEqual({ left: 11, top: 5, right: 30, bottom: 12 });
  expect(areaInside([10.5, 5, 20, 7.5], 2)).toEqual({ left: 21, top: 10, right: 61, bottom: 25 });
  expect(cutTo({ left: -5, top: 2, right: 40, bottom: 9 }, draw(GLYPHS, SAND, SEA))).toEqual({
    left: 0,
    top: 2,
    right: 12,
    bottom: 5,
  });
});
