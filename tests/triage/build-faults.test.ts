import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import { findBuildFaults } from '../../src/triage/tokens/build-faults.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import type { Definition, TokenTable } from '../../src/triage/tokens/token-table.ts';

const literal = (text: string): Definition => ({ kind: 'literal', color: parseColor(text), declared: { id: text } });
const alias = (target: string): Definition => ({ kind: 'alias', target, declared: { id: target } });

const TABLE: TokenTable = {
  themes: [
    { name: 'noon', tone: 'light' },
    { name: 'dusk', tone: 'dark' },
  ],
  reference: 0,
  tokens: [
    { path: 'silt.100', properties: ['--silt-100'], definitions: [literal('#cc9966'), literal('#334455')] },
    { path: 'dial.face', properties: ['--dial-face'], definitions: [alias('silt.100'), alias('silt.100')] },
    { path: 'fall', properties: ['--fall'], definitions: [literal('rgb(13 26 34 / 0.16)'), literal('rgb(0 0 0 / 0.5)')] },
  ],
  ramps: [],
};

const index = indexTable(TABLE);
const faultsOf = (...served: readonly (readonly [theme: string, name: string, value: string])[]): readonly string[] =>
  findBuildFaults(
    index,
    served.map(([theme, name, value]) => ({ theme, name, value })),
  ).map((fault) => `${fault.property} in ${TABLE.themes[fault.theme]?.name ?? ''}`);

describe('a served value is the token’s', () => {
  // Digest of the token format §14: the colour in any notation, its 8-bit rounding, alpha to about .005.
  test.each([
    ['--silt-100', '#cc9966'],
    ['--silt-100', ' rgb(204 153 102)'],
    ['--silt-100', 'RGB(204, 153, 102)'],
    ['--silt-100', 'color(srgb 0.8 0.6 0.4)'],
    ['--silt-100', 'color(srgb 0.8019 0.6 0.4)'],
    ['--fall', 'rgb(13 26 34 / 16%)'],
    ['--fall', 'rgb(13 26 34 / 0.164)'],
    // No colour, no token of ours, nothing served: no fault.
    ['--silt-100', '12px'],
    ['--other', '#000000'],
    ['--silt-100', ''],
  ])('%s: %s', (name, value) => {
    expect(faultsOf(['noon', name, value])).toEqual([]);
  });
});

describe('a served value is another', () => {
  test.each([
    ['--silt-100', '#cc9969'],
    ['--silt-100', 'rgb(204 153 102 / 0.9)'],
    ['--fall', 'rgb(13 26 34 / 0.2)'],
    ['--dial-face', '#334455'],
  ])('%s: %s', (name, value) => {
    expect(faultsOf(['noon', name, value])).toEqual([`${name} in noon`]);
  });
});

test('what differs only because its target does is not listed: the fault lies there', () => {
  expect(faultsOf(['dusk', '--silt-100', '#111111'], ['dusk', '--dial-face', '#111111'])).toEqual(['--silt-100 in dusk']);
});

test('an alias that differs beside a sound target is at fault itself', () => {
  expect(faultsOf(['dusk', '--silt-100', '#334455'], ['dusk', '--dial-face', '#cc9966'])).toEqual(['--dial-face in dusk']);
});

test('each theme is judged by itself', () => {
  expect(faultsOf(['noon', '--silt-100', '#cc9966'], ['dusk', '--silt-100', '#cc9966'])).toEqual(['--silt-100 in dusk']);
});
