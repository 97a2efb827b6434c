// What tells two machines apart is named, with what either has.
import { expect, test } from 'vitest';
import type { MachineFacts } from '../../src/cli/work/machine-facts.ts';
import { unlikeMachines } from '../../src/cli/work/unlike-machines.ts';

const planned: MachineFacts = {
  gloam: '0.1.0',
  browser: 'Chromium 156.0.1',
  fonts: { families: { serif: 'Harbour Serif', monospace: 'Pier Mono' }, picture: 'aa'.repeat(32) },
  configuration: '1111',
  files: { 'tokens/night.json': '2222' },
  app: '3333',
};

test('machines that are alike differ in nothing', () => {
  expect(unlikeMachines(planned, { ...planned })).toEqual([]);
});

test.each<readonly [string, Partial<MachineFacts>, string]>([
  ['gloam', { gloam: '0.2.0' }, 'gloam: found 0.2.0; expected 0.1.0'],
  ['the browser', { browser: 'Chromium 155.0.9' }, 'browser: found Chromium 155.0.9; expected Chromium 156.0.1'],
  [
    'a font',
    { fonts: { families: { serif: 'Quay Serif', monospace: 'Pier Mono' }, picture: 'bb'.repeat(32) } },
    'font serif: found "Quay Serif"; expected "Harbour Serif"',
  ],
  [
    'the version of a font, which has the same name',
    { fonts: { ...planned.fonts, picture: 'bb'.repeat(32) } },
    `picture of text in the same fonts: found one with the hash ${'bb'.repeat(8)}; expected one with the hash ${'aa'.repeat(8)}`,
  ],
  ['the configuration', { configuration: '1112' }, 'configuration: found one with the hash 1112; expected one with the hash 1111'],
  ['a token file', { files: {} }, 'tokens/night.json: found none; expected one with the hash 2222'],
  ['the app', { app: '3334' }, 'files of the app: found one with the hash 3334; expected one with the hash 3333'],
])('%s', (_what, changes, said) => {
  expect(unlikeMachines({ ...planned, ...changes }, planned)).toEqual([said]);
});
