// Every problem, declaration and hop says where it stands, since that is what a repair begins with.
import { describe, expect, test } from 'vitest';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { problemText } from '../../src/tokens/problem.ts';
import { problemsOf, readOne, readWith, srgb } from './read.ts';

const RAMP = `{
  "silt": {
    "$type": "color",
    "100": { "$value": { "colorSpace": "srgb", "components": [0.8, 0.6, 0.4] } },
    "700": { "$value": { "colorSpace": "srgb", "components": [0, 0.4, 0.4] }, "$deprecated": "use 600" }
  }
}`;
const PARTS = `{
  "dial": {
    "$extensions": { "org.tide": { "owner": "gauges" } },
    "face": { "$value": "{silt.100}", "$extensions": { "org.tide": { "__proto__": [1, null] } } },
    "mark": { "$ref": "#/dial/face" },
    "rim": { "$value": { "$ref": "#/dial/mark/$value" } }
  },
  "spare": { "$extends": "{dial}" }
}`;
const DUSK = `{ "dial": {
  "face": { "$value": "{silt.700}" } } }`;
const DOCUMENT = {
  version: '2025.10',
  sets: { ramp: { sources: [{ $ref: 'ramp.tokens.json' }] }, parts: { sources: [{ $ref: './parts.tokens.json' }] } },
  modifiers: { watch: { default: 'noon', contexts: { noon: [], dusk: [{ $ref: '../themes/dusk.tokens.json' }] } } },
  resolutionOrder: [{ $ref: '#/sets/ramp' }, { $ref: '#/sets/parts' }, { $ref: '#/modifiers/watch' }],
};

const { graph, modifiers, permutations } = readWith(
  {
    'tokens/harbour.resolver.json': DOCUMENT,
    'tokens/ramp.tokens.json': RAMP,
    'tokens/parts.tokens.json': PARTS,
    'themes/dusk.tokens.json': DUSK,
  },
  { resolver: 'tokens/harbour.resolver.json', themes: { day: {}, night: { watch: 'dusk' } } },
);

function chain(of: TokenGraph, path: string, theme: string): readonly string[] {
  const resolution = of.resolve(path, theme);
  return resolution.kind === 'absent'
    ? []
    : resolution.chain.map((hop) => `${hop.token} ${hop.how} ${hop.file}:${String(hop.line)}`);
}

test('the document says its modifiers and how many permutations it has', () => {
  expect(problemsOf(graph)).toEqual([]);
  expect([...(modifiers ?? [])]).toEqual([['watch', ['noon', 'dusk']]]);
  expect(permutations).toBe(2);
});

describe('chains', () => {
  test('go from the token to the literal, hop by hop', () => {
    expect(chain(graph, 'dial.rim', 'day')).toEqual([
      'dial.rim pointer tokens/parts.tokens.json:6',
      'dial.mark pointer tokens/parts.tokens.json:5',
      'dial.face curly tokens/parts.tokens.json:4',
      'silt.100 none tokens/ramp.tokens.json:4',
    ]);
    expect(chain(graph, 'dial.rim', 'night')).toEqual([
      'dial.rim pointer tokens/parts.tokens.json:6',
      'dial.mark pointer tokens/parts.tokens.json:5',
      'dial.face curly themes/dusk.tokens.json:2',
      'silt.700 none tokens/ramp.tokens.json:5',
    ]);
    expect(graph.stepOf('dial.rim', 'night')).toBe('silt.700');
  });

  test('a copy made by $extends says what it was copied from', () => {
    const spare = graph.resolve('spare.face', 'night');
    expect(spare.kind === 'absent' ? null : spare.chain[0]).toMatchObject({
      token: 'spare.face',
      copyOf: 'dial.face',
      file: 'themes/dusk.tokens.json',
    });
  });

  test('the other way: who refers to a token, and what depends on it', () => {
    expect(graph.users('silt.100')).toEqual(['dial.face', 'spare.face']);
    expect(graph.users('silt.100', 'night')).toEqual([]);
    expect([...graph.dependents('silt.100', 'day')].sort()).toEqual([
      'dial.face',
      'dial.mark',
      'dial.rim',
      'spare.face',
      'spare.mark',
      'spare.rim',
    ]);
  });
});

test('every declaration met is kept with its file, layer and text, and which one wins', () => {
  const face = graph.resolve('dial.face', 'night');
  expect(face.kind === 'absent' ? [] : face.declarations).toEqual([
    {
      file: 'tokens/parts.tokens.json',
      line: 4,
      column: 13,
      pointer: '/dial/face',
      origin: { kind: 'set', name: 'parts' },
      raw: '"{silt.100}"',
      wins: false,
    },
    {
      file: 'themes/dusk.tokens.json',
      line: 2,
      column: 11,
      pointer: '/dial/face',
      origin: { kind: 'modifier', name: 'watch', context: 'dusk' },
      raw: '"{silt.700}"',
      wins: true,
    },
  ]);
});

test('type origin, deprecation and extensions are kept', () => {
  const typeFrom = (path: string): unknown => {
    const resolution = graph.resolve(path, 'day');
    return resolution.kind === 'value' ? resolution.typeFrom : null;
  };
  expect(typeFrom('silt.100')).toEqual({ kind: 'group', group: 'silt' });
  expect(typeFrom('dial.face')).toEqual({ kind: 'reference', token: 'silt.100' });
  expect(graph.deprecationOf('silt.700', 'day')).toBe('use 600');
  expect(graph.deprecationOf('silt.100', 'day')).toBe(false);
  const face = graph.resolve('dial.face', 'day');
  expect(JSON.stringify(face.kind === 'absent' ? null : face.extensions)).toBe('{"org.tide":{"__proto__":[1,null]}}');
});

test('a theme or token that is not there is absent, not an error', () => {
  expect(graph.resolve('dial.face', 'gale')).toEqual({ kind: 'absent', path: 'dial.face', theme: 'gale' });
  expect(graph.resolve('nothing', 'day').kind).toBe('absent');
  expect(graph.stepOf('nothing', 'day')).toBeNull();
});

test('all problems of a file at once, with line, column, pointer, and the themes they occur in', () => {
  const text = `{
  "silt": { "$type": "color", "100": { "$value": { "colorSpace": "srgb", "components": [0.2, 1.4, "NONE"] } } },
  "dial": { "face": { "$value": "{Silt.100}" }, "note": 7 },
  "gap": { "$type": "dimension", "$value": { "value": 1, "unit": "em" } }
}`;
  const { problems } = readWith({ 'a.json': text }, { base: ['a.json'], themes: { day: [], night: [] } }).graph;
  expect(
    problems.map(({ code, line, column, pointer, themes }) => [code, `${String(line)}:${String(column)}`, pointer, themes.join()]),
  ).toEqual([
    ['color-range', '2:94', '/silt/100/$value/components/1', 'day,night'],
    ['bad-value', '2:99', '/silt/100/$value/components/2', 'day,night'],
    ['ref-unresolved', '3:33', '/dial/face/$value', 'day,night'],
    ['not-a-node', '3:57', '/dial/note', ''],
    ['bad-value', '4:66', '/gap/$value/unit', 'day,night'],
  ]);
  expect(problems.map(problemText)[4]).toBe('a.json:4:66: gap: found "em"; expected the unit "px" or "rem". [bad-value]');
});

test('a problem of one theme only names that theme', () => {
  const files = { 'base.json': { a: { $type: 'color', $value: srgb('#336699') } }, 'night.json': { b: { $value: '{lost}' } } };
  const { problems } = readWith(files, { base: ['base.json'], themes: { day: [], night: ['night.json'] } }).graph;
  expect(problems.map(({ code, token, themes, file }) => [code, token, themes, file])).toEqual([
    ['ref-unresolved', 'b', ['night'], 'night.json'],
  ]);
});

describe('strict mode', () => {
  // Second draft (2022), sections 8.1 and 8.2; third draft (July 2025), section 3.9: older notations are errors when asked for
  test.each([
    ['legacy-hex', { reed: { $type: 'color', $value: '#336699' } }],
    ['legacy-dimension', { reed: { $type: 'dimension', $value: '4px' } }],
    [
      'legacy-nested-value',
      {
        reed: {
          $type: 'border',
          $value: { color: { $type: 'color', $value: srgb('#336699') }, width: { value: 1, unit: 'px' }, style: 'solid' },
        },
      },
    ],
  ])('%s is a warning, and in strict mode an error that voids the token', (code, file) => {
    const lenient = readOne(file);
    expect(lenient.problems.map((problem) => [problem.code, problem.level])).toEqual([[code, 'warning']]);
    expect(lenient.resolve('reed', 'only').kind).toBe('value');
    const strict = readOne(file, { strict: true });
    expect(strict.problems.map((problem) => [problem.code, problem.level])).toEqual([[code, 'error']]);
    expect(strict.resolve('reed', 'only').kind).toBe('invalid');
  });

  test('the third form of T57: four digits carry alpha', () => {
    const reed = readOne({ reed: { $type: 'color', $value: '#3698' } }).resolve('reed', 'only');
    // derived: each digit doubled, 0x88/255
    expect(reed.kind === 'value' ? reed.value.value : null).toMatchObject({ alpha: 0x88 / 255 });
  });
});
