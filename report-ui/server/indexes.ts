// Indexes of the runs that are looked at: two at once, since one of 160,000 findings takes some 80 MB.
import type { RunReader } from '../../src/ledger/ports.ts';
import { readIndex } from './finding-index.ts';
import type { FindingIndex } from './finding-index.ts';
import type { RunModel } from './run-model.ts';

const KEPT = 2;

export interface Indexes {
  readonly of: (model: RunModel) => Promise<FindingIndex>;
}

export function indexes(ledger: RunReader): Indexes {
  const kept = new Map<string, Promise<FindingIndex>>();
  return {
    of: (model) => {
      const { id, state } = model.summary;
      const known = kept.get(id);
      if (known !== undefined) return known;
      const made = readIndex(ledger, id);
      if (state !== 'finished') return made;
      kept.set(id, made);
      made.catch(() => kept.delete(id));
      const [oldest] = kept.keys();
      if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
      return made;
    },
  };
}
