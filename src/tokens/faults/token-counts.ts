// How large a set is, and what of it is used.
import type { TokenGraph } from '../graph.ts';
import type { TokenUses } from './use-faults.ts';

export interface TokenCounts {
  readonly tokens: number;
  readonly colors: number;
  readonly ramps: number;
  readonly steps: number;
  /** Colours that are no steps, and that say what they are for: aliases in some theme, or another colour in another theme. */
  readonly semantic: number;
  /** The rest: colours that nothing refers to and that refer to nothing, the same in every theme. */
  readonly plain: number;
  /** Of those, the ones that are aliases in every theme. */
  readonly aliases: number;
  /** Colours whose value or alias differs between themes. */
  readonly themed: number;
  /** Most used first; without runs by how many tokens refer to it. */
  readonly mostUsed: readonly { readonly token: string; readonly uses: number; readonly users: number }[];
}

/** @param uses places on pages, from runs; null when there are none */
export function tokenCounts(graph: TokenGraph, uses: TokenUses | null): TokenCounts {
  const colors = [...graph.tokens.values()].filter(({ path, themes }) =>
    themes.some((theme) => graph.colorOf(path, theme) !== null),
  );
  const isThemed = (path: string): boolean => {
    const [first = '', ...rest] = graph.themes;
    return !rest.every((theme) => looksAlike(graph, path, first, theme));
  };
  const steps = new Set(graph.ramps.flatMap((ramp) => ramp.steps));
  const others = colors.filter(({ path }) => !steps.has(path));
  const semantic = others.filter(
    ({ path, themes }) => isThemed(path) || themes.some((theme) => graph.stepOf(path, theme) !== path),
  );
  const aliases = semantic.filter(({ path, themes }) => themes.every((theme) => graph.stepOf(path, theme) !== path));
  const themed = colors.filter(({ path }) => isThemed(path));
  const mostUsed = colors
    .map(({ path }) => ({ token: path, uses: uses?.get(path) ?? 0, users: graph.users(path).length }))
    .filter((each) => each.uses > 0 || each.users > 0)
    .sort((a, b) => b.uses - a.uses || b.users - a.users || (a.token < b.token ? -1 : 1));
  return {
    tokens: graph.tokens.size,
    colors: colors.length,
    ramps: graph.ramps.length,
    steps: steps.size,
    semantic: semantic.length,
    plain: others.length - semantic.length,
    aliases: aliases.length,
    themed: themed.length,
    mostUsed,
  };
}

function looksAlike(graph: TokenGraph, path: string, one: string, other: string): boolean {
  const [a, b] = [graph.colorOf(path, one), graph.colorOf(path, other)];
  if (graph.stepOf(path, one) !== graph.stepOf(path, other)) return false;
  if (a === null || b === null || a === b) return a === b;
  return a.r === b.r && a.g === b.g && a.b === b.b && a.alpha === b.alpha;
}
