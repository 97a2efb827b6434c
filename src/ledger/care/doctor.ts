// Looks a store over: the database by itself, its rows against each other, every blob against its hash, every file against the rows.
// Mends what can be mended and says what cannot.
import { type RawBuilder, sql } from 'kysely';
import { GloamError } from '../../errors/gloam-error.ts';
import { storeMissing } from '../../errors/ledger-errors.ts';
import type { Blobs } from '../blobs/blobs.ts';
import { sideBySide } from '../blobs/side-by-side.ts';
import type { Store } from '../database/engine.ts';
import type { LedgerContext } from '../database/ledger-context.ts';
import { storeAt, type StorePlace } from '../store-at.ts';
import { removeUnknownBlobs } from './prune.ts';
import { lookAtSeals, sealAnew } from './prove-seals.ts';
import { lookAtContents } from './prove-rows.ts';
import type { StoreFault } from './store-fault.ts';

export interface StoreHealth {
  readonly runs: number;
  readonly blobs: number;
  readonly bytes: number;
  readonly faults: readonly StoreFault[];
}

export interface DoctorOptions {
  readonly mend: boolean;
  /** ISO 8601; names the kept file of a mended database. */
  readonly now: string;
  readonly onProgress?: (done: number, of: number) => void;
}

/** Holds the store alone while it works. @throws store-missing, store-busy, store-read-only … */
export async function examineStore(at: StorePlace, options: DoctorOptions): Promise<StoreHealth> {
  const store = await storeAt(at);
  if (!(await store.exists())) throw storeMissing(store.place);
  try {
    const lock = await store.lock({ doing: 'doctor', waitMs: 0 });
    try {
      await store.blobs.sweep();
      return await examine(store, options);
    } finally {
      await lock.release();
    }
  } catch (error) {
    throw store.faultOf(error);
  }
}

async function examine(store: Store, options: DoctorOptions): Promise<StoreHealth> {
  const faults: StoreFault[] = [...(await store.examine(options))];
  // What cannot be opened has no rows to hold anything against.
  if (faults.some((fault) => fault.mended === null)) return { runs: 0, blobs: 0, bytes: 0, faults };
  const engine = await store.open('own', undefined);
  try {
    const context = { store, engine, db: engine.db };
    // Before pointers are mended: that changes rows as well.
    faults.push(...(await lookAtSeals(context, options)), ...(await lookAtRows(context, options)));
    faults.push(...(await lookAtContents(context, options)));
    if (options.mend) await sealAnew(context);
    // What was taken out is in the sums that were stored.
    if (options.mend && faults.length > 0) await engine.db.deleteFrom('tally').execute();
    faults.push(...(await lookAtBlobs(context, options)));
    faults.push(...(await lookAtUnknown(context, options)));
    const { runs } = await engine.db
      .selectFrom('run')
      .select((eb) => eb.fn.countAll<number>().as('runs'))
      .where('state', '!=', 'pruned')
      .executeTakeFirstOrThrow();
    const { blobs, bytes } = await engine.db
      .selectFrom('blob')
      .select((eb) => [eb.fn.countAll<number>().as('blobs'), eb.fn.coalesce(eb.fn.sum<number>('bytes'), eb.lit(0)).as('bytes')])
      .executeTakeFirstOrThrow();
    return { runs, blobs, bytes, faults };
  } finally {
    await engine.close();
  }
}

/** Pointers that lead nowhere: how to count them, how to mend them. */
const POINTERS: readonly {
  readonly where: string;
  readonly message: string;
  readonly count: RawBuilder<Count>;
  readonly mend: RawBuilder<unknown>;
}[] = [
  {
    where: 'run_view',
    message: 'views point at findings that are gone; a resumed or new run finds them again',
    count: sql<Count>`select count(*) as count from run_view where sheet is not null and sheet not in (select n from sheet)`,
    mend: sql`update run_view set sheet = null where sheet is not null and sheet not in (select n from sheet)`,
  },
  ...(['shot', 'samples', 'properties'] as const).map((column) => ({
    where: 'run_view',
    message: `views point at ${column} that are gone; a new run brings them back`,
    count: sql<Count>`select count(*) as count from run_view where ${sql.ref(column)} is not null and ${sql.ref(column)} not in (select n from blob)`,
    mend: sql`update run_view set ${sql.ref(column)} = null where ${sql.ref(column)} is not null and ${sql.ref(column)} not in (select n from blob)`,
  })),
  {
    where: 'accepted_picture',
    message: 'accepted pictures are gone; these views are new until they are accepted again',
    count: sql<Count>`
      select count(*) as count from accepted_picture where acceptance not in (select n from acceptance)
        or shot is not null and shot not in (select n from blob) or view not in (select n from view)`,
    mend: sql`
      delete from accepted_picture where acceptance not in (select n from acceptance)
        or shot is not null and shot not in (select n from blob) or view not in (select n from view)`,
  },
  {
    // `null not in (nothing)` is true in SQL, hence the tests for null.
    where: 'comparison',
    message: 'comparisons point at differences that are gone; the next run compares again',
    count: sql<Count>`
      select count(*) as count from comparison where difference is not null and difference not in (select n from difference)
        or accepted is not null and accepted not in (select n from blob) or run not in (select n from run)`,
    mend: sql`
      delete from comparison where difference is not null and difference not in (select n from difference)
        or accepted is not null and accepted not in (select n from blob) or run not in (select n from run)`,
  },
  {
    where: 'finding',
    message: 'findings belong to no view, or to a run without a name',
    count: sql<Count>`
      select count(*) as count from finding where sheet not in (select n from sheet) or since not in (select n from run)`,
    mend: sql`delete from finding where sheet not in (select n from sheet) or since not in (select n from run)`,
  },
  {
    where: 'run_view',
    message: 'views belong to no run, or have lost their names',
    count: sql<Count>`
      select count(*) as count from run_view where run not in (select n from run) or view not in (select n from view)`,
    mend: sql`delete from run_view where run not in (select n from run) or view not in (select n from view)`,
  },
];

interface Count {
  readonly count: number;
}

async function lookAtRows({ db }: LedgerContext, { mend }: DoctorOptions): Promise<readonly StoreFault[]> {
  const faults: StoreFault[] = [];
  for (const pointer of POINTERS) {
    const { rows } = await pointer.count.execute(db);
    const count = rows[0]?.count ?? 0;
    if (count === 0) continue;
    if (mend) await pointer.mend.execute(db);
    const mended = mend ? 'taken out' : null;
    faults.push({ kind: 'row', where: pointer.where, message: `${String(count)} ${pointer.message}`, mended });
  }
  return faults;
}

async function lookAtBlobs(context: LedgerContext, { mend, onProgress }: DoctorOptions): Promise<readonly StoreFault[]> {
  const { store, db } = context;
  const faults: StoreFault[] = [];
  const rows = await db.selectFrom('blob').select(['n', 'hash', 'kind']).orderBy('hash').execute();
  const states = new Map<number, 'missing' | 'damaged'>();
  await sideBySide(rows.entries(), async ([done, { n, hash }]) => {
    onProgress?.(done, rows.length);
    const found = await stateOf(store.blobs, hash);
    if (found !== 'whole') states.set(n, found);
  });
  for (const { n, hash, kind } of rows) {
    const found = states.get(n);
    if (found === undefined) continue;
    const where = store.blobs.placeOf(hash);
    const message = `${kind} of ${await namesOfUsers(context, n)}`;
    if (found === 'missing') {
      const lost = `missing: ${message}; running these views again brings it back`;
      faults.push({ kind: 'blob-missing', where, message: lost, mended: null });
      continue;
    }
    const mended = mend ? `set aside as ${await store.blobs.setAside(hash)}; running these views again brings it back` : null;
    faults.push({ kind: 'blob-damaged', where, message: `damaged: ${message}`, mended });
  }
  return faults;
}

async function stateOf(blobs: Blobs, hash: string): Promise<'whole' | 'missing' | 'damaged'> {
  try {
    await blobs.get(hash);
    return 'whole';
  } catch (error) {
    if (error instanceof GloamError && error.code === 'blob-missing') return 'missing';
    if (error instanceof GloamError && error.code === 'blob-damaged') return 'damaged';
    throw error;
  }
}

/** The views that use a blob, a few by name. */
async function namesOfUsers({ db }: LedgerContext, blob: number): Promise<string> {
  const { rows } = await sql<{ readonly name: string }>`
    select distinct name from (
      select view.id || ' in run ' || run.id as name
      from run_view join view on view.n = run_view.view join run on run.n = run_view.run
      where ${blob} in (run_view.shot, run_view.samples, run_view.properties)
      union all
      select view.id || ' as accepted in ' || acceptance.collection
      from accepted_picture picture join view on view.n = picture.view join acceptance on acceptance.n = picture.acceptance
      where ${blob} in (picture.shot, picture.samples, picture.properties)) as users order by name`.execute(db);
  const names = rows.map((row) => row.name);
  if (names.length === 0) return 'no view';
  return names.length <= 3 ? names.join(', ') : `${names.slice(0, 3).join(', ')} and ${String(names.length - 3)} more`;
}

async function lookAtUnknown(context: LedgerContext, { mend }: DoctorOptions): Promise<readonly StoreFault[]> {
  const known = new Set((await context.db.selectFrom('blob').select('hash').execute()).map((row) => row.hash));
  let count = 0;
  for await (const { hash } of context.store.blobs.list()) if (!known.has(hash)) count += 1;
  if (count === 0) return [];
  if (mend) await removeUnknownBlobs(context);
  const message = `${String(count)} files that no view needs (left by killed runs)`;
  return [{ kind: 'unknown-file', where: context.store.blobs.place, message, mended: mend ? 'removed' : null }];
}
