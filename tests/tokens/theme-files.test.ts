// A common list of files with one list per theme, and resolver documents whose parts lie in several files.
import { describe, expect, test } from 'vitest';
import { toHex } from '../../src/colour/format-color.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { pathBeside } from '../../src/tokens/load-source.ts';
import { problemsOf, readWith, srgb } from './read.ts';

const colour = (graph: TokenGraph, path: string, theme: string): string | null => {
  const found = graph.colorOf(path, theme);
  return found === null ? null : toHex(found);
};
const silt = { $type: 'color', '100': { $value: srgb('#cc9966') }, '700': { $value: srgb('#006666') } };
const dial = { face: { $value: '{silt.100}' } };

describe('base and themes', () => {
  test('theme files are laid over the common ones', () => {
    const files = { 'ramp.json': { silt }, 'parts.json': { dial }, 'night.json': { dial: { face: { $value: '{silt.700}' } } } };
    const { graph, modifiers } = readWith(files, { base: ['ramp.json', 'parts.json'], themes: { day: [], night: ['night.json'] } });
    expect([colour(graph, 'dial.face', 'day'), colour(graph, 'dial.face', 'night')]).toEqual(['#cc9966', '#006666']);
    expect(modifiers).toBeNull();
    const face = graph.resolve('dial.face', 'night');
    expect(face.kind === 'absent' ? [] : face.declarations.map(({ origin }) => origin)).toEqual([
      { kind: 'set', name: 'base' },
      { kind: 'modifier', name: 'theme', context: 'night' },
    ]);
  });

  test('one file with a group per theme: the part is named after #', () => {
    const all = { ramp: { silt }, day: { dial }, night: { dial: { face: { $value: '{silt.700}' } } } };
    const { graph } = readWith(
      { 'all.json': all },
      { base: ['all.json#/ramp'], themes: { day: ['all.json#/day'], night: ['all.json#/night'] } },
    );
    expect([colour(graph, 'dial.face', 'day'), colour(graph, 'dial.face', 'night')]).toEqual(['#cc9966', '#006666']);
    expect(problemsOf(graph)).toEqual([]);
  });

  test('a part that is not there, and a file that is not there', () => {
    const { graph } = readWith({ 'all.json': { silt } }, { base: ['all.json#/lost', 'lost.json'], themes: { day: [] } });
    expect(problemsOf(graph)).toEqual(['bad-pointer', 'source-missing']);
  });

  test('group members that two files set differently: the later wins, with a warning', () => {
    const files = {
      'a.json': { gap: { $type: 'color' } },
      'b.json': { gap: { $type: 'dimension', low: { $value: { value: 1, unit: 'px' } } } },
    };
    const { graph } = readWith(files, { base: ['a.json', 'b.json'], themes: { day: [] } });
    expect(problemsOf(graph)).toEqual(['group-differs gap']);
    expect(graph.resolve('gap.low', 'day').kind).toBe('value');
  });

  test('a bare $ref laid over a token, and a token over a bare $ref', () => {
    const files = {
      'a.json': { silt, rim: { $type: 'color', $value: srgb('#000000') }, lip: { $ref: '#/silt/100' } },
      'b.json': { rim: { $ref: '#/silt/700' }, lip: { $value: '{silt.700}' } },
    };
    const { graph } = readWith(files, { base: ['a.json'], themes: { day: [], night: ['b.json'] } });
    expect(problemsOf(graph)).toEqual([]);
    expect([colour(graph, 'rim', 'night'), colour(graph, 'lip', 'day'), colour(graph, 'lip', 'night')]).toEqual([
      '#006666',
      '#cc9966',
      '#006666',
    ]);
    const rim = graph.resolve('rim', 'night');
    expect(rim.kind === 'absent' ? [] : rim.declarations.map(({ file, wins }) => [file, wins])).toEqual([
      ['a.json', false],
      ['b.json', true],
    ]);
  });
});

describe('resolver documents over several files', () => {
  const order = [{ $ref: '#/sets/ramp' }, { $ref: '#/sets/parts' }, { $ref: '#/modifiers/watch' }];

  test('parts of files, members beside $ref, defs and files in other folders', () => {
    const files = {
      'sets/r.json': {
        version: '2025.10',
        $defs: { extra: { sill: { $type: 'color', $value: srgb('#112233') } } },
        sets: {
          ramp: { sources: [{ $ref: '../ramps/all.json#/families', silt }, { $ref: '#/$defs/extra' }] },
          parts: { sources: [{ $ref: 'parts.json#dials' }] },
        },
        modifiers: { watch: { default: 'noon', contexts: { noon: [], dusk: [{ $ref: '#/sets/turned' }] } } },
        resolutionOrder: order,
      },
      'ramps/all.json': { families: { silt: { '900': { $value: 7 } }, kelp: { $type: 'color', $value: srgb('#00ff00') } } },
      'sets/parts.json': { dials: { dial } },
    };
    const missing = readWith(files, { resolver: 'sets/r.json', themes: { day: {} } });
    // "turned" is not there; the slash after # is missing in one reference, as in the report's own sample (R4.2)
    expect(problemsOf(missing.graph)).toEqual(['bad-pointer', 'pointer-slash']);
    expect(missing.graph.tokens.size).toBe(0);
    const document = {
      ...files['sets/r.json'],
      modifiers: { watch: { default: 'noon', contexts: { noon: [], dusk: [{ dial: { face: { $value: '{kelp}' } } }] } } },
    };
    const { graph } = readWith(
      { ...files, 'sets/r.json': document },
      { resolver: 'sets/r.json', themes: { day: {}, night: { watch: 'dusk' } } },
    );
    expect(problemsOf(graph)).toEqual(['pointer-slash']);
    // siblings replace shallowly (R4.2.2): silt.900, which is no colour, is gone
    expect([...graph.tokens.keys()].sort()).toEqual(['dial.face', 'kelp', 'sill', 'silt.100', 'silt.700']);
    expect([colour(graph, 'dial.face', 'day'), colour(graph, 'dial.face', 'night')]).toEqual(['#cc9966', '#00ff00']);
  });

  test('a fault in a context that no theme uses is told all the same (every theme will be rendered one day)', () => {
    const document = {
      version: '2025.10',
      sets: { ramp: { sources: [{ silt }] }, parts: { sources: [{ dial }] } },
      modifiers: { watch: { default: 'noon', contexts: { noon: [], fog: [{ 'a.b': { $value: 1 } }] } } },
      resolutionOrder: order,
    };
    expect(problemsOf(readWith({ 'r.json': document }, { resolver: 'r.json', themes: { day: {} } }).graph)).toEqual([
      'bad-name a.b',
    ]);
  });

  test('tokens that two modifiers set are listed: the later modifier wins there (R2.1)', () => {
    const face = (step: string): unknown => ({ dial: { face: { $value: `{silt.${step}}` } } });
    const document = {
      version: '2025.10',
      sets: { ramp: { sources: [{ silt }] }, parts: { sources: [{ dial }] } },
      modifiers: {
        watch: { default: 'noon', contexts: { noon: [], dusk: [face('700')] } },
        glare: { default: 'plain', contexts: { plain: [], stark: [face('100'), { rim: { $value: '{silt.700}' } }] } },
      },
      resolutionOrder: [...order, { $ref: '#/modifiers/glare' }],
    };
    const read = readWith({ 'r.json': document }, { resolver: 'r.json', themes: { both: { watch: 'dusk', glare: 'stark' } } });
    expect(read.contested).toEqual([{ token: 'dial.face', modifiers: ['watch', 'glare'] }]);
    expect([read.permutations, colour(read.graph, 'dial.face', 'both')]).toEqual([4, '#cc9966']);
  });

  test('pointers of inline tokens into the document itself are followed', () => {
    const document = {
      version: '2025.10',
      $defs: { sand: srgb('#cc9966') },
      sets: {
        ramp: {
          sources: [
            {
              silt: { $type: 'color', $value: { $ref: '#/$defs/sand' } },
              bad: { $type: 'color', $value: { $ref: '#/modifiers/x' } },
            },
          ],
        },
      },
      resolutionOrder: [{ $ref: '#/sets/ramp' }],
    };
    const { graph } = readWith({ 'r.json': document }, { resolver: 'r.json', themes: { day: {} } });
    expect(colour(graph, 'silt', 'day')).toBe('#cc9966');
    expect(problemsOf(graph)).toEqual(['bad-pointer bad']);
  });

  test('a document that is no JSON is told with its places and gives no tokens', () => {
    const { graph } = readWith({ 'r.json': '{ "version": "2025.10", }' }, { resolver: 'r.json', themes: { day: {} } });
    expect(problemsOf(graph)).toEqual(['not-json-object', 'order-missing']);
    expect(problemsOf(readWith({}, { resolver: 'r.json', themes: { day: {} } }).graph)).toEqual(['source-missing']);
  });
});

// derived: as a browser resolves relative addresses; both kinds of slash, since configurations are written on all systems
test.each([
  ['tokens/a.json', 'b.json', 'tokens/b.json'],
  ['tokens/a.json', './b.json', 'tokens/b.json'],
  ['tokens/a.json', '../b.json', 'b.json'],
  ['a.json', '../b.json', '../b.json'],
  ['../a.json', '../b.json', '../../b.json'],
  ['tokens/a.json', '/b.json', '/b.json'],
  ['/x/y/a.json', '../../../b.json', '/b.json'],
  ['C:\\x\\a.json', 'sub\\b.json', 'C:/x/sub/b.json'],
  ['a.json', 'x/../b.json', 'b.json'],
])('from %s, %s is %s', (file, relative, expected) => {
  expect(pathBeside(file, relative)).toBe(expected);
});
