// Pairs the configuration declares → pairs of tokens. A pattern that names no colour is a fault of the configuration.
import type { FileFault } from '../errors/command-errors.ts';
import type { PairRule, IdlePattern } from '../tokens/faults/declared-pairs.ts';
import { declarePairs } from '../tokens/faults/declared-pairs.ts';
import type { TokenPair } from '../tokens/faults/pair-table.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import { nearestName } from './nearest-name.ts';
import { show } from './schema-faults.ts';

export function readPairs(
  graph: TokenGraph,
  rules: readonly PairRule[],
): { readonly pairs: readonly TokenPair[]; readonly faults: readonly FileFault[] } {
  const { pairs, idle } = declarePairs(graph, rules);
  return { pairs, faults: idle.map((each) => faultOf(graph, rules, each)) };
}

function faultOf(graph: TokenGraph, rules: readonly PairRule[], { rule, member, index, pattern, why }: IdlePattern): FileFault {
  const at = ['tokens', 'pairs', rule];
  if (member === null) return { at: show(at), found: `${pattern} alone as ink and surface`, expected: 'two tokens' };
  const many = (rules[rule]?.[member].length ?? 0) > 1;
  const place = show([...at, member, ...(many ? [index] : [])]);
  if (why === 'no colour')
    return { at: place, found: `"${pattern}", which names tokens but no colour`, expected: 'tokens of the type color' };
  const near = pattern.includes('*') ? null : nearestName(pattern, [...graph.tokens.keys()]);
  const expected = near === null ? 'the path of a token, or a pattern that matches one' : `"${near}"?`;
  return { at: place, found: `"${pattern}", which names no token`, expected };
}
