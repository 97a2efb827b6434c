// Tokens nobody uses, and retired ones somebody still uses. References that lead nowhere or in a circle are problems of reading.
import type { TokenGraph } from '../graph.ts';
import type { TokenUse } from '../roles.ts';
import type { FaultFacts } from './token-fault.ts';
import { listed } from './token-fault.ts';

/** Token → how many painted places used it in the runs; a token that is not there was not met. */
export type TokenUses = ReadonlyMap<string, number>;

export function countUses(uses: Iterable<TokenUse>): TokenUses {
  const counts = new Map<string, number>();
  for (const { token, count } of uses) counts.set(token, (counts.get(token) ?? 0) + count);
  return counts;
}

/** How runs met the tokens. */
export interface MetUses {
  readonly uses: TokenUses;
  /** Ends of chains that begin at a property of no token: whoever leads there may be part of the chain. */
  readonly through: ReadonlySet<string>;
  /** All pages were looked at: what was not met is not used. */
  readonly whole: boolean;
}

/** @param met from runs; null when there are none, and then only ramp steps that no token refers to count as unused */
export function useFaults(graph: TokenGraph, met: MetUses | null): readonly FaultFacts[] {
  return [
    ...unusedSteps(graph, met),
    ...(met?.whole === true ? unusedTokens(graph, met) : []),
    ...deprecatedUsed(graph, met?.uses ?? null),
  ];
}

/** One note a ramp: nobody drops a single step of a ramp, but a ramp that is hardly used is worth knowing. */
function unusedSteps(graph: TokenGraph, met: MetUses | null): readonly FaultFacts[] {
  return graph.ramps.flatMap(({ family, steps }): readonly FaultFacts[] => {
    const unused = steps.filter((path) => graph.users(path).length === 0 && (met?.uses.get(path) ?? 0) === 0);
    const [token, ...others] = unused;
    if (token === undefined) return [];
    const which = unused.length === steps.length ? `every step of the ramp ${family}` : `${listed(unused)} of the ramp ${family}`;
    return [
      {
        code: 'never-used',
        token,
        others,
        themes: graph.tokens.get(token)?.themes ?? [],
        measured: { unused: unused.length, steps: steps.length },
        expected: { users: 'at least one' },
        message: `Not used: ${which}. No token refers there${met?.whole === true ? ', and no page was seen to use it' : ''}.`,
      },
    ];
  });
}

function unusedTokens(graph: TokenGraph, { uses, through }: MetUses): readonly FaultFacts[] {
  const steps = new Set(graph.ramps.flatMap((ramp) => ramp.steps));
  return [...graph.tokens.values()].flatMap(({ path, themes }): readonly FaultFacts[] => {
    if (steps.has(path) || graph.users(path).length > 0 || (uses.get(path) ?? 0) > 0) return [];
    // Runs tell the use of colours only.
    if (!themes.some((theme) => graph.colorOf(path, theme) !== null)) return [];
    const mayLead = themes.some((theme) => through.has(graph.stepOf(path, theme) ?? ''));
    if (mayLead) return [];
    return [
      {
        code: 'never-used',
        token: path,
        others: [],
        themes,
        measured: { users: 0, uses: 0 },
        expected: { users: 'at least one' },
        message: `${path} is not used: no token refers to it, and no page was seen to paint text, icons, edges, surfaces, shadows or what lies behind them with it.`,
      },
    ];
  });
}

function deprecatedUsed(graph: TokenGraph, uses: TokenUses | null): readonly FaultFacts[] {
  return [...graph.tokens.values()].flatMap(({ path, themes }): readonly FaultFacts[] => {
    const inForce = themes.filter((theme) => isDeprecated(graph, path, theme));
    const users = [
      ...new Set(inForce.flatMap((theme) => graph.users(path, theme).filter((user) => !isDeprecated(graph, user, theme)))),
    ];
    const count = uses?.get(path) ?? 0;
    if (inForce.length === 0 || (users.length === 0 && count === 0)) return [];
    const explanation = inForce.map((theme) => graph.deprecationOf(path, theme)).find((said) => typeof said === 'string');
    const why = explanation === undefined ? '' : ` (${explanation})`;
    const by = [...(users.length === 0 ? [] : [listed(users)]), ...(count === 0 ? [] : [`${String(count)} places on pages`])];
    return [
      {
        code: 'deprecated-used',
        token: path,
        others: users,
        themes: inForce,
        measured: { users: users.length, uses: count },
        expected: { users: 0, uses: 0 },
        message: `${path} is retired${why} but still used by ${by.join(' and ')}.`,
      },
    ];
  });
}

function isDeprecated(graph: TokenGraph, path: string, theme: string): boolean {
  return graph.deprecationOf(path, theme) !== false;
}
