// Colour tokens that are no ramp steps, with what they are in each theme: what the checks of definitions look at.
import type { Color } from '../../colour/color.ts';
import type { TokenGraph } from '../graph.ts';

export interface DefinitionView {
  readonly path: string;
  /** Path without its last name; siblings share it. */
  readonly group: string;
  readonly inTheme: ReadonlyMap<string, ThemeDefinition>;
}

export interface ThemeDefinition {
  readonly theme: string;
  readonly color: Color;
  /** The token is an alias here. */
  readonly aliases: boolean;
  /** The token with the literal. */
  readonly step: string;
  /** Ramp of that token and its place there; null when it is no step. */
  readonly ramp: { readonly family: string; readonly index: number; readonly length: number } | null;
  /** Equal in two themes when one declaration governs both. */
  readonly governor: unknown;
}

/** Graphs do not change, and several checks look at the same views: of 20,000 tokens in 8 themes they take a second. */
const MADE = new WeakMap<TokenGraph, readonly DefinitionView[]>();

export function definitionViews(graph: TokenGraph): readonly DefinitionView[] {
  const known = MADE.get(graph);
  if (known !== undefined) return known;
  const views = makeViews(graph);
  MADE.set(graph, views);
  return views;
}

function makeViews(graph: TokenGraph): readonly DefinitionView[] {
  const places = rampPlaces(graph);
  return [...graph.tokens.keys()].flatMap((path): readonly DefinitionView[] => {
    if (places.has(path)) return [];
    const inTheme = new Map<string, ThemeDefinition>();
    for (const theme of graph.themes) {
      const color = graph.colorOf(path, theme);
      const step = graph.stepOf(path, theme);
      if (color === null || step === null) continue;
      const ramp = places.get(step) ?? null;
      inTheme.set(theme, {
        theme,
        color,
        aliases: step !== path,
        step,
        ramp,
        governor: graph.governor(path, theme),
      });
    }
    return inTheme.size === 0 ? [] : [{ path, group: groupOf(path), inTheme }];
  });
}

/** Ramp step → its ramp and place. */
export function rampPlaces(graph: TokenGraph): ReadonlyMap<string, { family: string; index: number; length: number }> {
  return new Map(
    graph.ramps.flatMap(({ family, steps }) =>
      steps.map((path, index) => [path, { family, index, length: steps.length }] as const),
    ),
  );
}

/** `dial.face` → `dial`; `--dial-face` → `--dial`. */
export function groupOf(path: string): string {
  const cut = path.startsWith('--') ? path.lastIndexOf('-') : path.lastIndexOf('.');
  return cut <= 0 ? '' : path.slice(0, cut);
}
