// What every part of the ledger works on, and the small questions all of them ask.
import type { Kysely } from 'kysely';
import { runNotOpen, runUnknown } from '../../errors/ledger-errors.ts';
import type { Engine, Store } from './engine.ts';
import type { RunTable, LedgerSchema } from './schema.ts';
import type { Selectable } from 'kysely';

export interface LedgerContext {
  readonly store: Store;
  readonly engine: Engine;
  /** The engine's, or a transaction of it. */
  readonly db: Kysely<LedgerSchema>;
}

export type RunRow = Selectable<RunTable>;

/** SQLite takes 32,766 values in one statement; rows are written this many at a time. */
export const ROWS_AT_ONCE = 500;

export function* batches<T>(rows: readonly T[], size = ROWS_AT_ONCE): Generator<readonly T[]> {
  for (let from = 0; from < rows.length; from += size) yield rows.slice(from, from + size);
}

/** @throws run-unknown */
export async function runRow({ db }: LedgerContext, id: string): Promise<RunRow> {
  const row = await db.selectFrom('run').selectAll().where('id', '=', id).where('state', '!=', 'pruned').executeTakeFirst();
  if (row !== undefined) return row;
  const known = await db.selectFrom('run').select('id').where('state', '!=', 'pruned').orderBy('n', 'desc').limit(20).execute();
  throw runUnknown(
    id,
    known.map((run) => run.id),
  );
}

/** @throws run-unknown, run-not-open */
export async function openRunRow(context: LedgerContext, id: string): Promise<RunRow> {
  const row = await runRow(context, id);
  if (row.state !== 'running') throw runNotOpen(id, row.state);
  return row;
}
