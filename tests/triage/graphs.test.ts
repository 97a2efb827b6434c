// Token graph → what triage knows of tokens, and back. Derived from the token files that stand here; that a table is itself again is a law.
import { describe, expect, test } from 'vitest';
import { toCssText } from '../../src/colour/format-color.ts';
import { graphOfTable } from '../../src/triage/tokens/graph-of-table.ts';
import { tableOfGraph } from '../../src/triage/tokens/table-of-graph.ts';
import type { TokenTable } from '../../src/triage/tokens/token-table.ts';
import { readWith, srgb } from '../tokens/read.ts';
import { tableOf } from './made-cases.ts';

const THEMES = [
  { name: 'noon', tone: 'light' },
  { name: 'dusk', tone: 'dark' },
] as const;
const px = (value: number): unknown => ({ value, unit: 'px' });
const fall = (color: string): unknown => ({ color: srgb(color), offsetX: px(0), offsetY: px(1), blur: px(2), spread: px(0) });

const told = ({ tokens }: TokenTable): unknown =>
  Object.fromEntries(
    tokens.map(({ path, definitions }) => [
      path,
      definitions.map((one) => (one === null ? null : one.kind === 'alias' ? `{${one.target}}` : toCssText(one.color))),
    ]),
  );

describe('token files', () => {
  const read = (): ReturnType<typeof readWith>['graph'] =>
    readWith(
      {
        'base.json': {
          silt: {
            100: { $type: 'color', $value: srgb('#f0f0f0') },
            200: { $type: 'color', $value: srgb('#999999') },
            300: { $type: 'color', $value: srgb('#333333') },
          },
          ink: { $type: 'color', $value: '{silt.300}' },
          gap: { $type: 'dimension', $value: px(4) },
          fall: { $type: 'shadow', $value: fall('#010203') },
          falls: { $type: 'shadow', $value: [fall('#040506'), fall('#010203')] },
          edge: { $type: 'border', $value: { color: srgb('#070809'), width: px(1), style: 'solid' } },
        },
        'dusk.json': { ink: { $type: 'color', $value: '{silt.100}' }, late: { $type: 'color', $value: srgb('#111111') } },
      },
      { base: ['base.json'], themes: { noon: [], dusk: ['dusk.json'] } },
    ).graph;
  const tableAt = (reference: string): TokenTable => tableOfGraph(read(), { themes: THEMES, reference, css: [{ prefix: 'q' }] });

  test('yield colours and aliases, the one colour of a shadow or a border, and nothing that has none', () => {
    const table = tableAt('dusk');
    expect(told(table)).toEqual({
      ...{
        edge: ['#070809', '#070809'],
        fall: ['#010203', '#010203'],
        falls: ['#040506', '#040506'],
        ink: ['{silt.300}', '{silt.100}'],
      },
      ...{
        late: [null, '#111111'],
        'silt.100': ['#f0f0f0', '#f0f0f0'],
        'silt.200': ['#999999', '#999999'],
        'silt.300': ['#333333', '#333333'],
      },
    });
    expect(table.tokens.filter(({ isComposite }) => isComposite === true).map(({ path }) => path)).toEqual([
      'edge',
      'fall',
      'falls',
    ]);
    expect(table.tokens.map(({ properties }) => properties[0])).toContain('--q-silt-100');
    expect([table.reference, tableAt('gone').reference]).toEqual([1, 0]);
    expect(table.ramps.map(({ name, steps }) => [name, steps])).toEqual([['silt', ['silt.100', 'silt.200', 'silt.300']]]);
  });

  test('say where each is declared: once for all themes that one place governs', () => {
    const table = tableAt('noon');
    const declared = (path: string): unknown =>
      table.tokens.find((each) => each.path === path)?.definitions.map((one) => one?.declared);
    expect(declared('ink')).toEqual([
      { id: 'base.json#/ink', file: 'base.json', line: 1, pointer: '/ink' },
      { id: 'dusk.json#/ink', file: 'dusk.json', line: 1, pointer: '/ink' },
    ]);
    const [noon, dusk] = declared('silt.100') as readonly [object, object];
    expect(noon).toEqual(dusk);
  });
});

describe('a table', () => {
  const { table } = tableOf(
    { a: ['#111111', '#222222'], b: ['{a}', '{c}'], c: ['#33333380', null], lost: ['{gone}', '{lost}'] },
    {
      ramps: [
        { name: 'r', steps: ['a', 'gone', 'c'] },
        { name: 'none', steps: ['gone'] },
      ],
      shared: ['b'],
    },
  );

  test('is itself again behind its graph; what has no end has no colour', () => {
    const graph = graphOfTable(table);
    expect(told(tableOfGraph(graph, { themes: THEMES, reference: 'noon', css: [] }))).toEqual({
      ...{ a: ['#111111', '#222222'], b: ['{a}', null], c: ['rgb(51 51 51 / 0.50196)', null] },
    });
    expect(graph.ramps).toEqual([{ family: 'r', steps: ['a', 'c'], told: 'configuration' }]);
    expect([graph.colorOf('lost', 'noon'), graph.colorOf('lost', 'dusk'), graph.problems]).toEqual([null, null, []]);
    expect([graph.governor('b', 'noon'), graph.governor('b', 'dusk')]).toEqual(['b', 'b']);
    const [declaration] = graph.declarationsOf('b', 'noon');
    expect(declaration).toMatchObject({ file: 'b.json', line: 1, raw: '{a}', wins: true });
    expect(graph.declarationsOf('a', 'noon')[0]).toMatchObject({ raw: '' });
  });

  test('may be told in part', () => {
    const graph = graphOfTable(
      table,
      table.tokens.filter(({ path }) => path !== 'a'),
    );
    expect([graph.colorOf('b', 'noon'), graph.ramps]).toEqual([null, [{ family: 'r', steps: ['c'], told: 'configuration' }]]);
  });
});
