// What the answers about a run are made of, read from the ledger once and kept for finished runs, which never change.
import type { Cause } from '../../src/samples/finding.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { CountCell, GoneFinding, RunSummary, StoredView } from '../../src/ledger/records.ts';

/** Finished runs whose facts are kept in memory. */
const KEPT = 6;
/** Findings that are gone, at most; more are counted as this many. */
export const MOST_GONE = 5_000;

export interface CountedCause {
  readonly cause: Cause;
  readonly counts: readonly CountCell[];
}

export interface RunModel {
  readonly summary: RunSummary;
  /** In plan order. */
  readonly views: readonly StoredView[];
  readonly counts: readonly CountCell[];
  readonly gone: () => Promise<readonly GoneFinding[]>;
  readonly causes: () => Promise<readonly CountedCause[]>;
}

export interface RunModels {
  /** @param id of a run, or `newest` @throws run-unknown */
  readonly of: (id: string) => Promise<RunModel>;
}

export function runModels(ledger: Ledger): RunModels {
  const kept = new Map<string, Promise<RunModel>>();
  const read = async (summary: RunSummary): Promise<RunModel> => {
    const [views, counts] = await Promise.all([allViews(ledger, summary.id), ledger.counts(summary.id)]);
    return {
      summary,
      views,
      counts,
      gone: once(() => ledger.gone(summary.id, MOST_GONE)),
      causes: once(() => countedCauses(ledger, summary.id)),
    };
  };
  return {
    of: async (id) => {
      const summary = id === 'newest' ? ((await ledger.runs({ limit: 1 }))[0] ?? (await ledger.run(id))) : await ledger.run(id);
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

async function allViews(ledger: Ledger, run: string): Promise<readonly StoredView[]> {
  const views: StoredView[] = [];
  let after: string | undefined;
  do {
    const slice = await ledger.views(run, { limit: 1_000, ...(after === undefined ? {} : { after }) });
    views.push(...slice.items);
    after = slice.next ?? undefined;
  } while (after !== undefined);
  return views;
}

async function countedCauses(ledger: Ledger, run: string): Promise<readonly CountedCause[]> {
  const causes = await ledger.causes(run);
  return Promise.all(causes.map(async (cause) => ({ cause, counts: await ledger.counts(run, { cause: cause.id }) })));
}

function once<T>(work: () => Promise<T>): () => Promise<T> {
  let result: Promise<T> | undefined;
  return () => (result ??= work());
}
