import { describe, expect, test } from 'vitest';
import type { Cause, Repair } from '../../src/samples/finding.ts';
import { explainLines } from '../../src/triage/tell/explain-lines.ts';
import { paintApp } from './paint-app.ts';
import type { Kind } from './plant-faults.ts';
import { plantOne } from './plant-faults.ts';
import { triageApp } from './triage-app.ts';

function causeOf(kind: Kind, seed: number): Cause {
  const { app } = plantOne(kind, seed);
  const [only] = triageApp(app, paintApp(app)).causes;
  if (only === undefined) throw new Error('nothing was found');
  return only.cause;
}

describe('why, in one sentence that names the fault, the evidence and the repair', () => {
  // recorded: guards the wording; of each kind of fault see whole-causes.test.ts
  test('of a step', () => {
    expect(causeOf('ink step', 1).why).toBe(
      'sail.200 (#97887d) is too dark in dusk: its neighbours on the ramp put it at #decdc1, which mends all 4 findings and breaks nothing.',
    );
  });

  test('of a token', () => {
    expect(causeOf('alias', 3).why).toBe(
      'station.code points at silt.600 in dusk, while others on its step in noon point to silt.200 and silt.300 here; silt.200 mends all 4 findings and breaks nothing.',
    );
  });

  test('of a use', () => {
    expect(causeOf('strange use', 3).why).toBe(
      '#first-station-code takes edge.soft for its text, which elsewhere is no colour for text, where edge.soft on face.raised reaches 1.85 of 4.5 in noon, dusk and stark; mark.hint is there for that, mends all 3 findings and breaks nothing.',
    );
  });
});

test('where a style is wrong, the declaration leads the chain, and no token that happens to lie there is named', () => {
  const cause = causeOf('opacity', 11);
  // derived: what the planted fault is
  expect(cause.repair?.change).toBe('style');
  expect(cause.property).toBe('opacity');
  expect(`${cause.chain[0]?.property ?? ''}: ${cause.chain[0]?.value ?? ''}`).toBe(cause.repair?.from);
  expect(cause).not.toHaveProperty('token');
  expect(cause).not.toHaveProperty('step');
});

test('where a literal is wrong, no token that happens to lie behind it is named', () => {
  const cause = causeOf('unthemed', 11);
  expect(cause.repair?.change).toBe('use');
  expect(cause.repair?.from).toMatch(/^#/);
  expect(cause).not.toHaveProperty('token');
});

test('the chain is shown hop by hop, each with its colour and place', () => {
  const cause: Cause = {
    id: 'c1',
    layer: 'token',
    token: 'mark.quiet',
    step: 'silt.400',
    property: 'color',
    chain: [
      { property: 'color', value: 'rgb(100 114 120)', file: '/harbour.css', line: 12 },
      { property: '--mark-quiet', token: 'mark.quiet', value: '{silt.400}', file: 'dusk.tokens.json', line: 9 },
      { property: '--silt-400', token: 'silt.400', value: '#647278' },
    ],
    findings: 2,
    themes: ['dusk'],
    pages: 1,
    confidence: 0.9,
    why: 'mark.quiet points at silt.400 in dusk.',
    repair: { change: 'alias', of: 'mark.quiet', from: 'silt.400', to: 'silt.300', themes: ['dusk'], fixes: 2, breaks: 0 },
  };
  expect(explainLines(cause)).toEqual([
    { kind: 'why', text: 'mark.quiet points at silt.400 in dusk.' },
    { kind: 'hop', text: 'color: rgb(100 114 120)', color: '#647278', place: '/harbour.css:12' },
    { kind: 'hop', text: '→ mark.quiet --mark-quiet: {silt.400}', color: '#647278', place: 'dusk.tokens.json:9' },
    { kind: 'hop', text: '→ silt.400 --silt-400: #647278', color: '#647278' },
    { kind: 'repair', text: 'point mark.quiet at silt.300 instead of silt.400 (dusk)' },
    { kind: 'counts', text: 'layer: token · 2 findings · 1 page · dusk · mends 2, breaks 0 · confidence 0.90' },
  ]);
});

test('each change of a repair has a line of its own kind', () => {
  const repair: Repair = {
    change: 'alias',
    of: 'mark.quiet',
    from: 'silt.400',
    to: 'silt.300',
    also: [
      { change: 'alias', of: 'face.card', from: 'silt.800', to: 'silt.900' },
      {
        change: 'style',
        of: '.card',
        from: 'opacity: 0.4',
        to: 'opacity: 1',
        style: { property: 'opacity', from: '0.4', to: '1' },
      },
    ],
    themes: ['dusk'],
    fixes: 2,
    breaks: 0,
  };
  const cause: Cause = { ...causeOf('alias', 3), chain: [], repair };
  expect(explainLines(cause).flatMap(({ kind, text }) => (kind === 'repair' ? [text] : []))).toEqual([
    'point mark.quiet at silt.300 instead of silt.400 (dusk)',
    'and point face.card at silt.900 instead of silt.800',
    'and in .card, write opacity: 1 instead of opacity: 0.4',
  ]);
});
