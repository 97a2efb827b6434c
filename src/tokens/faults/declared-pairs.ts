// Rules of the configuration → pairs of tokens: which ink may lie on which surface, and how much contrast it needs there.
import type { TokenGraph } from '../graph.ts';
import { pathMatcher } from '../path-glob.ts';
import type { TokenPair } from './pair-table.ts';

export interface PairRule {
  /** Globs over token paths. */
  readonly ink: readonly string[];
  readonly on: readonly string[];
  /** Least contrast ratio. */
  readonly required: number;
}

/** A pattern that leads to no pair; `member` is null where ink and surface are one and the same token. */
export interface IdlePattern {
  readonly rule: number;
  readonly member: 'ink' | 'on' | null;
  readonly index: number;
  readonly pattern: string;
  readonly why: 'no token' | 'no colour' | 'one token';
}

/** Every ink of a rule on every surface of it, in the order declared. Where two rules name a pair the first counts. */
export function declarePairs(
  graph: TokenGraph,
  rules: readonly PairRule[],
): { readonly pairs: readonly TokenPair[]; readonly idle: readonly IdlePattern[] } {
  const paths = [...graph.tokens.keys()];
  const isColor = (path: string): boolean => graph.themes.some((theme) => graph.colorOf(path, theme) !== null);
  const pairs = new Map<string, TokenPair>();
  const idle: IdlePattern[] = [];

  const named = (rule: number, member: 'ink' | 'on', patterns: readonly string[]): ReadonlySet<string> => {
    const found = new Set<string>();
    for (const [index, pattern] of patterns.entries()) {
      const matched = paths.filter(pathMatcher(pattern));
      const colors = matched.filter(isColor);
      for (const path of colors) found.add(path);
      if (colors.length === 0) idle.push({ rule, member, index, pattern, why: matched.length === 0 ? 'no token' : 'no colour' });
    }
    return found;
  };

  for (const [i, { ink, on, required }] of rules.entries()) {
    const [inks, surfaces] = [named(i, 'ink', ink), named(i, 'on', on)];
    const own = [...inks].flatMap((a) => [...surfaces].filter((b) => b !== a).map((b) => [a, b] as const));
    if (own.length === 0 && inks.size > 0 && surfaces.size > 0)
      idle.push({ rule: i, member: null, index: 0, pattern: [...inks].join(', '), why: 'one token' });
    for (const [a, b] of own) {
      const key = JSON.stringify([a, b]);
      if (!pairs.has(key)) pairs.set(key, { ink: a, surface: b, required, uses: 0, declared: required });
    }
  }
  return { pairs: [...pairs.values()], idle };
}

/** One list, declared pairs first; a pair that is declared and met is one, with the stricter need. */
export function joinPairs(declared: readonly TokenPair[], met: readonly TokenPair[]): readonly TokenPair[] {
  const keyOf = ({ ink, surface }: TokenPair): string => JSON.stringify([ink, surface]);
  const metBy = new Map(met.map((pair) => [keyOf(pair), pair]));
  const known = new Set(declared.map(keyOf));
  return [
    ...declared.map((pair) => {
      const place = metBy.get(keyOf(pair));
      return place === undefined ? pair : { ...pair, uses: place.uses, required: Math.max(pair.required, place.required) };
    }),
    ...met.filter((pair) => !known.has(keyOf(pair))),
  ];
}
