// Rows that matter carry a hash over what they say, from the moment after which they do not change any more: a run and its views from
// its end on, names of views, acceptances and differences from their making. Rows of older stores have none.
import { type Kysely, sql, type Transaction } from 'kysely';
import { hashOf } from '../blobs/blobs.ts';
import type { LedgerSchema } from './schema.ts';

/** Table → its key, and the columns that are hashed, in this order. */
export const SEALED = {
  run: {
    key: ['n'],
    columns: [
      ...['n', 'id', 'state', 'started_at', 'finished_at', 'gloam', 'browser', 'reference', 'themes', 'label', 'narrowed'],
      ...['part_index', 'part_of', 'plan', 'previous', 'totals', 'cut', 'standard', 'foretold_of', 'foretold'],
    ],
  },
  view: { key: ['n'], columns: ['n', 'id', 'page', 'theme', 'state', 'viewport'] },
  run_view: {
    key: ['run', 'view'],
    columns: [
      ...['run', 'view', 'ord', 'status', 'url', 'ms', 'code', 'error', 'shot', 'samples', 'properties', 'sample_count'],
      ...['title', 'width', 'height', 'scale', 'notes', 'sheet', 'fingerprint'],
    ],
  },
  comparison: { key: ['run', 'view'], columns: ['run', 'view', 'verdict', 'accepted', 'difference'] },
  acceptance: {
    key: ['n'],
    columns: ['n', 'id', 'collection', 'who', 'note', 'at', 'run', 'undone_at', 'undone_by'],
  },
  accepted_picture: { key: ['acceptance', 'view'], columns: ['acceptance', 'view', 'shot', 'samples', 'properties'] },
  difference: { key: ['n'], columns: ['n', 'accepted', 'shot', 'settings', 'body'] },
} as const;

export type SealedTable = keyof typeof SEALED;
export type SealedRow = Readonly<Record<string, unknown>>;

/** Enough to tell a flipped byte; nobody forges them. Hexadecimal digits. */
const DIGITS = 16;

export function sealOf(table: SealedTable, row: SealedRow): string {
  return hashOf(JSON.stringify(SEALED[table].columns.map((name) => row[name]))).slice(0, DIGITS);
}

/** Rows in the order of their keys. @param where column → value; all rows of the table unless given */
export async function sealedRows(
  db: Kysely<LedgerSchema>,
  table: SealedTable,
  where: SealedRow = {},
): Promise<readonly SealedRow[]> {
  const tests = Object.entries(where).map(([column, value]) => sql`${sql.ref(column)} = ${value}`);
  const filter = tests.length === 0 ? sql`` : sql`where ${sql.join(tests, sql` and `)}`;
  const order = sql.join(SEALED[table].key.map((column) => sql.ref(column)));
  return (await sql<SealedRow>`select * from ${sql.table(table)} ${filter} order by ${order}`.execute(db)).rows;
}

export function whereKey(table: SealedTable, row: SealedRow): SealedRow {
  return Object.fromEntries(SEALED[table].key.map((column) => [column, row[column]]));
}

/** Gives rows the seal of what they say now. */
export async function seal(db: Kysely<LedgerSchema>, table: SealedTable, where: SealedRow = {}): Promise<void> {
  for (const row of await sealedRows(db, table, where)) {
    const mark = sealOf(table, row);
    if (row['seal'] === mark) continue;
    const key = Object.entries(whereKey(table, row)).map(([column, value]) => sql`${sql.ref(column)} = ${value}`);
    await sql`update ${sql.table(table)} set seal = ${mark} where ${sql.join(key, sql` and `)}`.execute(db);
  }
}

/** Gives rows that have none yet their seal. */
export async function sealNew(db: Kysely<LedgerSchema>, table: SealedTable): Promise<void> {
  const { rows } = await sql<SealedRow>`select * from ${sql.table(table)} where seal is null`.execute(db);
  for (const row of rows) await seal(db, table, whereKey(table, row));
}

/** A run that ended, with its views and how they compare. */
export async function sealRun(trx: Transaction<LedgerSchema>, run: number): Promise<void> {
  await seal(trx, 'run', { n: run });
  await seal(trx, 'run_view', { run });
  await seal(trx, 'comparison', { run });
}
