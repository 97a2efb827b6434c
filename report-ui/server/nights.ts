// What each night came to, for trends: kept by run, since a finished run never changes.
import type { RunReader } from '../../src/ledger/ports.ts';
import type { RunSum, RunSummary } from '../../src/ledger/records.ts';

export interface NightSums {
  readonly run: RunSummary;
  readonly sums: readonly RunSum[];
}

export interface Nights {
  /** @param runs finished ones */
  readonly of: (runs: readonly RunSummary[]) => Promise<readonly NightSums[]>;
}

export function nights(ledger: RunReader): Nights {
  const kept = new Map<string, readonly RunSum[]>();
  return {
    of: async (runs) => {
      const missing = runs.filter(({ id }) => !kept.has(id)).map(({ id }) => id);
      if (missing.length > 0) for (const [id, sums] of await ledger.sums(missing)) kept.set(id, sums);
      return runs.map((run) => ({ run, sums: kept.get(run.id) ?? [] }));
    },
  };
}
