// Causes are called by what is wrong: the step, the token, the declaration and its place.
import { expect, test } from 'vitest';
import type { Cause, Repair } from '../../src/samples/finding.ts';
import { causeTitle } from '../../src/gate/words.ts';

const bare: Cause = { id: 'c1', layer: 'unknown', chain: [], findings: 3, themes: ['dusk'], pages: 2, confidence: 0.9, why: '' };

const counts = { themes: ['dusk'], fixes: 1, breaks: 0 };
const repair = (change: 'value' | 'alias' | 'rebuild' | 'use', of: string, from: string, to: string): Repair => ({
  change,
  of,
  from,
  to,
  ...counts,
});

// derived: `of` of a cause names the step, token or selector that changes
test.each<[string, Partial<Cause>]>([
  ['ramp: silt.400', { layer: 'ramp', token: 'mark.unit', repair: repair('value', 'silt.400', '#647278', '#8c999f') }],
  ['token: mark.unit', { layer: 'token', step: 'silt.700', repair: repair('alias', 'mark.unit', 'silt.700', 'silt.300') }],
  ['build: --fee-mark', { layer: 'build', token: 'fee.mark', repair: repair('rebuild', '--fee-mark', '#b7a9c4', 'kelp.300') }],
  [
    'usage: color of .unit',
    { layer: 'usage', token: 'edge.firm', property: 'color', repair: repair('use', '.unit', 'edge.firm', 'mark') },
  ],
  [
    'usage: filter of html',
    {
      layer: 'usage',
      token: 'live.mark',
      property: 'color',
      repair: {
        change: 'style',
        of: 'html',
        from: 'filter: invert(1)',
        to: 'filter: none',
        style: { property: 'filter', from: 'invert(1)', to: 'none' },
        ...counts,
      },
    },
  ],
  [
    'gap: mark.quiet on face.desk',
    {
      layer: 'gap',
      token: 'mark.quiet',
      repair: { change: 'add', of: 'face.desk', from: 'mark.quiet', to: '4.5', asks: [], ...counts },
    },
  ],
  ['token: strobe.lamp', { layer: 'token', token: 'strobe.lamp' }],
  ['unknown', { layer: 'unknown' }],
])('%s', (title, over) => {
  expect(causeTitle({ ...bare, ...over })).toBe(title);
});
