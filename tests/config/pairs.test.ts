// Declared pairs of ink and surface, from the configuration file to pairs of tokens.
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { validateConfiguration } from '../../src/config/read-configuration.ts';
import type { ReadConfigured } from '../../src/config/read-tokens.ts';
import { readTokens } from '../../src/config/read-tokens.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'gloam-pairs-'));
const color = (grey: number): object => ({ $type: 'color', $value: { colorSpace: 'srgb', components: [grey, grey, grey] } });
writeFileSync(
  path.join(folder, 'quay.json'),
  JSON.stringify({
    face: { page: color(1), deck: color(0.9) },
    mark: { main: color(0), title: color(0.5) },
    gap: { $type: 'dimension', wide: { $value: { value: 4, unit: 'px' } } },
  }),
);
writeFileSync(path.join(folder, 'broken.json'), '{ "face": ');

function read(
  pairs: readonly object[],
  more: { readonly base?: readonly string[]; readonly checks?: object } = {},
): ReadConfigured {
  const { base = ['quay.json'], ...rest } = more;
  const configuration = validateConfiguration(path.join(folder, 'gloam.config.json'), {
    app: { url: 'http://127.0.0.1:9' },
    pages: ['/'],
    themes: { noon: { tone: 'light' } },
    tokens: { base, pairs },
    ...rest,
  });
  const tokens = readTokens(configuration);
  if (tokens === null) throw new Error('the configuration names token files');
  return tokens;
}

const needs = (...of: Parameters<typeof read>): readonly string[] =>
  read(...of).pairs.map(({ ink, surface, required, declared }) => `${ink} on ${surface} ${String(required)} ${String(declared)}`);

// WCAG 2.2: SC 1.4.3 (4.5, large 3), SC 1.4.6 (7, large 4.5), SC 1.4.11 (3).
test('what is drawn says how much contrast is needed, unless a number does', () => {
  const rules = [
    { ink: 'mark.title', on: ['face.*'], as: 'large' },
    { ink: ['mark.*'], on: 'face.page' },
    { ink: 'mark.main', on: 'face.deck', as: 'graphic' },
    { ink: 'face.page', on: 'mark.main', contrast: 10 },
  ];
  const plain = [
    'mark.title on face.page 3 3',
    'mark.title on face.deck 3 3',
    'mark.main on face.page 4.5 4.5',
    'mark.main on face.deck 3 3',
    'face.page on mark.main 10 10',
  ];
  expect(needs(rules)).toEqual(plain);
  expect(needs(rules, { checks: { 'text-contrast': { level: 'AAA' } } })).toEqual([
    'mark.title on face.page 4.5 4.5',
    'mark.title on face.deck 4.5 4.5',
    'mark.main on face.page 7 7',
    ...plain.slice(3),
  ]);
});

test('patterns that name no colour are refused, all at once, each with its place and the nearest name', () => {
  const faults = [
    { at: 'tokens.pairs[0].ink', found: '"mark.mian", which names no token', expected: '"mark.main"?' },
    {
      at: 'tokens.pairs[0].on[1]',
      found: '"quay.**", which names no token',
      expected: 'the path of a token, or a pattern that matches one',
    },
    { at: 'tokens.pairs[1].on', found: '"gap.*", which names tokens but no colour', expected: 'tokens of the type color' },
    { at: 'tokens.pairs[2]', found: 'mark.main alone as ink and surface', expected: 'two tokens' },
  ];
  const rules = [
    { ink: 'mark.mian', on: ['face.page', 'quay.**'] },
    { ink: 'mark.main', on: 'gap.*' },
    { ink: 'mark.main', on: 'mark.main' },
  ];
  expect(() => read(rules)).toThrow(
    expect.objectContaining({ code: 'config-invalid', data: expect.objectContaining({ faults }) as unknown }),
  );
});

test('files with errors come first: their tokens may be what is missing', () => {
  const tokens = read([{ ink: 'mark.main', on: 'face.page' }], { base: ['broken.json'] });
  expect(tokens.pairs).toEqual([]);
  expect(tokens.idlePairs.map(({ at }) => at)).toEqual(['tokens.pairs[0].ink', 'tokens.pairs[0].on']);
  expect(tokens.graph.problems.map(({ level }) => level)).toContain('error');
});
