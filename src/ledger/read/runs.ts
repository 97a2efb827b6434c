// Runs as they are stored, newest first.
import { fromJson } from '../database/json-column.ts';
import { type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';
import type { RunSummary } from '../records.ts';

export interface RunFilter {
  readonly label?: string;
  readonly state?: 'running' | 'finished';
  /** Without those that were narrowed, are one part of several, or were ended by hand. */
  readonly whole?: true;
  /** Forecasts too; without them unless set. */
  readonly foretold?: true;
  /** At most this many; all when absent. */
  readonly limit?: number;
}

export async function readRuns({ db }: LedgerContext, filter: RunFilter = {}): Promise<readonly RunSummary[]> {
  let query = summaries({ db }).where('run.state', '!=', 'pruned').orderBy('run.n', 'desc');
  if (filter.label !== undefined) query = query.where('run.label', '=', filter.label);
  if (filter.state !== undefined) query = query.where('run.state', '=', filter.state);
  if (filter.whole === true)
    query = query.where('run.narrowed', '=', 0).where('run.part_index', 'is', null).where('run.cut', '=', 0);
  if (filter.foretold !== true) query = query.where('run.foretold_of', 'is', null);
  if (filter.limit !== undefined) query = query.limit(filter.limit);
  return (await query.execute()).map(summaryOf);
}

/** @throws run-unknown */
export async function readRun(context: LedgerContext, id: string): Promise<RunSummary> {
  const { n } = await runRow(context, id);
  return summaryOf(await summaries(context).where('run.n', '=', n).executeTakeFirstOrThrow());
}

function summaries({ db }: Pick<LedgerContext, 'db'>) {
  return db
    .selectFrom('run')
    .leftJoin('run as earlier', 'earlier.n', 'run.previous')
    .selectAll('run')
    .leftJoin('run as source', 'source.n', 'run.foretold_of')
    .select(['earlier.id as previous_id', 'source.id as source_id']);
}

function summaryOf(row: RunRow & { readonly previous_id: string | null; readonly source_id: string | null }): RunSummary {
  return {
    id: row.id,
    state: row.state === 'running' ? 'running' : 'finished',
    startedAt: row.started_at,
    finishedAt: row.finished_at,
    gloam: row.gloam,
    browser: row.browser,
    reference: row.reference,
    themes: fromJson(row.themes),
    label: row.label,
    narrowed: row.narrowed === 1,
    cut: row.cut === 1,
    part: row.part_index === null || row.part_of === null ? null : { index: row.part_index, of: row.part_of },
    previous: row.previous_id,
    totals: row.totals === null ? null : fromJson(row.totals),
    standard: row.standard === null ? null : fromJson(row.standard),
    foretold: row.foretold === null ? null : { ...fromJson(row.foretold), of: row.source_id ?? '' },
  };
}
