// Looks a store over: the database by itself, its rows against each other, every blob against its hash, every file against the rows.
// Mends what can be mended and says what cannot.
import { createReadStream, existsSync } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { type RawBuilder, sql } from 'kysely';
import { storeMissing } from '../../errors/ledger-errors.ts';
import { blobHashes, blobPath, blobSize, sweepUnderWay } from '../blobs.ts';
import type { LedgerContext } from '../database/ledger-context.ts';
import { ledgerFault } from '../database/ledger-fault.ts';
import { BACKUP, databaseFaults, mendDatabase } from '../database/mend-database.ts';
import { migrate, openDatabase } from '../database/open-database.ts';
import { removeUnknownFiles } from './prune.ts';
import { lookAtSeals, sealAnew } from './prove-seals.ts';
import { lookAtContents } from './prove-rows.ts';
import type { StoreFault } from './store-fault.ts';
import { takeStoreLock } from '../database/store-lock.ts';

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
export async function examineStore(folder: string, options: DoctorOptions): Promise<StoreHealth> {
  if (!existsSync(join(folder, 'ledger.sqlite')) && !existsSync(join(folder, BACKUP))) throw storeMissing(folder);
  try {
    const lock = await takeStoreLock(folder, { doing: 'doctor', waitMs: 0 });
    try {
      await sweepUnderWay(folder);
      return await examine(folder, options);
    } finally {
      await lock.release();
    }
  } catch (error) {
    throw ledgerFault(folder, error);
  }
}

async function examine(folder: string, options: DoctorOptions): Promise<StoreHealth> {
  const faults: StoreFault[] = await lookAtDatabase(folder, options);
  // What cannot be opened has no rows to hold anything against.
  if (faults.some((fault) => fault.mended === null)) return { runs: 0, blobs: 0, bytes: 0, faults };
  const opened = openDatabase(folder);
  try {
    await migrate(folder, opened.db);
    const context = { folder, db: opened.db };
    // Before pointers are mended: that changes rows as well.
    faults.push(...(await lookAtSeals(context, options)), ...(await lookAtRows(context, options)));
    faults.push(...(await lookAtContents(context, options)));
    if (options.mend) await sealAnew(context);
    // What was taken out is in the sums that were stored.
    if (options.mend && faults.length > 0) await opened.db.deleteFrom('tally').execute();
    faults.push(...(await lookAtBlobs(context, options)));
    faults.push(...(await lookAtFiles(context, options)));
    const { runs } = await opened.db
      .selectFrom('run')
      .select((eb) => eb.fn.countAll<number>().as('runs'))
      .where('state', '!=', 'pruned')
      .executeTakeFirstOrThrow();
    const { blobs, bytes } = await opened.db
      .selectFrom('blob')
      .select((eb) => [eb.fn.countAll<number>().as('blobs'), eb.fn.coalesce(eb.fn.sum<number>('bytes'), eb.lit(0)).as('bytes')])
      .executeTakeFirstOrThrow();
    return { runs, blobs, bytes, faults };
  } finally {
    await opened.close();
  }
}

async function lookAtDatabase(folder: string, { mend, now }: DoctorOptions): Promise<StoreFault[]> {
  const path = join(folder, 'ledger.sqlite');
  const found = databaseFaults(path);
  if (found.length === 0) return [];
  let mended: string | null = null;
  if (mend) {
    const { keptAs, saved, fromBackup } = await mendDatabase(folder, now.replace(/\W/g, ''));
    mended =
      keptAs === null
        ? 'indexes rebuilt; nothing was lost'
        : `${String(saved)} rows saved, ${String(fromBackup)} more from the copy of the last finished run; the damaged file is ${keptAs}`;
  }
  return [{ kind: 'database', where: path, message: found.join('; '), mended }];
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
  const { folder, db } = context;
  const faults: StoreFault[] = [];
  const blobs = await db.selectFrom('blob').select(['n', 'hash', 'kind']).orderBy('hash').execute();
  for (const [done, { n, hash, kind }] of blobs.entries()) {
    onProgress?.(done, blobs.length);
    const path = blobPath(folder, hash);
    const there = (await blobSize(folder, hash)) !== undefined;
    const found = there ? await hashOfFile(path) : undefined;
    if (found === hash) continue;
    const message = `${kind} of ${await namesOfUsers(context, n)}`;
    if (!there) {
      faults.push({
        kind: 'blob-missing',
        where: path,
        message: `missing: ${message}; running these views again brings it back`,
        mended: null,
      });
      continue;
    }
    const aside = join(folder, 'damaged', hash);
    if (mend) {
      await mkdir(join(folder, 'damaged'), { recursive: true });
      await rename(path, aside);
    }
    const mended = mend ? `set aside as ${aside}; running these views again brings it back` : null;
    faults.push({ kind: 'blob-damaged', where: path, message: `damaged: ${message}`, mended });
  }
  return faults;
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
      where ${blob} in (picture.shot, picture.samples, picture.properties)) order by name`.execute(db);
  const names = rows.map((row) => row.name);
  if (names.length === 0) return 'no view';
  return names.length <= 3 ? names.join(', ') : `${names.slice(0, 3).join(', ')} and ${String(names.length - 3)} more`;
}

async function lookAtFiles(context: LedgerContext, { mend }: DoctorOptions): Promise<readonly StoreFault[]> {
  const known = new Set((await context.db.selectFrom('blob').select('hash').execute()).map((row) => row.hash));
  let count = 0;
  for await (const hash of blobHashes(context.folder)) if (!known.has(hash)) count += 1;
  if (count === 0) return [];
  if (mend) await removeUnknownFiles(context);
  const message = `${String(count)} files that no view needs (left by killed runs)`;
  return [{ kind: 'unknown-file', where: join(context.folder, 'blobs'), message, mended: mend ? 'removed' : null }];
}

async function hashOfFile(path: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(path), hash);
  return hash.digest('hex');
}
