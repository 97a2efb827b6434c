// The token files of the harbour screens: they read without problems, the faults planted in them are found, and ramps without one
// are silent.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import { readTokenFiles } from '../../src/tokens/read-token-files.ts';

const HARBOUR = new URL('../../scenarios/harbour/', import.meta.url);

const Faults = z.array(
  z.looseObject({ id: z.string(), kind: z.string(), layer: z.string(), themes: z.array(z.string()), of: z.string().optional() }),
);
const planted = Faults.parse(JSON.parse(readFileSync(new URL('faults.json', HARBOUR), 'utf8'))).filter(
  ({ kind }) => kind === 'token-fault',
);

const readText = (path: string): string | null => {
  try {
    return readFileSync(new URL(path, HARBOUR), 'utf8');
  } catch {
    return null;
  }
};
const inputs = { noon: { theme: 'noon' }, dusk: { theme: 'dusk' }, stark: { theme: 'stark' }, regatta: { theme: 'regatta' } };
const { graph } = readTokenFiles({ resolver: 'tokens/harbour.resolver.json', themes: inputs }, { readText });
const { faults } = checkTokens({ graph, reference: 'noon' });

test('the files have no problem and every token resolves in every theme', () => {
  expect(graph.problems).toEqual([]);
  for (const path of graph.tokens.keys())
    for (const theme of graph.themes) expect(graph.resolve(path, theme).kind, path).toBe('value');
});

describe('planted in the token files', () => {
  test.each(planted)('$id', ({ of, themes, layer }) => {
    const found = faults.filter((fault) => fault.token === of && themes.every((theme) => fault.themes.includes(theme)));
    expect(found.map((fault) => fault.layer)).toContain(layer);
  });

  test('there are some', () => {
    expect(planted.length).toBeGreaterThan(0);
  });
});

test('steps out of order, twins and steps off course are only those planted', () => {
  const found = faults
    .filter(({ code }) => code === 'ramp-reversal' || code === 'ramp-twins' || code === 'ramp-off-course')
    .map(({ token }) => token);
  const known = Faults.parse(JSON.parse(readFileSync(new URL('faults.json', HARBOUR), 'utf8'))).flatMap(({ layer, of }) =>
    layer === 'ramp' && of !== undefined ? [of] : [],
  );
  expect([...new Set(found)].filter((token) => !known.includes(token))).toEqual([]);
});
