// Custom properties as the only source of tokens (CSS Custom Properties for Cascading Variables 1).
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { toHex } from '../../src/colour/format-color.ts';
import type { CustomProperty } from '../../src/tokens/css/read-custom-properties.ts';
import { readCustomProperties } from '../../src/tokens/css/read-custom-properties.ts';
import { findVars, wholeVar } from '../../src/tokens/css/find-vars.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';

/** `--name: value` lines. */
function declare(text: string, file = 'app.css'): readonly CustomProperty[] {
  return text
    .split('\n')
    .map((line, i) => ({ line: i + 1, parts: /^\s*(--[^:]*):(.*)$/.exec(line) }))
    .flatMap(({ line, parts }) =>
      parts?.[1] === undefined || parts[2] === undefined ? [] : [{ name: parts[1].trim(), value: parts[2], file, line }],
    );
}

function read(themes: Readonly<Record<string, string>>): TokenGraph {
  return readCustomProperties(new Map(Object.entries(themes).map(([theme, text]) => [theme, declare(text, `${theme}.css`)])));
}

const colour = (graph: TokenGraph, path: string, theme = 'day'): string | null => {
  const found = graph.colorOf(path, theme);
  return found === null ? null : toHex(found);
};
const problems = (graph: TokenGraph): readonly string[] =>
  graph.problems.map(({ code, token, themes }) => `${code} ${token} ${themes.join('+')}`).sort();

describe('var() becomes an alias', () => {
  const graph = read({
    day: `--silt-100: #cc9966
          --silt-700: rgb(0 102 102)
          --dial-face: var(--silt-100)
          --dial-rim: var( --dial-face , red )
          --gap: 4px
          --mix: rgb(from var(--silt-100) r g b)
          --half: rgb(var(--channels) / .5)
          --channels: 0 102 102`,
    night: `--silt-100: #cc9966
            --silt-700: rgb(0 102 102)
            --dial-face: var(--silt-700)
            --dial-rim: VAR(--dial-face)`,
  });

  test('chains, steps and users are those of the theme', () => {
    expect(colour(graph, '--dial-rim')).toBe('#cc9966');
    expect(colour(graph, '--dial-rim', 'night')).toBe('#006666');
    expect(graph.stepOf('--dial-rim', 'night')).toBe('--silt-700');
    expect(graph.users('--silt-100', 'day')).toEqual(['--dial-face', '--mix']);
    const rim = graph.resolve('--dial-rim', 'night');
    expect(rim.kind === 'absent' ? [] : rim.chain.map((hop) => `${hop.token} ${hop.how} ${hop.file}:${String(hop.line)}`)).toEqual([
      '--dial-rim var night.css:4',
      '--dial-face var night.css:3',
      '--silt-700 none night.css:2',
    ]);
  });

  test('a value that only contains var() is no alias, but its text is put together', () => {
    expect(graph.stepOf('--half', 'day')).toBe('--half');
    expect(graph.colorOf('--half', 'day')?.alpha).toBe(0.5);
    const gap = graph.resolve('--gap', 'day');
    expect(gap.kind === 'value' ? gap.value : null).toEqual({ type: 'text', value: '4px' });
    expect(problems(graph)).toEqual([]);
  });
});

describe('what is missing', () => {
  test('a fallback is used, and said so; without one the property is invalid', () => {
    const graph = read({
      day: `--a: var(--lost, #336699)
            --b: var(--lost)
            --c: var(--b)
            --d: var(--lost, var(--e))
            --e: #cc9966
            --f: var(--lost,)
            --g: initial
            --h: var(--g, #000000)`,
    });
    expect(problems(graph)).toEqual([
      'fallback-used --a day',
      'fallback-used --d day',
      'fallback-used --f day',
      'fallback-used --h day',
      'ref-invalid-target --c day',
      'ref-unresolved --b day',
    ]);
    expect(colour(graph, '--a')).toBe('#336699');
    expect(graph.stepOf('--d', 'day')).toBe('--e');
    expect(colour(graph, '--h')).toBe('#000000');
    expect(graph.resolve('--b', 'day')).toMatchObject({
      kind: 'invalid',
      problems: [{ code: 'ref-unresolved', file: 'day.css', line: 2 }],
    });
  });

  test('a property that one theme lacks is told for that theme', () => {
    const graph = read({ day: '--x: #fff\n--y: var(--x)', night: '--y: var(--x)' });
    expect(problems(graph)).toEqual(['ref-unresolved --y night']);
  });

  test('loops take all their members, fallbacks included (section 2.3)', () => {
    const graph = read({
      day: '--a: var(--b)\n--b: var(--c, 1px)\n--c: var(--lost, var(--a))\n--d: var(--a, #fff)\n--e: var(--e)',
    });
    expect(problems(graph)).toEqual([
      'fallback-used --d day',
      'ref-cycle --a day',
      'ref-cycle --b day',
      'ref-cycle --c day',
      'ref-cycle --e day',
    ]);
    expect(colour(graph, '--d')).toBe('#ffffff');
  });
});

test('of several declarations the last wins, and all are kept', () => {
  const graph = read({ day: '--x: red\n--x: #cc9966' });
  const x = graph.resolve('--x', 'day');
  expect(x.kind === 'absent' ? [] : x.declarations.map(({ raw, wins, line }) => [raw.trim(), wins, line])).toEqual([
    ['red', false, 1],
    ['#cc9966', true, 2],
  ]);
});

// derived: brackets, strings, comments and escapes as CSS Syntax 3 reads them
test.each([
  ['var(--a)', ['--a'], true],
  ['  var( --a ) ', ['--a'], true],
  ['var(--a, var(--b, c))', ['--a'], true],
  ['var(--a) var(--b)', ['--a', '--b'], false],
  ['"var(--a)"', [], false],
  ['/* var(--a) */ red', [], false],
  ['calc(1px + var(--a))', ['--a'], false],
  ['my-var(--a)', [], false],
  ['var(--a\\/b)', ['--a/b'], true],
  ['var(--a', ['--a'], true],
  ['var(--a, ")")', ['--a'], true],
  ['var(a)', [], false],
])('%s mentions %j', (value, names, whole) => {
  const uses = findVars(value);
  expect(uses.map(({ name }) => name)).toEqual(names);
  expect(wholeVar(value, uses) !== null).toBe(whole);
});

test('values that multiply, nest or run on end in problems, not in a hang', () => {
  const doubling = Array.from({ length: 40 }, (_, i) =>
    i === 0 ? '--p0: xx' : `--p${String(i)}: var(--p${String(i - 1)}) var(--p${String(i - 1)})`,
  ).join('\n');
  expect(read({ day: doubling }).problems.some(({ code }) => code === 'too-large')).toBe(true);
  const nested = `--n: ${'var(--lost, '.repeat(5000)}red${')'.repeat(5000)}`;
  expect(read({ day: nested }).resolve('--n', 'day').kind).toBe('invalid');
  const chain = Array.from({ length: 20_000 }, (_, i) =>
    i === 19_999 ? `--c${String(i)}: red` : `--c${String(i)}: var(--c${String(i + 1)})`,
  ).join('\n');
  expect(read({ day: chain }).stepOf('--c0', 'day')).toBe('--c19999');
});

test('whatever the declarations, a graph comes out', () => {
  const value = fc.oneof(
    fc.string(),
    fc
      .array(fc.constantFrom('var(', '--a', '--b', ',', ')', ' ', '#fff', '"', '/*', '*/', '\\', '('), { maxLength: 12 })
      .map((parts) => parts.join('')),
  );
  const declarations = fc.array(fc.record({ name: fc.constantFrom('--a', '--b', '--c'), value }), { maxLength: 6 });
  fc.assert(
    fc.property(declarations, declarations, (day, night) => {
      const graph = readCustomProperties(
        new Map([
          ['day', day],
          ['night', night],
        ]),
      );
      for (const path of graph.tokens.keys()) expect(['value', 'invalid', 'absent']).toContain(graph.resolve(path, 'day').kind);
    }),
  );
});
