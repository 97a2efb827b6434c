// A declaration with less alpha taken off: it is written as it was, with another number. Derived: what somebody would put there by hand.
import { expect, test } from 'vitest';
import { alphaStyle } from '../../src/triage/tell/alpha-style.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { textRun } from '../checks/made-samples.ts';
import { made, tableOf, token } from './made-cases.ts';

const index = tableOf({ 'edge.quay': ['#111111', '#eeeeee'] });
const fore = token(0, '#11111140', 0.25);
const wrote = (
  value: string,
  property = 'border-color',
): { readonly property: string; readonly value: string; readonly rule: string } => ({
  ...{ property, value },
  rule: '.field',
});

test.each([
  ['rgb(var(--edge-quay) / 0.25)', 'rgb(var(--edge-quay) / 0.6)'],
  ['rgba( var(--edge-quay), .25 )', 'rgba( var(--edge-quay), 0.6 )'],
  ['rgba(var(--edge-quay), var(--faint))', 'rgba(var(--edge-quay), 0.6)'],
  ['1px solid hsl(var(--edge-quay) / 25%)', '1px solid hsl(var(--edge-quay) / 0.6)'],
  ['rgb(var(--edge-quay) / calc(var(--faint) * 2))', 'rgb(var(--edge-quay) / 0.6)'],
  ['color-mix(in oklab, var(--edge-quay) 25%, transparent)', 'color-mix(in oklab, var(--edge-quay) 60%, transparent)'],
  ['rgb(from var(--edge-quay) r g b / 25%)', 'rgb(from var(--edge-quay) r g b / 0.6)'],
  [
    'inset 0 0 0 1px oklch(from var(--edge-quay) l c h/0.25), 0 1px 1px oklch(from var(--edge-quay) l c h/0.3)',
    'inset 0 0 0 1px oklch(from var(--edge-quay) l c h/0.6), 0 1px 1px oklch(from var(--edge-quay) l c h/0.3)',
  ],
])('%s becomes %s', (from, to) => {
  expect(alphaStyle(index, made({ fore, wrote: [wrote(from)] }), 0.6)).toEqual({ property: 'border-color', from, to });
});

test.each([[[]], [[wrote('rgb(from var(--edge-quay) r g calc(b * 0.5) / 25%)')]], [[wrote('rgb(var(--other) / 0.25)')]]])(
  'what was not looked up, or is written otherwise, is told as a mix: %j',
  (hops) => {
    const sample = textRun({ color: '#cccccc', background: '#ffffff' });
    const one = made({ fore, wrote: hops, place: { ...made().place, sample } });
    expect(alphaStyle(index, one, 0.6)).toEqual({
      property: 'color',
      from: 'color-mix(in srgb, var(--edge-quay) 25%, transparent)',
      to: 'color-mix(in srgb, var(--edge-quay) 60%, transparent)',
    });
  },
);

test.each([
  ['hsl(var(--reed))', '154 77% 27%', 'hsl(var(--reed) / 0.25)', 'hsl(var(--reed) / 0.6)'],
  ['rgba(var(--reed))', '16, 122, 76', 'rgba(var(--reed), 0.25)', 'rgba(var(--reed), 0.6)'],
])('numbers of a colour get it in their function: %s', (text, numbers, from, to) => {
  const { table } = tableOf({ '--reed': ['#107a4c', '#107a4c'] });
  const built = { text, numbers: new Map([['--reed', numbers]]) };
  const bare = indexTable({
    ...table,
    tokens: table.tokens.map((each) => ({ ...each, properties: ['--reed'], isBare: true, built: [built, built] })),
  });
  const sample = textRun({ color: '#cccccc', background: '#ffffff' });
  const one = made({ fore: token(0, '#107a4c40', 0.25), place: { ...made().place, sample } });
  expect(alphaStyle(bare, one, 0.6)).toEqual({ property: 'color', from, to });
});
