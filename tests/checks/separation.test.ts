import { describe, expect, test } from 'vitest';
import { separation } from '../../src/checks/separation.ts';
import { judge, surface } from './made-samples.ts';

type Pair = readonly [color: string, around: string];
const of = ([color, around]: Pair): ReturnType<typeof surface> => surface({ color, around });

describe('separation', () => {
  // derived: steps in L* (CIE 15) of the worked pairs
  test.each<readonly [string, Pair, Pair, 'harsh' | 'merged' | 'fine']>([
    ['page, card', ['#ffffff', '#f5f7f9'], ['#1e1e1e', '#121212'], 'fine'],
    ['card too high', ['#ffffff', '#f5f7f9'], ['#3a3a3a', '#121212'], 'harsh'],
    ['row, hover', ['#f0f3f5', '#ffffff'], ['#1f1f1f', '#1e1e1e'], 'merged'],
    ['rail, page', ['#e6ecef', '#f5f7f9'], ['#0d0d0d', '#121212'], 'fine'],
    ['equal in both', ['#ffffff', '#ffffff'], ['#1e1e1e', '#1e1e1e'], 'fine'],
    ['dark bar on a light page, close to a dark page', ['#16323a', '#f5f7f9'], ['#16323a', '#0d1a1f'], 'fine'],
    ['dark bar that became the page', ['#16323a', '#f5f7f9'], ['#0d1a1f', '#0d1a1f'], 'merged'],
    ['told apart by hue', ['#fdf3e0', '#ffffff'], ['#30230e', '#182629'], 'fine'],
    ['a coloured fill is meant to differ', ['#e0f2f5', '#ffffff'], ['#0b5d6b', '#121212'], 'fine'],
  ])('%s', (_, before, now, verdict) => {
    const found = judge(separation, [of(now)], [of(before)]);
    expect(found.map((f) => (f.message.includes('vanished') ? 'merged' : 'harsh'))).toEqual(verdict === 'fine' ? [] : [verdict]);
  });

  test('a border that differs from both keeps them apart, one that does not does not', () => {
    const before = [surface({ color: '#f0f3f5', around: '#ffffff' })];
    const withEdge = (color: string): ReturnType<typeof surface> =>
      surface({ color: '#1f1f1f', around: '#1e1e1e', edge: { kind: 'border', color } });
    expect(judge(separation, [withEdge('#2d2d2d')], before)).toEqual([]);
    expect(judge(separation, [withEdge('#212121')], before)).toHaveLength(1);
  });

  test('what lies around a white card may be its shadow: where that cannot be seen, it is a note', () => {
    const shadowed = { color: '#ffffff', around: '#e9e9e9', aroundShare: 0.4 } as const;
    const edge = { kind: 'shadow', color: '#d0d0d0' } as const;
    const now = surface({ color: '#1e1e1e', around: '#1d1d1d', edge: { kind: 'shadow', color: '#171717' } });
    const [found] = judge(separation, [now], [surface({ ...shadowed, edge })]);
    expect([found?.level, found?.message]).toEqual(['note', expect.stringContaining('the shadow that sets it off in noon')]);
    expect(judge(separation, [{ ...now, role: 'control' }], [surface({ ...shadowed, edge })])).toEqual([]);
    const faint = surface({ ...shadowed, around: '#fbfbfb', edge });
    expect(judge(separation, [now], [faint])).toEqual([]);
  });

  test('a control may stand out as much as it likes', () => {
    const button = { color: '#5a5a5a', around: '#121212', role: 'control' } as const;
    expect(judge(separation, [surface(button)], [surface({ color: '#eeeeee', around: '#ffffff', role: 'control' })])).toEqual([]);
  });

  test('without a counterpart a strong step in a dark theme is a note', () => {
    const found = judge(separation, [surface({ color: '#5c5c5c', around: '#121212' })], []);
    expect(found.map((f) => f.level)).toEqual(['note']);
    expect(found[0]?.message).toContain('noon has no such element');
  });

  test('rows of one table are one finding with their number', () => {
    const rows = (color: string, around: string): ReturnType<typeof surface>[] =>
      Array.from({ length: 5 }, (_, i) =>
        surface({ color, around, key: `row-${String(i)}`, selector: `tr:nth-of-type(${String(i)})`, on: 'table' }),
      );
    const found = judge(separation, rows('#1f1f1f', '#1e1e1e'), rows('#f0f3f5', '#ffffff'));
    expect(found).toHaveLength(1);
    expect(found[0]?.measured['count']).toBe(5);
    expect(found[0]?.message).toContain('4 more like it');
  });

  test('nothing is said of the reference theme itself, of pictures, charts and gradients', () => {
    const now = { color: '#3a3a3a', around: '#121212' };
    const before = [surface({ color: '#ffffff', around: '#f5f7f9' })];
    expect(judge(separation, [surface(now)], null)).toEqual([]);
    expect(judge(separation, [surface({ ...now, role: 'picture' })], before)).toEqual([]);
    expect(judge(separation, [surface({ ...now, role: 'chart' })], before)).toEqual([]);
    expect(judge(separation, [surface({ ...now, fill: 'gradient' })], before)).toEqual([]);
  });
});
