import { describe, expect, test } from 'vitest';
import { glow } from '../../src/checks/glow.ts';
import { judge, shadow } from './made-samples.ts';

describe('glow', () => {
  // derived: composited peaks (CSS Backgrounds 3 §6.1.2, source-over on gamma-encoded sRGB), L* by CIE 15; equal to Chromium's pixels within 2 codes
  test.each([
    ['0 4 12 #000 .30 on #121212', '#0e0e0e', '#121212', null],
    ['0 2 8 #3c4043 .30, a light theme’s, on #121212', '#1a1b1b', '#121212', 'note'],
    ['0 8 24 #101828 .20 on #1e1e1e', '#1c1d1f', '#1e1e1e', null],
    ['0 8 24 #101828 .60 on #080808', '#0c0f16', '#080808', 'note'],
    ['0 2 8 #fff .08 on #121212', '#1e1e1e', '#121212', 'warning'],
    ['0 0 16 #00e5ff .50 on #121212', '#0e444a', '#121212', 'warning'],
    ['0 0 24 2 #00f .50 on #121212', '#0d0d53', '#121212', 'note'],
  ] as const)('%s: %s', (_, color, beneath, level) => {
    expect(judge(glow, [shadow({ color, beneath })], null).map((f) => f.level)).toEqual(level === null ? [] : [level]);
  });

  test.each([
    ['a focus ring', { blur: 0, spread: 3, offset: [0, 0] }],
    ['a hard edge', { blur: 1 }],
    ['an inset hairline', { blur: 1, spread: 0, offset: [0, 1], inset: true }],
  ] as const)('%s is left alone', (_, facts) => {
    expect(judge(glow, [shadow({ color: '#4fd1e0', beneath: '#121212', ...facts })], null)).toEqual([]);
  });

  test('a shadow hardly lighter glows when it brings colour', () => {
    const base = { color: '#171717', beneath: '#121212', lightnessGain: 0.9 };
    expect(judge(glow, [shadow({ ...base, chromaGain: 0.05 })], null)).toHaveLength(1);
    expect(judge(glow, [shadow({ ...base, chromaGain: 0.03 })], null)).toEqual([]);
  });

  test('shadows that glow only in sum are reported once, on the strongest', () => {
    const part = (key: string, lightnessGain: number): ReturnType<typeof shadow> =>
      shadow({ key, color: '#161616', beneath: '#121212', lightnessGain, chromaGain: 0 });
    const found = judge(glow, [part('a', 0.9), part('b', 1.4)], null);
    expect(found.map((f) => f.key)).toEqual(['b']);
    expect(found[0]?.message).toContain('2 shadows together');
    expect(judge(glow, [part('a', 0.9), part('b', 0.8)], null)).toEqual([]);
  });

  test('faint glows of one shape are one rule in the colours of its places; strong ones are told apart', () => {
    const at = (n: number, lightnessGain: number): readonly ReturnType<typeof shadow>[] =>
      ['#161616', '#141617'].map((color, i) =>
        shadow({ key: `${String(n)}.${String(i)}`, selector: `#s${String(n)}`, color, beneath: '#121212', lightnessGain }),
      );
    const shaded = (list: ReturnType<typeof shadow>, color: string): ReturnType<typeof shadow> => ({
      ...list,
      paint: { ...list.paint, color },
    });
    const inOwnColour = (gain: number): readonly ReturnType<typeof shadow>[] =>
      ['#e44c55', '#1ba2f6', '#ffc107'].flatMap((color, n) => at(n, gain).map((part) => shaded(part, color)));
    const faint = judge(glow, inOwnColour(2.4), null);
    expect(faint.map(({ message }) => message)).toEqual([expect.stringContaining('2 more places have the same shadow')]);
    const inSum = judge(glow, inOwnColour(1.2), null);
    expect(inSum.map(({ message }) => message)).toEqual([expect.stringContaining('2 more places have the same shadow')]);
    expect(judge(glow, inOwnColour(6), null)).toHaveLength(3);
  });

  test('a darker shadow of the list does not hide the one that glows', () => {
    const list = [
      shadow({ key: 'a', color: '#0a0a0a', beneath: '#121212' }),
      shadow({ key: 'b', color: '#202020', beneath: '#121212' }),
    ];
    expect(judge(glow, list, null).map((f) => f.key)).toEqual(['b']);
  });

  // Threshold by definition: from `strongGain` (5 L*) on the declaration is meant to shine.
  test.each([
    [5, 0],
    [4.9, 1],
  ])('a declaration that gains %f L* somewhere in the reference theme: %i findings where it glows here', (gain, count) => {
    const at = (key: string, lightnessGain: number): ReturnType<typeof shadow> =>
      shadow({ key, selector: `#${key}`, color: '#2a3a44', beneath: '#121212', lightnessGain, chromaGain: 0 });
    expect(judge(glow, [at('here', 14)], [at('here', 0.2), at('elsewhere', gain)])).toHaveLength(count);
  });
});
