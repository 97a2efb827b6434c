import { describe, expect, test } from 'vitest';
import { neon } from '../../src/checks/neon.ts';
import type { SampleOf } from '../../src/checks/check.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { toOklch } from '../../src/colour/lightness.ts';
import { NEON_SWATCHES } from '../tables/colour/neon-swatches.ts';
import { judge, surface } from './made-samples.ts';

type Row = readonly [
  name: string,
  pair: readonly [string, string],
  reference: readonly [string, string],
  size: readonly [number, number],
  trips: boolean,
];

// ours: the worked cases of the rule, seen in pictures
const ROWS: readonly Row[] = [
  ['surge banner', ['#00e5ff', '#121212'], ['#00e5ff', '#ffffff'], [1200, 48], true],
  ['live strip', ['#39ff14', '#0b0f14'], ['#39ff14', '#ffffff'], [600, 40], true],
  ['header', ['#0000ff', '#121212'], ['#0000ff', '#ffffff'], [1280, 56], true],
  ['filter chip', ['#ff00aa', '#1a1a24'], ['#ff00aa', '#f4f4f8'], [88, 32], true],
  ['button', ['#ff6d00', '#1e1e1e'], ['#e65100', '#ffffff'], [140, 40], true],
  ['alarm tile', ['#ff1744', '#161616'], ['#d50000', '#ffffff'], [300, 120], true],
  ['mid-dark card', ['#ff3d7f', '#3a3f47'], ['#ff3d7f', '#f2f4f7'], [240, 90], true],
  ['drawer', ['#7c4dff', '#12101a'], ['#651fff', '#ffffff'], [260, 700], true],
  ['blue button', ['#1f6feb', '#0d1117'], ['#1f6feb', '#ffffff'], [120, 40], false],
  ['violet button', ['#7c3aed', '#121212'], ['#7c3aed', '#ffffff'], [140, 40], false],
  ['green button', ['#16a34a', '#121212'], ['#16a34a', '#ffffff'], [140, 40], false],
  ['red button', ['#dc2626', '#121212'], ['#dc2626', '#ffffff'], [140, 40], false],
  // 59 to 79 % of their hue's cusp, 90 to 100 % of what sRGB holds at their own lightness
  ['violet banner', ['#8b5cf6', '#121212'], ['#8b5cf6', '#ffffff'], [1200, 48], true],
  ['light violet banner', ['#c084fc', '#121212'], ['#c084fc', '#ffffff'], [1200, 48], true],
  ['light green banner', ['#4ade80', '#121212'], ['#4ade80', '#ffffff'], [1200, 48], true],
  ['light pink banner', ['#f472b6', '#121212'], ['#f472b6', '#ffffff'], [1200, 48], true],
  ['pastel violet banner', ['#d8b4fe', '#121212'], ['#d8b4fe', '#ffffff'], [1200, 48], false],
  ['blue button, strong reference', ['#1f6feb', '#0d1117'], ['#0550ae', '#ffffff'], [120, 40], false],
  ['one badge', ['#00e676', '#121212'], ['#00c853', '#ffffff'], [56, 18], false],
  ['status dot', ['#00e676', '#121212'], ['#00c853', '#ffffff'], [10, 10], false],
  ['level bar', ['#00e5ff', '#121212'], ['#00b8d4', '#ffffff'], [400, 6], false],
  ['muted button', ['#0b5d6b', '#121212'], ['#00838f', '#ffffff'], [140, 40], false],
  ['burgundy button', ['#7a1f2b', '#121212'], ['#b71c1c', '#ffffff'], [140, 40], false],
  ['dark green button', ['#2e7d32', '#121212'], ['#2e7d32', '#ffffff'], [140, 40], false],
  ['softened banner', ['#2b7f8c', '#121212'], ['#00b8d4', '#ffffff'], [1200, 48], false],
  ['pastel tile', ['#9fe8d8', '#121212'], ['#9fe8d8', '#ffffff'], [300, 120], false],
  ['map rail', ['#00e5ff', '#10151c'], ['#00e5ff', '#10151c'], [64, 300], false],
  // looked at in pictures: an orange bar a step from calm, and a magenta one that glares though its chroma is near calm
  ['orange strip near calm', ['#c56427', '#0a0e0f'], ['#3fa0e8', '#fbfcfd'], [1200, 44], false],
  ['magenta offer on black', ['#ff6df3', '#020304'], ['#ff1fa5', '#fbfcfd'], [236, 42], true],
  ['violet alert near calm', ['#9933cc', '#060606'], ['#cff4fc', '#ffffff'], [560, 58], false],
  ['chip on grey', ['#ff3d7f', '#5a6068'], ['#ff3d7f', '#f2f4f7'], [240, 90], false],
];

function pairOf([, [color, around], [before, beforeAround], [width, height]]: Row): readonly [
  SampleOf<'surface'>,
  SampleOf<'surface'>,
] {
  const rect = [0, 0, width, height] as const;
  return [surface({ color, around, rect }), surface({ color: before, around: beforeAround, rect })];
}

describe('neon', () => {
  test.each(ROWS)('%s %j, reference %j, %j: %s', (...row) => {
    const [sample, before] = pairOf(row);
    expect(judge(neon, [sample], [before])).toHaveLength(row[4] ? 1 : 0);
  });

  test.each(ROWS.filter((row) => row[4]))('%s with the calm colour of its finding is calm', (...row) => {
    const [sample, before] = pairOf(row);
    const [found] = judge(neon, [sample], [before]);
    const color = String(found?.expected['color']);
    expect(judge(neon, [surface({ ...pairOf(row)[0], color, ...freshMeasures(color) })], [before])).toEqual([]);
    expect(toOklch(parseColor(color)).chroma).toBeLessThan(sample.chroma);
  });

  // by eye: see the table
  describe.each(NEON_SWATCHES)('$size.0 × $size.1 on $ground', ({ ground, size: [width, height], neon: glaring, calm }) => {
    const found = (color: string): boolean => {
      const rect = [0, 0, width, height] as const;
      return judge(neon, [surface({ color, around: ground, rect })], [surface({ color, around: '#ffffff', rect })]).length > 0;
    };
    test.each(glaring)('%s glares', (color) => {
      expect(found(color)).toBe(true);
    });
    test.each(calm)('%s is calm', (color) => {
      expect(found(color)).toBe(false);
    });
  });

  test('fourteen badges of one colour trip together, and the finding says how many', () => {
    const badge = (color: string, around: string) => (_: unknown, i: number) =>
      surface({ color, around, rect: [0, i * 20, 56, 18], key: `badge-${String(i)}` });
    const there = Array.from({ length: 14 }, badge('#00c853', '#ffffff'));
    const found = judge(neon, Array.from({ length: 14 }, badge('#00e676', '#121212')), there);
    expect(found).toHaveLength(1);
    expect(found[0]?.measured['count']).toBe(14);
    expect(judge(neon, Array.from({ length: 9 }, badge('#00e676', '#121212')), there)).toEqual([]); // 9 × 56 × 18 < 1 % of 1280 × 800
  });

  test.each(['picture', 'chart', 'canvas'] as const)('a %s is left alone', (role) => {
    const banner = surface({ color: '#00e5ff', around: '#121212', rect: [0, 0, 1200, 48], role });
    expect(judge(neon, [banner], [{ ...banner, aroundLightness: 100, around: '#ffffff' }])).toEqual([]);
  });

  test('a gradient trips where half of it is saturated', () => {
    const half = (share: number): SampleOf<'surface'> =>
      surface({
        color: '#00e5ff',
        around: '#121212',
        rect: [0, 0, 1200, 48],
        fill: 'gradient',
        palette: [
          { color: '#00e5ff', share },
          { color: '#16323a', share: 1 - share },
        ],
      });
    const before = [surface({ color: '#00e5ff', around: '#ffffff' })];
    expect(judge(neon, [half(0.6)], before)).toHaveLength(1);
    expect(judge(neon, [half(0.4)], before)).toEqual([]);
  });

  test('without a counterpart it is a note that says so', () => {
    const [found] = judge(neon, [surface({ color: '#00e5ff', around: '#121212' })], []);
    expect(found?.level).toBe('note');
    expect(found?.message).toContain('noon has no such element');
  });

  test('a light reference theme is not judged, a dark one is', () => {
    const banner = surface({ color: '#00e5ff', around: '#121212' });
    expect(judge(neon, [banner], null, {}, 'light')).toEqual([]);
    expect(judge(neon, [banner], null, {}, 'dark')).toHaveLength(1);
  });

  test('the message says by how much and what would be calm', () => {
    const [found] = judge(
      neon,
      [surface({ color: '#00e5ff', around: '#121212', selector: '#surge' })],
      [surface({ color: '#00e5ff', around: '#ffffff' })],
    );
    expect(found?.message).toMatch(
      /^#surge glares: #00e5ff looks 87 L\* lighter than the dark ground #121212, 7\.3 in noon; a chroma of 0\.1\d\d instead of 0\.146 would be calm, e\.g\. #[0-9a-f]{6}\.$/,
    );
  });
});

function freshMeasures(color: string): Pick<SampleOf<'surface'>, 'chroma' | 'lightness'> {
  const { chroma, lightness } = surface({ color, around: '#000000' });
  return { chroma, lightness };
}

test('a dark neighbour on a gradient is not the ground of a fill', () => {
  const fill = { color: '#12dda4', around: '#212529', rect: [0, 0, 140, 40] } as const;
  const before = surface({ color: '#198754', around: '#ffffff' });
  expect(judge(neon, [surface({ ...fill, aroundShare: 0.3 })], [before])).toEqual([]);
  expect(judge(neon, [surface({ ...fill, aroundShare: 0.8 })], [before])).toHaveLength(1);
});
