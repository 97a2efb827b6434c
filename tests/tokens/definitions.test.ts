// Faults of definitions, told from siblings: each planted fault has a healthy twin that must stay silent.
import { describe, expect, test } from 'vitest';
import { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import type { TokenFault } from '../../src/tokens/faults/token-fault.ts';
import { learnPairs, pairTable } from '../../src/tokens/faults/pair-table.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { EXAMPLE } from '../tables/tokens/ramp-faults.ts';
import { readWith, srgb } from './read.ts';

const FAMILIES = {
  silt: EXAMPLE,
  // Two more ramps of the same lightness in other hues: red and blue (or green and blue) of each step change places.
  kelp: EXAMPLE.map((hex) => `#${hex.slice(1, 3)}${hex.slice(5, 7)}${hex.slice(3, 5)}`),
  buoy: EXAMPLE.map((hex) => `#${hex.slice(5, 7)}${hex.slice(3, 5)}${hex.slice(1, 3)}`),
};

function ramp(colors: readonly string[]): Record<string, unknown> {
  return { $type: 'color', ...Object.fromEntries(colors.map((hex, i): [string, unknown] => [String(i), { $value: srgb(hex) }])) };
}

/** `{ "dial.face": "silt.0" }` → nested tokens that refer to it; a value that begins with # is a literal. */
function tokens(flat: Readonly<Record<string, string>>): Record<string, unknown> {
  const root: Record<string, Record<string, unknown>> = {};
  for (const [path, target] of Object.entries(flat)) {
    const [group = '', name = ''] = path.split('.');
    (root[group] ??= {})[name] = target.startsWith('#') ? { $type: 'color', $value: srgb(target) } : { $value: `{${target}}` };
  }
  return root;
}

function read(
  base: Readonly<Record<string, string>>,
  themes: Readonly<Record<string, Readonly<Record<string, string>>>>,
): TokenGraph {
  const ramps = Object.fromEntries(Object.entries(FAMILIES).map(([name, colors]) => [name, ramp(colors)]));
  const files = {
    'ramps.json': ramps,
    'base.json': tokens(base),
    ...Object.fromEntries(Object.entries(themes).map(([name, flat]) => [`${name}.json`, tokens(flat)])),
  };
  const lists = Object.fromEntries(Object.keys(themes).map((name): [string, readonly string[]] => [name, [`${name}.json`]]));
  return readWith(files, { base: ['ramps.json', 'base.json'], themes: { noon: [], ...lists } }).graph;
}

/** `code token theme+theme`, without what is said about ramps and unused steps. */
function found(graph: TokenGraph, level?: TokenFault['level']): readonly string[] {
  return checkTokens({ graph, reference: 'noon' })
    .faults.filter(
      (fault) => !fault.code.startsWith('ramp') && fault.code !== 'never-used' && (level === undefined || fault.level === level),
    )
    .map(({ code, token, themes }) => `${code} ${token} ${themes.join('+')}`)
    .sort();
}

const LIGHT = {
  'dial.face': 'silt.0',
  'dial.mark': 'silt.9',
  'dial.rim': 'silt.3',
  'gauge.face': 'silt.1',
  'gauge.mark': 'silt.9',
  'gauge.rim': 'silt.3',
  'alarm.face': 'buoy.1',
  'alarm.mark': 'buoy.8',
  'alarm.rim': 'buoy.3',
  'calm.face': 'kelp.1',
  'calm.mark': 'kelp.8',
  'calm.rim': 'kelp.3',
};
const DARK = {
  'dial.face': 'silt.9',
  'dial.mark': 'silt.1',
  'dial.rim': 'silt.7',
  'gauge.face': 'silt.9',
  'gauge.mark': 'silt.1',
  'gauge.rim': 'silt.7',
  'alarm.face': 'buoy.8',
  'alarm.mark': 'buoy.2',
  'alarm.rim': 'buoy.7',
  'calm.face': 'kelp.8',
  'calm.mark': 'kelp.2',
  'calm.rim': 'kelp.7',
};
const without = (flat: Readonly<Record<string, string>>, ...paths: readonly string[]): Readonly<Record<string, string>> =>
  Object.fromEntries(Object.entries(flat).filter(([path]) => !paths.includes(path)));

test('a light theme and a dark one without faults are silent', () => {
  expect(found(read(LIGHT, { dusk: DARK }))).toEqual([]);
});

describe('a missing override', () => {
  test('is found where the siblings have one, in a theme that turns nearly everything', () => {
    expect(found(read(LIGHT, { dusk: without(DARK, 'gauge.rim') }), 'warning')).toEqual(['override-missing gauge.rim dusk']);
  });

  test('is found even if the theme changes the step it points at', () => {
    const graph = readWith(
      {
        'base.json': {
          ...Object.fromEntries(Object.entries(FAMILIES).map(([name, colors]) => [name, ramp(colors)])),
          ...tokens(LIGHT),
        },
        'dusk.json': { silt: ramp(FAMILIES.silt.map((hex) => hex.replace(/..$/, '80'))), ...tokens(without(DARK, 'gauge.rim')) },
      },
      { base: ['base.json'], themes: { noon: [], dusk: ['dusk.json'] } },
    ).graph;
    expect(found(graph, 'warning')).toContain('override-missing gauge.rim dusk');
  });

  test('a group the theme leaves alone, and a theme that changes a few tokens, are no faults; a doubt is a note', () => {
    expect(found(read(LIGHT, { dusk: without(DARK, 'gauge.face', 'gauge.mark', 'gauge.rim') }))).toEqual([]);
    expect(found(read(LIGHT, { regatta: { 'dial.face': 'silt.1' } }))).toEqual([]);
    const stark = { 'dial.face': 'silt.0', 'dial.mark': 'silt.10' };
    expect(found(read(LIGHT, { stark }), 'warning')).toEqual([]);
    expect(found(read(LIGHT, { stark }), 'note')).toEqual(['override-missing dial.rim stark']);
  });

  test('of a token of another type too', () => {
    const gap = (value: number): unknown => ({ $type: 'dimension', $value: { value, unit: 'px' } });
    const files = { 'a.json': { gap: { a: gap(1), b: gap(2), c: gap(3) } }, 'b.json': { gap: { a: gap(4), b: gap(5) } } };
    const { graph } = readWith(files, { base: ['a.json'], themes: { noon: [], dense: ['b.json'] } });
    expect(found(graph)).toEqual(['override-missing gap.c dense']);
  });
});

describe('an alias out of line', () => {
  test('to another family, when the others stay', () => {
    expect(found(read(LIGHT, { dusk: { ...DARK, 'gauge.mark': 'kelp.1' } }))).toEqual(['alias-other-family gauge.mark dusk']);
  });

  test('not when a whole group goes elsewhere together, nor when the family as a whole does', () => {
    const brand = { 'brand.face': 'silt.6', 'brand.rim': 'silt.6' };
    const other = { 'brand.face': 'kelp.6', 'brand.rim': 'kelp.6' };
    expect(found(read({ ...LIGHT, ...brand }, { dusk: { ...DARK, ...other } }))).toEqual([]);
    const turned = Object.fromEntries(Object.entries(DARK).map(([path, step]) => [path, step.replace('silt', 'buoy')]));
    expect(found(read(LIGHT, { dusk: turned }))).toEqual([]);
  });

  test('to a step far from where the others of its step go', () => {
    const more = { 'tab.mark': 'silt.9', 'menu.mark': 'silt.9' };
    const there = { 'tab.mark': 'silt.1', 'menu.mark': 'silt.1' };
    expect(found(read({ ...LIGHT, ...more }, { dusk: { ...DARK, ...there, 'menu.mark': 'silt.6' } }))).toEqual([
      'alias-out-of-line menu.mark dusk',
    ]);
    expect(found(read({ ...LIGHT, ...more }, { dusk: { ...DARK, ...there, 'menu.mark': 'silt.2' } }))).toEqual([]);
    // stated again, and the same: meant
    expect(found(read({ ...LIGHT, ...more }, { dusk: { ...DARK, ...there, 'menu.mark': 'silt.9' } }))).toEqual([]);
  });

  test('in one of two themes that otherwise choose nearly the same steps', () => {
    const themes = { dusk: DARK, night: { ...DARK, 'gauge.rim': 'silt.10' }, fog: DARK };
    expect(found(read(LIGHT, themes))).toEqual(['alias-out-of-line gauge.rim night']);
    expect(found(read(LIGHT, { ...themes, night: { ...DARK, 'gauge.rim': 'silt.8' } }))).toEqual([]);
  });

  test('and so a token that nothing else in its theme bears witness for', () => {
    const base = { ...LIGHT, 'tab.mark': 'silt.5' };
    const dusk = { ...DARK, 'tab.mark': 'silt.4' };
    expect(found(read(base, { dusk, fog: dusk, night: { ...DARK, 'tab.mark': 'silt.9' } }))).toEqual([
      'alias-out-of-line tab.mark night',
    ]);
    expect(found(read(base, { dusk, fog: dusk, night: { ...DARK, 'tab.mark': 'silt.5' } }))).toEqual([]);
  });

  test('off the ramps altogether', () => {
    const base = { ...LIGHT, 'lamp.red': '#ff0000' };
    expect(found(read(base, { dusk: { ...DARK, 'gauge.mark': 'lamp.red' } }))).toContain('alias-other-family gauge.mark dusk');
  });
});

test('a literal among siblings that are aliases names the nearest step', () => {
  const graph = read({ ...LIGHT, 'gauge.rim': '#94c1cf' }, {});
  const fault = checkTokens({ graph, reference: 'noon' }).faults.find(({ code }) => code === 'literal-among-aliases');
  expect(fault).toMatchObject({ token: 'gauge.rim', others: ['silt.3'], themes: ['noon'], layer: 'token' });
  expect(fault?.message).toContain('The nearest step is silt.3 (CIEDE2000 0.');
  expect(found(read({ ...LIGHT, 'lamp.red': '#ff0000', 'lamp.green': '#00ff00' }, {}))).toEqual([]);
});

test('a token that one theme lacks, references that lead nowhere, and loops', () => {
  const graph = read(LIGHT, { dusk: { ...DARK, 'tab.mark': 'silt.1', 'tab.rim': 'silt.99', 'tab.a': 'tab.b', 'tab.b': 'tab.a' } });
  expect(found(graph, 'error')).toEqual(['token-missing tab.mark noon']);
  // Told once: by the reader.
  expect(graph.problems.map(({ code, token, themes }) => `${code} ${token} ${themes.join('+')}`).sort()).toEqual([
    'ref-cycle tab.a dusk',
    'ref-cycle tab.b dusk',
    'ref-unresolved tab.rim dusk',
  ]);
});

describe('use', () => {
  const files = {
    'a.json': {
      silt: { ...ramp(EXAMPLE), '2': { $value: srgb(EXAMPLE[2] ?? ''), $deprecated: 'use silt.3' } },
      dial: { face: { $value: '{silt.2}' }, mark: { $value: '{silt.9}' }, old: { $deprecated: true, $value: '{silt.2}' } },
    },
  };
  const { graph } = readWith(files, { base: ['a.json'], themes: { noon: [] } });

  test('retired tokens that something not retired still uses', () => {
    const [fault] = checkTokens({ graph, reference: 'noon' }).faults.filter(({ code }) => code === 'deprecated-used');
    expect(fault).toMatchObject({ token: 'silt.2', others: ['dial.face'] });
    expect(fault?.message).toBe('silt.2 is retired (use silt.3) but still used by dial.face.');
  });

  test('without runs only steps nobody refers to count as unused, one note a ramp; with runs every colour no page uses', () => {
    const notes = (uses?: Parameters<typeof checkTokens>[0]['uses'], through?: ReadonlySet<string>): readonly TokenFault[] =>
      checkTokens({
        graph,
        reference: 'noon',
        ...(uses === undefined ? {} : { uses }),
        ...(through === undefined ? {} : { through }),
      }).faults.filter(({ code }) => code === 'never-used');
    const unused = (...met: Parameters<typeof notes>): readonly string[] =>
      notes(...met)
        .flatMap(({ token, others }) => [token, ...others])
        .sort();
    expect(notes()).toHaveLength(1);
    expect(notes()[0]?.measured).toEqual({ unused: 9, steps: 11 });
    // Whoever ends where pages got through some property of their own may be on the way.
    expect(unused([], new Set(['silt.9']))).toContain('dial.face');
    expect(unused([], new Set([graph.stepOf('dial.face', 'noon') ?? '']))).not.toContain('dial.face');
    expect(unused()).toEqual(['silt.0', 'silt.1', 'silt.10', 'silt.3', 'silt.4', 'silt.5', 'silt.6', 'silt.7', 'silt.8']);
    expect(
      unused([
        { token: 'dial.face', role: 'surface', count: 3 },
        { token: 'silt.0', role: 'surface', count: 1 },
      ]),
    ).toContain('dial.mark');
    expect(unused([{ token: 'silt.0', role: 'surface', count: 1 }])).not.toContain('silt.0');
  });

  test('counts, most used first', () => {
    const { counts } = checkTokens({
      graph,
      reference: 'noon',
      uses: [
        { token: 'dial.mark', role: 'ink', count: 9 },
        { token: 'dial.mark', role: 'glyph', count: 1 },
      ],
    });
    expect(counts).toMatchObject({ tokens: 14, colors: 14, ramps: 1, steps: 11, semantic: 3, aliases: 3, themed: 0 });
    expect(counts.mostUsed.slice(0, 2)).toEqual([
      { token: 'dial.mark', uses: 10, users: 0 },
      { token: 'silt.2', uses: 0, users: 2 },
    ]);
  });
});

describe('pairs', () => {
  test('are learnt from places, most used first, with the strictest need', () => {
    const place = (
      ink: string | null,
      surface: string | null,
      required: number | null,
    ): { ink: string | null; surface: string | null; required: number | null } => ({ ink, surface, required });
    expect(
      learnPairs([
        place('a', 'b', 3),
        place('a', 'b', 4.5),
        place('c', 'b', 3),
        place(null, 'b', 3),
        place('a', null, 3),
        place('a', 'b', null),
      ]),
    ).toEqual([
      { ink: 'a', surface: 'b', required: 4.5, uses: 2, declared: null },
      { ink: 'c', surface: 'b', required: 3, uses: 1, declared: null },
    ]);
  });

  test('contrast in every theme; a pair that fails says which step would do, or that none does', () => {
    const graph = read(LIGHT, { dusk: { ...DARK, 'dial.mark': 'silt.6', 'calm.face': 'silt.5', 'calm.mark': 'kelp.5' } });
    const pairs = [
      { ink: 'dial.mark', surface: 'dial.face', required: 4.5, uses: 0, declared: null },
      { ink: 'calm.mark', surface: 'calm.face', required: 4.5, uses: 0, declared: null },
    ];
    const cells = pairTable(graph, pairs).map(({ cells: byTheme }) => [...byTheme].map(([theme, cell]) => [theme, cell.verdict]));
    expect(cells).toEqual([
      [
        ['noon', 'pass'],
        ['dusk', 'fail'],
      ],
      [
        ['noon', 'pass'],
        ['dusk', 'fail'],
      ],
    ]);
    const faults = checkTokens({ graph, reference: 'noon', pairs }).faults.filter(({ code }) => code === 'pair-contrast');
    expect(faults.map(({ token, layer, expected }) => [token, layer, expected['step']])).toEqual([
      ['calm.mark', 'gap', undefined],
      ['dial.mark', 'token', 'silt.4'],
    ]);
    // derived by WCAG 2.2: silt.6 #2f7086 on silt.9 #0f3344 is 2.3…
    expect(faults[1]?.message).toMatch(
      /^dial\.mark on dial\.face has a contrast of 2\.\d\d in dusk; it needs 4\.5\. silt\.4 would do\.$/,
    );
  });

  test('a surface that lets something through cannot be judged, nor what no page shows in a theme', () => {
    const { graph } = readWith(
      {
        'a.json': {
          $type: 'color',
          ink: { $value: srgb('#000000') },
          veil: { $value: { colorSpace: 'srgb', components: [1, 1, 1], alpha: 0.5 } },
        },
      },
      { base: ['a.json'], themes: { noon: [] } },
    );
    const absent = { ink: 'ink', surface: 'ink', required: 4.5, uses: 2, declared: null, absentIn: ['noon'] };
    expect(pairTable(graph, [absent])[0]?.cells.get('noon')).toEqual({ verdict: 'unknown', why: 'no page shows it in noon' });
    const [row] = pairTable(graph, [{ ink: 'ink', surface: 'veil', required: 4.5, uses: 0, declared: null }]);
    expect(row?.cells.get('noon')).toEqual({ verdict: 'unknown', why: 'veil is translucent in noon: what lies beneath decides' });
  });
});
