// Which token may stand in for a literal colour.
import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { isExactEverywhere, matchLiteral } from '../../src/tokens/match/match-literal.ts';
import type { MatchQuery } from '../../src/tokens/match/match-query.ts';
import type { TokenUse } from '../../src/tokens/roles.ts';
import { gatherRoles } from '../../src/tokens/roles.ts';
import type { MatchRow } from '../tables/tokens/match-cases.ts';
import { MATCH_ROWS } from '../tables/tokens/match-cases.ts';
import { readWith, srgb } from './read.ts';

function graphOf(tokens: MatchRow['tokens']): TokenGraph {
  const file = (at: 0 | 1): unknown => {
    const root: Record<string, Record<string, unknown>> = {};
    for (const [path, colors] of Object.entries(tokens)) {
      const names = path.split('.');
      const token = { $type: 'color', $value: srgb(colors[at]) };
      if (names.length === 1) root[path] = token;
      else (root[names[0] ?? ''] ??= {})[names[1] ?? ''] = token;
    }
    return root;
  };
  return readWith(
    { 'light.json': file(0), 'dark.json': file(1) },
    { base: ['light.json'], themes: { light: [], dark: ['dark.json'] } },
  ).graph;
}

function queryOf(row: MatchRow): MatchQuery {
  const uses = Object.entries(row.tokens).flatMap(([token, [, , role]]): readonly TokenUse[] =>
    role === null ? [] : [{ token, role, count: 1 }],
  );
  const partner =
    row.on === undefined
      ? undefined
      : row.on in row.tokens
        ? ({ kind: 'token', path: row.on } as const)
        : ({ kind: 'color', color: parseColor(row.on) } as const);
  return {
    graph: graphOf(row.tokens),
    literal: parseColor(row.literal),
    role: row.role,
    theme: 'light',
    roles: gatherRoles(uses),
    ...(partner === undefined ? {} : { partner }),
    ...(row.required === undefined ? {} : { required: row.required }),
    ...(row.dark === undefined ? {} : { alsoIn: new Map([['dark', parseColor(row.dark)]]) }),
    ...(row.component === undefined ? {} : { component: row.component }),
  };
}

test.each(MATCH_ROWS)('match-cases.ts: $name', (row) => {
  const { matches, gap, wrongRole, advice } = matchLiteral(queryOf(row));
  expect(matches.map(({ token, confidence, failing }) => `${token} ${confidence}${failing.length > 0 ? ' !' : ''}`)).toEqual(
    row.found,
  );
  expect(gap).toBe(row.gap);
  expect(advice.includes('A token is missing')).toBe(row.gap);
  expect(wrongRole.map(({ token }) => token)).toEqual(row.wrongRole ?? []);
});

describe('the worked example', () => {
  const [row] = MATCH_ROWS;
  const result = row === undefined ? null : matchLiteral(queryOf(row));
  const of = (token: string): { readonly deltaE: number; readonly contrasts: readonly (number | null)[] } | null => {
    const match = result?.matches.find((each) => each.token === token);
    return match === undefined ? null : { deltaE: match.deltaE, contrasts: match.themes.map(({ contrast }) => contrast) };
  };

  // recorded: worked out once for our own rule, CIEDE2000 (D65) and contrast with white in light and dark, two decimals
  test.each([
    ['water.fill', 0.61, [5.55, 10.2]],
    ['water.soft', 0.61, [5.55, 1.95]],
    ['tide.deep', 7.96, [7.86, 13.31]],
  ])('%s: CIEDE2000 %f, contrast %j', (token, deltaE, contrasts) => {
    expect(of(token)?.deltaE).toBeCloseTo(deltaE, 2);
    for (const [i, contrast] of contrasts.entries()) expect(of(token)?.contrasts[i]).toBeCloseTo(contrast, 2);
  });

  test('says in words why each ranks where it does', () => {
    expect(result?.advice).toBe('Use water.fill.');
    expect(result?.matches.map(({ reason }) => reason)).toEqual([
      'the same colour to the eye in light (CIEDE2000 0.6), used as surface; contrast at least 5.55 in every theme',
      'another colour in light (CIEDE2000 8), used as surface; contrast at least 7.86 in every theme',
      'the same colour to the eye in light (CIEDE2000 0.6), used as surface; fails in dark (contrast 1.94, needed 4.5)',
    ]);
    expect(result?.wrongRole).toMatchObject([{ token: 'edge.strong', roles: ['edge'], deltaE: 0 }]);
  });
});

test('a token before the ramp step it points at, and a step is met in the roles of what points at it', () => {
  const files = {
    'a.json': {
      silt: {
        $type: 'color',
        '1': { $value: srgb('#336699') },
        '2': { $value: srgb('#003366') },
        '3': { $value: srgb('#ffffff') },
      },
      mark: { link: { $value: '{silt.1}' } },
      face: { $value: '{silt.3}' },
    },
  };
  const { graph } = readWith(files, { base: ['a.json'], themes: { light: [] } });
  const query = {
    graph,
    literal: parseColor('#336699'),
    role: 'ink',
    theme: 'light',
    roles: gatherRoles([
      { token: 'mark.link', role: 'ink', count: 1 },
      { token: 'face', role: 'surface', count: 1 },
    ]),
  } as const;
  expect(
    matchLiteral(query)
      .matches.slice(0, 2)
      .map(({ token, semantic, roleKnown }) => [token, semantic, roleKnown]),
  ).toEqual([
    ['mark.link', true, true],
    ['silt.1', false, true],
  ]);
  expect(matchLiteral({ ...query, literal: parseColor('#ffffff') }).wrongRole.map(({ token }) => token)).toEqual([
    'face',
    'silt.3',
  ]);
});

test('exact in every theme means the same eight bits in every theme, not only where it was written', () => {
  const exact = (dark: string, literal: string, also?: string): boolean => {
    const base = {
      graph: graphOf({ a: ['#336699', dark, null] }),
      literal: parseColor(literal),
      role: 'ink',
      theme: 'light',
    } as const;
    const query = also === undefined ? base : { ...base, alsoIn: new Map([['dark', parseColor(also)]]) };
    const [best] = matchLiteral(query).matches;
    return best !== undefined && isExactEverywhere(query, best);
  };
  expect(exact('#336699', 'rgb(51 102 153)')).toBe(true);
  expect(exact('#336699', '#346699')).toBe(false);
  expect(exact('#99bbdd', '#336699')).toBe(false);
  expect(exact('#99bbdd', '#336699', '#99bbdd')).toBe(true);
});
