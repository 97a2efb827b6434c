// Files made to break a reader: they give problems, never a hang or a crash, and what has nothing to do with them still resolves.
import { describe, expect, test } from 'vitest';
import { problemsOf, readOne, readWith, srgb } from './read.ts';

const SILT = { $type: 'color', $value: srgb('#cc9966') };

function codes(graph: { readonly problems: readonly { readonly code: string }[] }): readonly string[] {
  return [...new Set(graph.problems.map(({ code }) => code))].sort();
}

describe('long chains and loops', () => {
  const LONG = 20_000;

  test('a chain of 20,000 aliases resolves, whichever end is written first', () => {
    for (const forward of [true, false]) {
      const tokens = Array.from({ length: LONG }, (_, i): [string, unknown] => [
        `t${String(i)}`,
        i === LONG - 1 ? SILT : { $value: `{t${String(i + 1)}}` },
      ]);
      const graph = readOne(Object.fromEntries(forward ? tokens : tokens.reverse()));
      expect(graph.problems).toEqual([]);
      expect(graph.stepOf('t0', 'only')).toBe(`t${String(LONG - 1)}`);
    }
  });

  test('a loop of 20,000 aliases names every member, and what leads into it', () => {
    const tokens = Array.from({ length: LONG }, (_, i): [string, unknown] => [
      `t${String(i)}`,
      { $value: `{t${String((i + 1) % LONG)}}` },
    ]);
    const graph = readOne({ ...Object.fromEntries(tokens), in: { $value: '{t7}' }, silt: SILT });
    expect(graph.problems.filter(({ code }) => code === 'ref-cycle')).toHaveLength(LONG);
    expect(graph.problems.filter(({ code }) => code === 'ref-invalid-target').map(({ token }) => token)).toEqual(['in']);
    expect(graph.resolve('silt', 'only').kind).toBe('value');
  });

  test('a group that is sought through more groups than anybody means is not called missing', () => {
    const chain = Array.from({ length: 150 }, (_, i): [string, unknown] => [`g${String(i + 1)}`, { $extends: `{g${String(i)}}` }]);
    const graph = readOne({
      g0: { part: { silt: SILT } },
      ...Object.fromEntries(chain),
      near: { $extends: '{g90.part}' },
      far: { $extends: '{g150.part}' },
      gone: { $extends: '{g90.parts}' },
    });
    expect(graph.problems.map(({ code, token, found }) => [code, token, found])).toEqual([
      ['too-large', 'far', '{g150.part}, which leads through more than 100 groups'],
      ['ref-unresolved', 'gone', '{g90.parts}, which does not exist'],
    ]);
    expect(graph.resolve('near.silt', 'only').kind).toBe('value');
  });

  test('of groups that are one another by a bare $ref, those too far from the last are told so', () => {
    const chain = Array.from({ length: 150 }, (_, i): [string, unknown] => [
      `g${String(i)}`,
      i === 149 ? { part: SILT } : { $ref: `#/g${String(i + 1)}` },
    ]);
    expect(codes(readOne(Object.fromEntries(chain)))).toEqual(['too-large']);
    expect(readOne(Object.fromEntries(chain.toReversed())).problems).toEqual([]);
  });

  test('a value that borrows its own items, one from the next, ends', () => {
    const items = (length: number): unknown[] =>
      Array.from({ length }, (_, i) => (i === length - 1 ? 'Shoreline' : { $ref: `#/fonts/$value/${String(i + 1)}` }));
    expect(readOne({ fonts: { $type: 'fontFamily', $value: items(100) } }).problems).toEqual([]);
    expect(codes(readOne({ fonts: { $type: 'fontFamily', $value: items(20_000) } }))).toEqual(['ref-invalid-target']);
  });

  test('shadows that refer to each other through lists are a loop', () => {
    const graph = readOne({
      $type: 'shadow',
      a: { $value: ['{b}'] },
      b: { $value: ['{c}'] },
      c: { $value: [{ $ref: '#/a/$value' }] },
      d: { $value: ['{a}'] },
    });
    expect(problemsOf(graph)).toEqual(['ref-cycle a', 'ref-cycle b', 'ref-cycle c', 'ref-invalid-target d']);
  });

  test('a loop of places through two tokens names both, and spares what only borrows another part', () => {
    const at = (token: string, i: number): unknown => ({ $ref: `#/${token}/$value/components/${String(i)}` });
    const color = (components: readonly unknown[]): unknown => ({ $type: 'color', $value: { colorSpace: 'srgb', components } });
    const graph = readOne({
      p: color([at('q', 0), 0.4, 0]),
      q: color([at('p', 0), 0, 0]),
      r: color([at('p', 1), 0, 0]),
      s: color([at('p', 0), 0, 0]),
    });
    expect(problemsOf(graph)).toEqual(['ref-cycle p', 'ref-cycle q', 'ref-invalid-target s']);
    expect(graph.resolve('r', 'only').kind).toBe('value');
  });
});

describe('groups that multiply', () => {
  test('each group holding the one before twice stops at a limit', () => {
    const groups: Record<string, unknown> = { g0: { silt: SILT }, safe: SILT };
    for (let i = 1; i <= 40; i += 1)
      groups[`g${String(i)}`] = { x: { $extends: `{g${String(i - 1)}}` }, y: { $extends: `{g${String(i - 1)}}` } };
    const graph = readOne(groups);
    expect(codes(graph)).toContain('too-large');
    expect(graph.resolve('safe', 'only').kind).toBe('value');
    expect(graph.resolve('g3.x.y.x.silt', 'only').kind).toBe('value');
  });

  test('groups that nest the one before once stop at a depth', () => {
    const groups: Record<string, unknown> = { g0: { silt: SILT } };
    for (let i = 1; i <= 1000; i += 1) groups[`g${String(i)}`] = { x: { $extends: `{g${String(i - 1)}}` } };
    expect(codes(readOne(groups))).toContain('too-deep');
  });

  test('a chain of 2,000 groups each building on the next ends', () => {
    const groups: Record<string, unknown> = { last: { silt: SILT } };
    for (let i = 0; i < 2000; i += 1) groups[`g${String(i)}`] = { $extends: i === 1999 ? '{last}' : `{g${String(i + 1)}}` };
    const graph = readOne(groups);
    expect(graph.problems).toEqual([]);
    expect(graph.resolve('g0.silt', 'only').kind).toBe('value');
  });

  test('sets that pull in sets twice stop at a limit', () => {
    const sets: Record<string, unknown> = { s0: { sources: [{ silt: SILT }] } };
    for (let i = 1; i <= 30; i += 1) {
      const below = { $ref: `#/sets/s${String(i - 1)}` };
      sets[`s${String(i)}`] = { sources: [below, below] };
    }
    const document = { version: '2025.10', sets, resolutionOrder: [{ $ref: '#/sets/s30' }] };
    expect(codes(readWith({ 'r.json': document }, { resolver: 'r.json', themes: { only: {} } }).graph)).toContain('too-large');
  });
});

describe('names and texts', () => {
  test('`__proto__`, `constructor` and `hasOwnProperty` are names like others', () => {
    const text = `{ "__proto__": ${JSON.stringify(SILT)}, "constructor": { "prototype": ${JSON.stringify(SILT)} }, "hasOwnProperty": { "$value": "{__proto__}" },
      "rim": { "$ref": "#/constructor/prototype" } }`;
    const graph = readOne(text);
    expect(graph.problems).toEqual([]);
    expect([...graph.tokens.keys()]).toEqual(['__proto__', 'hasOwnProperty', 'rim', 'constructor.prototype']);
    expect(graph.stepOf('rim', 'only')).toBe('constructor.prototype');
    expect('$value' in {}).toBe(false);
  });

  test('names do not reach what they should not: no member of an array, no prototype', () => {
    const graph = readOne({
      a: { $type: 'number', $value: { $ref: '#/silt/$value/components/length' } },
      b: { $type: 'number', $value: { $ref: '#/silt/__proto__/x' } },
      silt: SILT,
    });
    expect(problemsOf(graph)).toEqual(['ref-unresolved a', 'ref-unresolved b']);
  });

  test('numbers that are none are told as such, wherever they stand', () => {
    const graph = readOne(
      '{ "a": { "$type": "number", "$value": NaN }, "b": { "$type": "number", "$value": "NaN" }, "c": { "$type": "number", "$value": 1e400 }, "d": { "$value": "{a}" } }',
    );
    expect(problemsOf(graph)).toEqual(['bad-value b', 'not-json-object', 'not-json-object', 'ref-invalid-target d']);
  });

  test('a file of 50 MB, an empty one, a binary one and one that is missing are told apart', () => {
    const files = {
      'large.json': ' '.repeat(50_000_000),
      'empty.json': '',
      'binary.json': '\u0000\u0001\uFFFD\u0002',
      'ok.json': { silt: SILT },
    };
    const { graph } = readWith(files, {
      base: ['large.json', 'empty.json', 'binary.json', 'lost.json', 'ok.json'],
      themes: { only: [] },
    });
    expect([...new Set(graph.problems.map(({ file, code }) => `${file} ${code}`))].sort()).toEqual([
      'binary.json not-json-object',
      'empty.json not-json-object',
      'large.json too-large',
      'lost.json source-missing',
    ]);
    expect(graph.resolve('silt', 'only').kind).toBe('value');
  });

  test('a reference as long as a book is quoted in short', () => {
    const { problems } = readOne({ a: { $value: `{${'x'.repeat(1_000_000)}}` } });
    expect(problems).toHaveLength(1);
    expect(problems[0]?.found.length).toBeLessThan(200);
  });
});
