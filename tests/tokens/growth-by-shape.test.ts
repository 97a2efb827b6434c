// Files that are deep, wide or chained take work in proportion to their size: a file twice as large, about twice the work. Counted are the
// stretches of code that ran (the engine's own count of blocks), not time, so the machine's other work does not matter.
import { Session } from 'node:inspector/promises';
import path from 'node:path';
import vm from 'node:vm';
import { build } from 'esbuild';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import type { readTokenFiles } from '../../src/tokens/read-token-files.ts';
import { srgb } from './read.ts';

const SILT = { $type: 'color', $value: srgb('#cc9966') };

type Shape = (size: number) => unknown;

const many = (count: number, make: (i: number) => readonly [string, unknown]): Record<string, unknown> =>
  Object.fromEntries(Array.from({ length: count }, (_, i) => make(i)));
const grey = (i: number, of: number): unknown => ({
  $type: 'color',
  $value: { colorSpace: 'srgb', components: Array<number>(3).fill(1 - i / of) },
});

const SHAPES: Readonly<Record<string, Shape>> = {
  'groups that each build on the one before': (size) => ({
    g0: { silt: SILT },
    ...many(size, (i) => [`g${String(i + 1)}`, { $extends: `{g${String(i)}}` }]),
  }),
  'the same, the last one first': (size) => ({
    ...many(size, (i) => [`g${String(size - i)}`, { $extends: `{g${String(size - i - 1)}}` }]),
    g0: { silt: SILT },
  }),
  'groups that point at the one before': (size) => ({
    g0: { silt: SILT },
    ...many(size, (i) => [`g${String(i + 1)}`, { $ref: `#/g${String(i)}` }]),
  }),
  'groups that build on a part of what the one before builds on': (size) => ({
    g0: { part: { silt: SILT } },
    ...many(size, (i) => [`g${String(i + 1)}`, { $extends: `{g${String(i)}}`, own: { $extends: `{g${String(i)}.part}` } }]),
  }),
  'groups that build on each other in a loop': (size) =>
    many(size, (i) => [`g${String(i)}`, { $extends: `{g${String((i + 1) % size)}}` }]),
  'groups that build on what is not there': (size) => many(size, (i) => [`g${String(i)}`, { $extends: `{h${String(i)}}` }]),
  'groups that all build on one': (size) => ({ g: { silt: SILT }, ...many(size, (i) => [`g${String(i)}`, { $extends: '{g}' }]) }),
  'a chain of aliases': (size) => ({ t0: SILT, ...many(size, (i) => [`t${String(i + 1)}`, { $value: `{t${String(i)}}` }]) }),
  'a loop of aliases': (size) => many(size, (i) => [`t${String(i)}`, { $value: `{t${String((i + 1) % size)}}` }]),
  'aliases of one token': (size) => ({ t: SILT, ...many(size, (i) => [`t${String(i)}`, { $value: '{t}' }]) }),
  'one ramp with as many steps, and a use of each': (size) => ({
    silt: many(size, (i) => [String(i), grey(i, size)]),
    ...many(size, (i) => [`use${String(i)}`, { $value: `{silt.${String(i)}}` }]),
  }),
  'many ramps': (size) => many(size / 10, (i) => [`hue${String(i)}`, many(10, (j) => [String(j * 100), grey(j, 10)])]),
  'one shadow of as many layers': (size) => ({
    fall: {
      $type: 'shadow',
      $value: Array.from({ length: size }, () => ({
        color: srgb('#000000'),
        offsetX: { value: 0, unit: 'px' },
        offsetY: { value: 1, unit: 'px' },
        blur: { value: 2, unit: 'px' },
        spread: { value: 0, unit: 'px' },
      })),
    },
  }),
  'groups nested as deep as may be': (size) =>
    many(size / 100, (i) => [`g${String(i)}`, Array.from({ length: 100 }).reduce<unknown>((inner) => ({ in: inner }), SILT)]),
  'a long list that is no colour': (size) => ({ t: { $type: 'color', $value: Array<unknown>(size * 10).fill([]) } }),
  'values of a type that is none': (size) => many(size, (i) => [`t${String(i)}`, { $type: 'colour', $value: 'silt' }]),
  'parts of one value': (size) => ({
    base: { $type: 'color', $value: srgb('#cc9966') },
    ...many(size, (i) => [
      `t${String(i)}`,
      { $type: 'color', $value: { colorSpace: 'srgb', components: [{ $ref: '#/base/$value/components/0' }, 0, 0] } },
    ]),
  }),
  'one name given again and again': (size) => `{${Array<string>(size).fill('"t":{"$type":"color","$value":"#fff"}').join(',')}}`,
  'a text that never ends': (size) => `{${Array<string>(size).fill('"t":{"$value":"#ff').join(',\n')}`,
};

/** What is counted: only what was compiled after the count began has its blocks counted, so this is a copy of its own. */
interface Counted {
  readonly readTokenFiles: typeof readTokenFiles;
  readonly checkTokens: typeof checkTokens;
}
const COPY = 'tokens-counted.js';

const session = new Session();
let counted: Counted;
beforeAll(async () => {
  const from = path.resolve(import.meta.dirname, '..', '..', 'src', 'tokens');
  const contents = "export * from './read-token-files.ts'; export * from './faults/check-tokens.ts';";
  const { outputFiles } = await build({
    ...{ stdin: { contents, resolveDir: from, loader: 'ts' }, bundle: true, write: false, logLevel: 'warning' },
    ...{ format: 'iife', globalName: 'counted', platform: 'node' },
  });
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
  const script = new vm.Script(`${outputFiles[0]?.text ?? ''};counted`, { filename: COPY });
  counted = script.runInThisContext() as Counted;
});
afterAll(async () => {
  await session.post('Profiler.stopPreciseCoverage');
  session.disconnect();
});

/** How often stretches of the code that reads and checks tokens ran; taking the counts sets them to nought. */
async function work(file: unknown): Promise<number> {
  const text = typeof file === 'string' ? file : JSON.stringify(file);
  await session.post('Profiler.takePreciseCoverage');
  const { graph } = counted.readTokenFiles({ base: ['a.json'], themes: { noon: [], dusk: [] } }, { readText: () => text });
  counted.checkTokens({ graph, reference: 'noon' });
  const { result } = await session.post('Profiler.takePreciseCoverage');
  return result
    .filter(({ url }) => url === COPY)
    .flatMap(({ functions }) => functions.flatMap(({ ranges }) => ranges))
    .reduce((sum, { count }) => sum + count, 0);
}

/** Ours: sorting takes n log n, and what is done once for each file lowers it. Twice the work for each part would give 4. */
const MOST = 2.3;

test.each(Object.entries(SHAPES))('%s', async (_, shape) => {
  const [once, twice] = [await work(shape(400)), await work(shape(800))];
  expect(once).toBeGreaterThan(400);
  expect(twice / once).toBeLessThan(MOST);
});
