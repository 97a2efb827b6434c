// A store is copied whole into an empty one, whatever engines the two are on: blobs first, then every row as it is, in one transaction.
// A copy that is cut off leaves no row behind, and may be begun again.
import { type Kysely, sql } from 'kysely';
import { storeMissing, storeNotEmpty } from '../../errors/ledger-errors.ts';
import { sideBySide } from '../blobs/side-by-side.ts';
import type { Store } from '../database/engine.ts';
import { batches } from '../database/ledger-context.ts';
import type { LedgerSchema } from '../database/schema.ts';
import { storeAt, type StorePlace } from '../store-at.ts';

export interface CopyReceipt {
  readonly runs: number;
  readonly rows: number;
  readonly blobs: number;
  readonly bytes: number;
}

type Table = keyof LedgerSchema;

/** Each table with the column it is read by, part after part: its number, or the first of its key. */
const TABLES = {
  run: 'n',
  view: 'n',
  blob: 'n',
  run_view: 'run',
  sheet: 'n',
  finding: 'n',
  cause: 'n',
  run_cause: 'run',
  coverage: 'run',
  acceptance: 'n',
  accepted_picture: 'acceptance',
  difference: 'n',
  comparison: 'run',
  tally: 'run',
} as const satisfies Record<Table, string>;

/** Numbers read in one go. Of a run's tables a number has many rows, hence few. */
const AT_ONCE = { n: 2_000, run: 1, acceptance: 1 } as const;

/**
 * Owns both stores while it works.
 * @throws store-missing for `from`, store-not-empty for `to`, store-busy, blob-missing, blob-damaged …
 */
export async function copyStore(
  from: StorePlace,
  to: StorePlace,
  onProgress: (said: string) => void = () => undefined,
): Promise<CopyReceipt> {
  const [source, target] = [await storeAt(from), await storeAt(to)];
  if (!(await source.exists())) throw storeMissing(source.place);
  return owned(source, () => owned(target, () => copy(source, target, onProgress)));
}

async function owned<T>(store: Store, work: () => Promise<T>): Promise<T> {
  try {
    const lock = await store.lock({ doing: 'copy', waitMs: 0 });
    try {
      return await work();
    } finally {
      await lock.release();
    }
  } catch (error) {
    throw store.faultOf(error);
  }
}

async function copy(source: Store, target: Store, onProgress: (said: string) => void): Promise<CopyReceipt> {
  const from = await source.open('read', undefined);
  try {
    const to = await target.open('own', undefined);
    try {
      const there = await to.db.selectFrom('run').select('id').limit(1).executeTakeFirst();
      const accepted = await to.db.selectFrom('acceptance').select('id').limit(1).executeTakeFirst();
      if (there !== undefined || accepted !== undefined) throw storeNotEmpty(target.place);
      const bytes = await copyBlobs(from.db, source, target, onProgress);
      const rows = await to.db.transaction().execute(async (trx) => {
        let sum = 0;
        for (const table of tables()) {
          onProgress(table);
          sum += await copyTable(from.db, trx, table);
        }
        return sum;
      });
      await to.numbersTaken();
      await to.settle();
      const { runs } = await to.db
        .selectFrom('run')
        .select((eb) => eb.fn.countAll<number>().as('runs'))
        .where('state', '!=', 'pruned')
        .executeTakeFirstOrThrow();
      return { runs, rows, ...bytes };
    } finally {
      await to.close();
    }
  } finally {
    await from.close();
  }
}

function tables(): readonly Table[] {
  return Object.keys(TABLES) as (keyof typeof TABLES)[];
}

async function copyBlobs(
  db: Kysely<LedgerSchema>,
  source: Store,
  target: Store,
  onProgress: (said: string) => void,
): Promise<{ readonly blobs: number; readonly bytes: number }> {
  const hashes = await db.selectFrom('blob').select('hash').orderBy('hash').execute();
  let bytes = 0;
  await sideBySide(hashes.entries(), async ([done, { hash }]) => {
    if (done % 1000 === 0) onProgress(`${String(done)}/${String(hashes.length)} files`);
    const receipt = await target.blobs.put(await source.blobs.get(hash));
    bytes += receipt.bytes;
  });
  return { blobs: hashes.length, bytes };
}

/** @returns how many rows came in */
async function copyTable(from: Kysely<LedgerSchema>, to: Kysely<LedgerSchema>, table: Table): Promise<number> {
  const key = sql.ref(TABLES[table]);
  const step = AT_ONCE[TABLES[table]];
  const { rows: ends } = await sql<{ readonly last: number | null }>`select max(${key}) as last from ${sql.table(table)}`.execute(
    from,
  );
  const last = ends[0]?.last ?? 0;
  let count = 0;
  for (let low = 1; low <= last; low += step) {
    const { rows } = await sql<Record<string, unknown>>`
      select * from ${sql.table(table)} where ${key} >= ${low} and ${key} < ${low + step}`.execute(from);
    for (const batch of batches(rows)) {
      const columns = Object.keys(batch[0] ?? {});
      const values = batch.map((row) => sql`(${sql.join(columns.map((column) => row[column]))})`);
      await sql`insert into ${sql.table(table)} (${sql.join(columns.map((column) => sql.ref(column)))})
        values ${sql.join(values)}`.execute(to);
    }
    count += rows.length;
  }
  return count;
}
