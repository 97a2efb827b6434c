// All that a group of views yielded enters a run at once, together with whatever says that it is done: a worker that was given up and
// one that took its place never both leave theirs.
import { CompiledQuery, type Kysely, sql } from 'kysely';
import type { LedgerContext } from '../database/ledger-context.ts';
import type { LedgerSchema } from '../database/schema.ts';
import { storeComparisons } from '../read/comparisons.ts';
import type { ComparisonEntry, ViewFindings } from '../records.ts';
import { enterBlobs } from './enter-blobs.ts';
import { storeFindings } from './store-findings.ts';
import { type KeptView, storeKept } from './store-view.ts';
import { together } from '../database/together.ts';

export interface GroupYield {
  readonly views: readonly KeptView[];
  readonly comparisons: readonly ComparisonEntry[];
  readonly findings: readonly ViewFindings[];
}

/** One statement of SQL in the transaction that stores a group. @param values for `$1`, `$2` … */
export type Statement = (text: string, values: readonly unknown[]) => Promise<{ readonly rows: readonly unknown[] }>;

/**
 * @param settle says in the same transaction that the group is done; false: it is no longer ours, and nothing is stored
 * @returns whether it was stored @throws view-unknown, run-not-open
 */
export async function storeGroup(
  context: LedgerContext,
  runId: string,
  found: GroupYield,
  settle: (statement: Statement) => Promise<boolean>,
): Promise<boolean> {
  // Each by itself: in a longer transaction whoever stores the same picture would have to wait for its end.
  const blobs = new Map(found.views.flatMap((view) => view.blobs).map((blob) => [blob.hash, blob]));
  for (const blob of blobs.values()) await together(context, (trx) => enterBlobs({ ...context, db: trx }, [blob]));
  return together(context, async (trx) => {
    if (!(await settle(statementsOf(trx)))) return false;
    const within = { ...context, db: trx };
    for (const view of found.views) await storeKept(within, runId, view);
    if (found.comparisons.length > 0) await storeComparisons(within, runId, found.comparisons);
    await storeFindings(within, runId, found.findings);
    return true;
  });
}

function statementsOf(db: Kysely<LedgerSchema>): Statement {
  return (text, values) =>
    values.length === 0 ? sql.raw(text).execute(db) : db.executeQuery(CompiledQuery.raw(text, [...values]));
}
