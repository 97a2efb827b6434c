// The token graph → what triage has to know of it: colours, aliases, where they are declared, and the custom properties that carry them.
import type { Color } from '../../colour/color.ts';
import type { GraphValue, TokenGraph } from '../../tokens/graph.ts';
import type { NamePattern } from '../../tokens/property-names.ts';
import { propertyNames } from '../../tokens/property-names.ts';
import { colorOfValue } from '../../tokens/values/color-of-value.ts';
import type { Definition, TableTheme, TokenEntry, TokenTable } from './token-table.ts';

/** @param themes those of the graph, with their tones; the first one where `reference` is none of them */
export function tableOfGraph(
  graph: TokenGraph,
  settings: { readonly themes: readonly TableTheme[]; readonly reference: string; readonly css: readonly NamePattern[] },
): TokenTable {
  const { themes, css } = settings;
  const tokens = [...graph.tokens.keys()].sort().flatMap((path): TokenEntry[] => {
    const definitions = themes.map(({ name }) => definitionOf(graph, path, name));
    if (definitions.every((each) => each === null)) return [];
    const isComposite = themes.every(({ name }) => graph.colorOf(path, name) === null);
    return [{ path, properties: propertyNames(path, css), definitions, ...(isComposite ? { isComposite } : {}) }];
  });
  return {
    themes,
    reference: Math.max(
      0,
      themes.findIndex(({ name }) => name === settings.reference),
    ),
    tokens,
    ramps: graph.ramps.map(({ family, steps }) => ({ name: family, steps })),
  };
}

function definitionOf(graph: TokenGraph, path: string, theme: string): Definition | null {
  const resolution = graph.resolve(path, theme);
  if (resolution.kind !== 'value') return null;
  const color = graph.colorOf(path, theme) ?? colorWithin(resolution.value);
  if (color === null) return null;
  const winner = resolution.declarations.findLast((each) => each.wins);
  const declared =
    winner === undefined
      ? { id: `${theme} ${path}` }
      : { id: `${winner.file}#${winner.pointer}`, file: winner.file, line: winner.line, pointer: winner.pointer };
  const [, next] = resolution.chain;
  return next === undefined ? { kind: 'literal', color, declared } : { kind: 'alias', target: next.token, declared };
}

/** The one colour of a composite value: of a shadow (the first of several) or of a border. */
function colorWithin(value: GraphValue): Color | null {
  switch (value.type) {
    case 'shadow': {
      const first = 'color' in value.value ? value.value : value.value[0];
      return first === undefined ? null : colorOfValue(first.color);
    }
    case 'border':
      return colorOfValue(value.value.color);
    default:
      return null;
  }
}
