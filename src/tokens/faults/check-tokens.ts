// All checks of a token set, without a browser.
import type { TokenGraph } from '../graph.ts';
import type { TokenUse } from '../roles.ts';
import { gatherRoles } from '../roles.ts';
import type { AliasOptions } from './alias-faults.ts';
import { aliasFaults } from './alias-faults.ts';
import type { AlikeOptions } from './alike-ramps.ts';
import { alikeRamps } from './alike-ramps.ts';
import type { DefinitionOptions } from './definition-faults.ts';
import { definitionFaults } from './definition-faults.ts';
import type { PairRow, TokenPair } from './pair-table.ts';
import { pairFaults, pairTable } from './pair-table.ts';
import type { RampContrast } from './ramp-contrast.ts';
import { rampContrasts } from './ramp-contrast.ts';
import type { RampOptions } from './ramp-faults.ts';
import { rampFaults } from './ramp-faults.ts';
import type { TokenCounts } from './token-counts.ts';
import { tokenCounts } from './token-counts.ts';
import type { TokenFault } from './token-fault.ts';
import { tokenFault } from './token-fault.ts';
import { countUses, useFaults } from './use-faults.ts';

export interface TokenCheckOptions extends RampOptions, AlikeOptions, DefinitionOptions, AliasOptions {}

export interface TokenReport {
  /** Most severe first, then by token. */
  readonly faults: readonly TokenFault[];
  readonly contrasts: readonly RampContrast[];
  readonly pairs: readonly PairRow[];
  readonly counts: TokenCounts;
}

export function checkTokens(facts: {
  readonly graph: TokenGraph;
  /** The theme the others are compared with. */
  readonly reference: string;
  readonly pairs?: readonly TokenPair[];
  /** From runs; absent when there are none. */
  readonly uses?: readonly TokenUse[];
  /** Ends of chains that pages reach through properties of no token. */
  readonly through?: ReadonlySet<string>;
  /** False where the runs looked at some of the pages only, and then nothing is called unused for not being met. */
  readonly whole?: boolean;
  /** The references were inferred from what was seen: that none is known says nothing of use. */
  readonly inferred?: boolean;
  readonly options?: TokenCheckOptions;
}): TokenReport {
  const { graph, reference, pairs = [], options = {} } = facts;
  const roles = gatherRoles(facts.uses ?? []);
  const uses = facts.uses === undefined ? null : countUses(facts.uses);
  const rows = pairTable(graph, pairs);
  const found = [
    ...rampFaults(graph, options),
    ...alikeRamps(graph, options),
    ...definitionFaults(graph, reference, options),
    ...aliasFaults(graph, reference, options, roles),
    ...(facts.inferred === true
      ? []
      : useFaults(graph, uses === null ? null : { uses, through: facts.through ?? new Set(), whole: facts.whole ?? true })),
    ...pairFaults(graph, rows),
  ];
  const faults = found.map((each) => tokenFault(graph, each)).sort(bySeverity);
  return { faults, contrasts: rampContrasts(graph), pairs: rows, counts: tokenCounts(graph, uses) };
}

const SEVERITY = { error: 0, warning: 1, note: 2 } as const;

function bySeverity(a: TokenFault, b: TokenFault): number {
  if (a.level !== b.level) return SEVERITY[a.level] - SEVERITY[b.level];
  if (a.token !== b.token) return a.token < b.token ? -1 : 1;
  return a.code < b.code ? -1 : a.code > b.code ? 1 : 0;
}
