// Whatever stands in the files, reading ends with a graph and problems; nothing throws, and what the graph says holds together.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { checkTokens } from '../../src/tokens/faults/check-tokens.ts';
import { problemText } from '../../src/tokens/problem.ts';
import { TOKEN_TYPES } from '../../src/tokens/values/token-value.ts';
import { readWith } from './read.ts';

const name = fc.constantFrom('a', 'b', 'c', 'silt', '$root', '100', '__proto__', 'A', 'wet bank');
const path = fc.array(name, { minLength: 1, maxLength: 3 }).map((names) => names.join('.'));
const pointer = fc
  .tuple(
    fc.array(name, { minLength: 1, maxLength: 3 }),
    fc.constantFrom('', '/$value', '/$value/components', '/$value/components/0', '/$value/0', '/$type'),
  )
  .map(([names, tail]) => `#/${names.join('/')}${tail}`);
const reference = fc.oneof(
  path.map((p) => `{${p}}`),
  fc.record({ $ref: pointer }),
);
const component = fc.oneof(fc.double({ min: -1, max: 2 }), fc.constant('none'), reference);
const color = fc.record(
  {
    colorSpace: fc.constantFrom('srgb', 'oklch', 'hsl', 'nope'),
    components: fc.oneof(fc.array(component, { minLength: 2, maxLength: 3 }), reference),
    alpha: component,
    hex: fc.constantFrom('#336699', '#369'),
  },
  { requiredKeys: ['colorSpace', 'components'] },
);
const dimension = fc.oneof(fc.record({ value: component, unit: fc.constantFrom('px', 'em') }), reference, fc.constant('4px'));
const shadow = fc.record({
  color: fc.oneof(color, reference),
  offsetX: dimension,
  offsetY: dimension,
  blur: dimension,
  spread: dimension,
});
const value = fc.oneof(
  color,
  reference,
  reference,
  dimension,
  shadow,
  fc.array(fc.oneof(shadow, reference), { maxLength: 3 }),
  fc.jsonValue({ maxDepth: 2 }),
);
const type = fc.constantFrom(...TOKEN_TYPES, 'color', 'color', 'Color');

const { tree } = fc.letrec<{ tree: unknown; node: unknown }>((tie) => ({
  node: fc.oneof(
    { withCrossShrink: true, maxDepth: 4 },
    fc.record({ $value: value, $type: type, $deprecated: fc.boolean(), $ref: pointer }, { requiredKeys: ['$value'] }),
    fc.record({ $value: value }),
    fc.record({ $ref: pointer, $type: type }, { requiredKeys: ['$ref'] }),
    tie('tree'),
    fc.jsonValue({ maxDepth: 1 }),
  ),
  tree: fc
    .tuple(
      fc.dictionary(name, tie('node'), { maxKeys: 4 }),
      fc.record(
        {
          $type: type,
          $extends: fc.oneof(
            path.map((p) => `{${p}}`),
            pointer,
          ),
        },
        { requiredKeys: [] },
      ),
    )
    .map(([children, members]) => ({ ...members, ...children })),
}));

/** What must hold of every graph. */
function holds(graph: TokenGraph): void {
  for (const problem of graph.problems) {
    expect(problem.line).toBeGreaterThanOrEqual(0);
    expect(problemText(problem)).toContain(problem.code);
  }
  for (const token of graph.tokens.keys()) {
    for (const theme of graph.themes) {
      const resolution = graph.resolve(token, theme);
      if (resolution.kind === 'absent') continue;
      expect(resolution.declarations.filter(({ wins }) => wins)).toHaveLength(1);
      expect(resolution.chain[0]?.token).toBe(token);
      if (resolution.kind === 'invalid') continue;
      const last = resolution.chain.at(-1);
      expect(last?.how).toBe('none');
      // An alias has the very value of its end.
      const end = graph.resolve(last?.token ?? '', theme);
      expect(end.kind === 'value' ? end.value : null).toBe(resolution.value);
      const seen = graph.colorOf(token, theme);
      if (seen !== null) expect([seen.r, seen.g, seen.b, seen.alpha].every(Number.isFinite)).toBe(true);
    }
  }
  for (const { token } of graph.problems.filter(
    ({ code, themes }) => code === 'ref-cycle' && themes.length === graph.themes.length,
  )) {
    for (const theme of graph.themes) expect(graph.resolve(token, theme).kind).not.toBe('value');
  }
}

const RUNS = { numRuns: 400 };

test('any JSON at all', () => {
  fc.assert(
    fc.property(fc.json({ maxDepth: 5 }), fc.json({ maxDepth: 5 }), (base, night) => {
      holds(readWith({ 'a.json': base, 'b.json': night }, { base: ['a.json'], themes: { day: [], night: ['b.json'] } }).graph);
    }),
    RUNS,
  );
});

test('trees that look like tokens, over each other', () => {
  fc.assert(
    fc.property(tree, tree, fc.boolean(), (base, night, strict) => {
      const { graph } = readWith(
        { 'a.json': base, 'b.json': night },
        { base: ['a.json'], themes: { day: [], night: ['b.json'] } },
        { strict },
      );
      holds(graph);
    }),
    RUNS,
  );
});

test('the checks of a set judge whatever was read', () => {
  fc.assert(
    fc.property(tree, tree, (base, night) => {
      const { graph } = readWith({ 'a.json': base, 'b.json': night }, { base: ['a.json'], themes: { day: [], night: ['b.json'] } });
      for (const fault of checkTokens({ graph, reference: 'day' }).faults) expect(fault.message).not.toBe('');
    }),
    { numRuns: 150 },
  );
});

test('texts with a piece cut out or doubled', () => {
  fc.assert(
    fc.property(tree, fc.nat(), fc.nat({ max: 20 }), fc.boolean(), (base, at, length, cut) => {
      const text = JSON.stringify(base);
      const from = at % (text.length + 1);
      const piece = text.slice(from, from + length);
      const spoilt = cut ? text.slice(0, from) + text.slice(from + length) : text.slice(0, from) + piece + text.slice(from);
      holds(readWith({ 'a.json': spoilt }, { base: ['a.json'], themes: { only: [] } }).graph);
    }),
    RUNS,
  );
});

const source = fc.oneof(
  tree,
  fc.record({
    $ref: fc.constantFrom(
      '#/sets/x',
      '#/sets/y',
      '#/modifiers/m',
      '#/resolutionOrder/0',
      'a.json',
      'a.json#/a',
      'https://tides.example/a.json',
      '#',
    ),
  }),
);
const sources = fc.array(source, { maxLength: 3 });
const modifier = fc.record(
  { contexts: fc.dictionary(fc.constantFrom('noon', 'dusk', 'fog'), sources), default: fc.constantFrom('noon', 'gale') },
  { requiredKeys: [] },
);
const step = fc.oneof(
  fc.record(
    { $ref: fc.constantFrom('#/sets/x', '#/sets/y', '#/modifiers/m', '#/resolutionOrder/1'), default: fc.constant('dusk') },
    { requiredKeys: ['$ref'] },
  ),
  fc.record(
    {
      type: fc.constantFrom('set', 'modifier', 'other'),
      name: fc.constantFrom('m', 'n'),
      sources,
      contexts: fc.dictionary(fc.constant('noon'), sources),
    },
    { requiredKeys: [] },
  ),
);
const document = fc.record(
  {
    version: fc.constantFrom('2025.10', '2025.10', '2025.10', '1'),
    sets: fc.dictionary(fc.constantFrom('x', 'y'), fc.record({ sources })),
    modifiers: fc.dictionary(fc.constant('m'), modifier),
    resolutionOrder: fc.array(step, { maxLength: 4 }),
  },
  { requiredKeys: [] },
);

test('resolver documents of every kind', () => {
  fc.assert(
    fc.property(
      fc.oneof(document, fc.jsonValue()),
      tree,
      fc.dictionary(fc.constantFrom('m', 'n', 'M'), fc.oneof(fc.constantFrom('noon', 'dusk'), fc.jsonValue())),
      (resolver, file, input) => {
        const read = readWith({ 'r.json': resolver, 'a.json': file }, { resolver: 'r.json', themes: { day: {}, night: input } });
        holds(read.graph);
      },
    ),
    RUNS,
  );
});

test('reading is the same whatever themes are read beside', () => {
  fc.assert(
    fc.property(tree, tree, tree, (base, dusk, night) => {
      const files = { 'a.json': base, 'b.json': dusk, 'c.json': night };
      const together = readWith(files, { base: ['a.json'], themes: { day: [], dusk: ['b.json'], night: ['c.json'] } }).graph;
      const alone = readWith(files, { base: ['a.json'], themes: { night: ['c.json'] } }).graph;
      for (const token of alone.tokens.keys()) {
        const [one, other] = [alone.resolve(token, 'night'), together.resolve(token, 'night')];
        expect(other.kind).toBe(one.kind);
        if (one.kind === 'value' && other.kind === 'value') expect(other.value).toEqual(one.value);
      }
      const night1 = together.problems
        .filter(({ themes }) => themes.includes('night'))
        .map(({ code, token }) => `${code} ${token}`);
      const night2 = alone.problems.filter(({ themes }) => themes.includes('night')).map(({ code, token }) => `${code} ${token}`);
      expect(night1.sort()).toEqual(night2.sort());
    }),
    RUNS,
  );
});

test('what was resolved, written as a file without references, reads as the same again', () => {
  fc.assert(
    fc.property(tree, (base) => {
      const { graph } = readWith({ 'a.json': base }, { base: ['a.json'], themes: { only: [] } });
      const values = [...graph.tokens.keys()].flatMap((path) => {
        const resolution = graph.resolve(path, 'only');
        return resolution.kind === 'value' && resolution.value.type !== 'text' ? [resolution.value] : [];
      });
      const flat = values.map(({ type: $type, value: $value }, i): [string, unknown] => [`t${String(i)}`, { $type, $value }]);
      // A null hex is how an absent one is kept.
      const text = JSON.stringify(Object.fromEntries(flat)).replaceAll(',"hex":null', '');
      const again = readWith({ 'b.json': text }, { base: ['b.json'], themes: { only: [] } }).graph;
      expect(again.problems.filter(({ level }) => level === 'error')).toEqual([]);
      for (const [i, value] of values.entries())
        expect(again.resolve(`t${String(i)}`, 'only')).toMatchObject({ kind: 'value', value });
    }),
    RUNS,
  );
});
