// What triage knows of tokens → a token graph, so that the checks of tokens can be asked about it, as it is and as a repair would leave it.
import type { Color } from '../../colour/color.ts';
import { createGraph } from '../../tokens/create-graph.ts';
import type { Declaration, GraphEntry, Ramp, ThemeEntries, TokenGraph } from '../../tokens/graph.ts';
import type { Definition, TokenEntry, TokenTable } from './token-table.ts';

/** @param tokens those that the graph is to hold; all when absent */
export function graphOfTable(table: TokenTable, tokens: readonly TokenEntry[] = table.tokens): TokenGraph {
  const paths = new Set(tokens.map(({ path }) => path));
  const entries = table.themes.map(({ name }, theme): ThemeEntries => {
    const byPath = new Map(tokens.map((token) => [token.path, token]));
    const colorOf = (token: TokenEntry, hops: number): Color | null => {
      const definition = token.definitions[theme] ?? null;
      if (definition === null || hops > table.tokens.length) return null;
      if (definition.kind === 'literal') return definition.color;
      const target = byPath.get(definition.target);
      return target === undefined ? null : colorOf(target, hops + 1);
    };
    const made = new Map(
      tokens.flatMap((token) => {
        const definition = token.definitions[theme] ?? null;
        return definition === null ? [] : [[token.path, entryOf(token.path, definition, colorOf(token, 0))] as const];
      }),
    );
    return { theme: name, paths: [...made.keys()], find: (path) => made.get(path) };
  });
  const graph = createGraph(entries, []);
  const ramps = table.ramps.flatMap(({ name, steps }): Ramp[] => {
    const known = steps.filter((path) => paths.has(path));
    return known.length === 0 ? [] : [{ family: name, steps: known, told: 'configuration' }];
  });
  return {
    themes: graph.themes,
    tokens: graph.tokens,
    problems: [],
    ramps,
    resolve: graph.resolve,
    declarationsOf: graph.declarationsOf,
    governor: graph.governor,
    deprecationOf: graph.deprecationOf,
    colorOf: graph.colorOf,
    users: graph.users,
    dependents: graph.dependents,
    stepOf: graph.stepOf,
  };
}

function entryOf(path: string, definition: Definition, color: Color | null): GraphEntry {
  const next = definition.kind === 'alias' ? definition.target : null;
  const { id, file = '', line = 0 } = definition.declared;
  const declaration: Declaration = {
    file,
    line,
    column: 0,
    pointer: '',
    origin: { kind: 'style' },
    raw: rawOf(definition),
    wins: true,
  };
  return {
    path,
    value: color === null ? null : { type: 'color', value: valueOf(color) },
    typeFrom: color === null ? null : next === null ? { kind: 'own' } : { kind: 'reference', token: next },
    next,
    how: next === null ? 'none' : 'curly',
    copyOf: null,
    refers: next === null ? [] : [next],
    deprecated: false,
    description: null,
    extensions: () => null,
    declarations: () => [declaration],
    governor: id,
  };
}

function valueOf({ r, g, b, alpha }: Color): {
  colorSpace: 'srgb';
  components: [number, number, number];
  alpha: number;
  hex: null;
} {
  return { colorSpace: 'srgb', components: [r, g, b], alpha, hex: null };
}

function rawOf(definition: Definition): string {
  return definition.kind === 'alias' ? `{${definition.target}}` : '';
}
