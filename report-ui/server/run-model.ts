// What the answers about a run are made of, read from the ledger once and kept for finished runs, which never change.
import type { Cause } from '../../src/samples/finding.ts';
import type { RunReader } from '../../src/ledger/ports.ts';
import type { CoverageFact, GoneCount, KindCount, RunSummary, RunTally, StoredView } from '../../src/ledger/records.ts';
import { groupBy } from './tally.ts';

/** Finished runs whose facts are kept in memory. */
const KEPT = 6;

export interface CountedCause {
  readonly cause: Cause;
  readonly counts: readonly KindCount[];
}

export interface RunModel {
  readonly summary: RunSummary;
  /** In plan order. */
  readonly views: readonly StoredView[];
  readonly counts: RunTally;
  readonly coverage: () => Promise<readonly CoverageFact[]>;
  readonly gone: () => Promise<readonly GoneCount[]>;
  readonly causes: () => Promise<readonly CountedCause[]>;
}

export interface RunModels {
  /** @param id of a run, or `newest` @throws run-unknown */
  readonly of: (id: string) => Promise<RunModel>;
}

export function runModels(ledger: RunReader): RunModels {
  const kept = new Map<string, Promise<RunModel>>();
  const read = async (summary: RunSummary): Promise<RunModel> => {
    const counts = await ledger.tally(summary.id);
    await others();
    const views = await allViews(ledger, summary.id);
    return {
      summary,
      views,
      counts,
      coverage: once(() => ledger.coverage(summary.id)),
      gone: once(() => ledger.countGone(summary.id)),
      causes: once(() => countedCauses(ledger, summary.id, counts.kinds)),
    };
  };
  return {
    of: async (id) => {
      const summary = id === 'newest' ? ((await newestRun(ledger)) ?? (await ledger.run(id))) : await ledger.run(id);
      const known = kept.get(summary.id);
      if (known !== undefined) return known;
      const model = read(summary);
      if (summary.state !== 'finished') return model;
      kept.set(summary.id, model);
      model.catch(() => kept.delete(summary.id));
      const [oldest] = kept.keys();
      if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
      return model;
    },
  };
}

/** The newest finished run that looked at all; where there is none, the newest there is. */
export async function newestRun(ledger: RunReader): Promise<RunSummary | undefined> {
  const whole = await ledger.runs({ limit: 1, whole: true, state: 'finished' });
  return whole[0] ?? (await ledger.runs({ limit: 1, state: 'finished' }))[0] ?? (await ledger.runs({ limit: 1 }))[0];
}

async function allViews(ledger: RunReader, run: string): Promise<readonly StoredView[]> {
  const views: StoredView[] = [];
  let after: string | undefined;
  do {
    const slice = await ledger.views(run, { limit: 1_000, ...(after === undefined ? {} : { after }) });
    views.push(...slice.items);
    await others();
    after = slice.next ?? undefined;
  } while (after !== undefined);
  return views;
}

async function countedCauses(ledger: RunReader, run: string, tally: readonly KindCount[]): Promise<readonly CountedCause[]> {
  const counts = groupBy(tally, ({ cause }) => cause ?? '');
  return (await ledger.causes(run)).map((cause) => ({ cause, counts: counts.get(cause.id) ?? [] }));
}

/** The database is asked in this process's only thread; between two questions whoever else waits has a turn. */
function others(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

function once<T>(work: () => Promise<T>): () => Promise<T> {
  let result: Promise<T> | undefined;
  return () => (result ??= work());
}
