// Work grows with the size of a token set, not with its square: counted in look-ups, not in time.
import { expect, test } from 'vitest';
import { createGraph } from '../../src/tokens/create-graph.ts';
import type { GraphEntry } from '../../src/tokens/graph.ts';
import { rampContrasts } from '../../src/tokens/faults/ramp-contrast.ts';
import { readTokenFiles } from '../../src/tokens/read-token-files.ts';

const entry = (path: string, next: string | null): GraphEntry => ({
  ...{ path, next, value: null, typeFrom: null, how: 'curly', copyOf: null, refers: next === null ? [] : [next] },
  ...{ deprecated: false, description: null, extensions: () => undefined, declarations: () => [], governor: path },
});

/** Look-ups that asking each of n tokens for its end takes. */
function lookUps(n: number, nextOf: (i: number) => number | null): { readonly count: number; readonly ends: readonly unknown[] } {
  let count = 0;
  const entries = new Map<string, GraphEntry>(
    Array.from({ length: n }, (_, i) => {
      const next = nextOf(i);
      return [`t${String(i)}`, entry(`t${String(i)}`, next === null ? null : `t${String(next)}`)] as const;
    }),
  );
  const find = (path: string): GraphEntry | undefined => {
    count += 1;
    return entries.get(path);
  };
  const graph = createGraph([{ theme: 'day', paths: [...entries.keys()], find }], []);
  count = 0;
  return { ends: [...entries.keys()].map((path) => graph.stepOf(path, 'day')), count };
}

const SHAPES = [
  { shape: 'a chain that leads back', nextOf: () => (i: number) => (i === 0 ? null : i - 1), end: () => 't0' },
  {
    shape: 'a chain that leads on',
    nextOf: (n: number) => (i: number) => (i === n - 1 ? null : i + 1),
    end: (n: number) => `t${String(n - 1)}`,
  },
  // In a loop each token is its own end.
  { shape: 'a loop', nextOf: (n: number) => (i: number) => (i + 1) % n, end: (_: number, i: number) => `t${String(i)}` },
  // What leads into a loop ends where it meets it.
  {
    shape: 'a chain into a loop of two',
    nextOf: () => (i: number) => (i === 0 ? 1 : i - 1),
    end: (_: number, i: number) => (i === 0 ? 't0' : 't1'),
  },
] as const;

test.each(SHAPES)('the ends of $shape are found in as many steps as there are tokens', ({ nextOf, end }) => {
  for (const n of [50, 400, 3200]) {
    const { count, ends } = lookUps(n, nextOf(n));
    expect(ends).toEqual(Array.from({ length: n }, (_, i) => end(n, i)));
    // derived: one look-up to begin with and at most two for each token that is walked by once
    expect(count).toBeLessThanOrEqual(3 * n);
  }
});

test('a ramp of a thousand steps, and a thousand ramps, are not held against each other step by step', () => {
  const color = (share: number): unknown => ({ $type: 'color', $value: { colorSpace: 'srgb', components: [share, share, share] } });
  const ramp = (n: number): unknown => Object.fromEntries(Array.from({ length: n }, (_, i) => [String(i), color(i / n)]));
  const contrasts = (tokens: unknown): number => {
    const text = JSON.stringify(tokens);
    const { graph } = readTokenFiles({ base: ['a.json'], themes: { day: [] } }, { readText: () => text, ramps: ['r*.*'] });
    expect(graph.ramps.length).toBeGreaterThan(0);
    return rampContrasts(graph).length;
  };
  expect(contrasts({ r0: ramp(1000) })).toBe(0);
  // derived: up to 60 ramps n(n + 1) / 2 pairs, beyond it each with itself
  expect(contrasts(Object.fromEntries(Array.from({ length: 10 }, (_, i) => [`r${String(i)}`, ramp(5)])))).toBe(55);
  expect(contrasts(Object.fromEntries(Array.from({ length: 1000 }, (_, i) => [`r${String(i)}`, ramp(5)])))).toBe(1000);
});
