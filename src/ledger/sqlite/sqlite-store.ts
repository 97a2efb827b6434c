// A store as a folder: rows in ledger.sqlite, blobs beside it. Nothing outside this folder knows of SQLite.
import { existsSync, statSync } from 'node:fs';
import { mkdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { sql } from 'kysely';
import { ledgerDamaged, storeMissing } from '../../errors/ledger-errors.ts';
import { folderBlobs } from '../blobs/folder-blobs.ts';
import type { StoreFault } from '../care/store-fault.ts';
import type { Access, Dialect, Engine, Store, StoreLock } from '../database/engine.ts';
import { type FaultCodes, ledgerFault } from '../database/ledger-fault.ts';
import { BACKUP, databaseFaults, mendDatabase } from './mend-database.ts';
import { migrate, type OpenDatabase, openDatabase, openToRead, pendingMigrations, refuseNewer } from './open-database.ts';
import { takeStoreLock } from './store-lock.ts';

const CODES: FaultCodes = {
  full: ['SQLITE_FULL'],
  readOnly: ['SQLITE_READONLY', 'SQLITE_CANTOPEN'],
  damaged: ['SQLITE_CORRUPT', 'SQLITE_NOTADB'],
  unwell: ['SQLITE_IOERR', 'SQLITE_BUSY'],
};

export function sqliteStore(folder: string): Store {
  return {
    place: folder,
    folder,
    blobs: folderBlobs(folder),
    exists: () => Promise.resolve(existsSync(join(folder, 'ledger.sqlite')) || existsSync(join(folder, BACKUP))),
    lock: async (options) => {
      await mkdir(folder, { recursive: true });
      return takeStoreLock(folder, options);
    },
    open: (access, lock) => open(folder, access, lock),
    examine: (options) => examine(folder, options),
    faultOf: (error) => ledgerFault(folder, error, { codes: CODES, damaged: ledgerDamaged }),
  };
}

type TakeLock = () => Promise<StoreLock>;

async function open(folder: string, access: Access, lock: TakeLock | undefined): Promise<Engine> {
  const fresh = isEmpty(join(folder, 'ledger.sqlite'));
  if (fresh && !isEmpty(join(folder, BACKUP))) throw ledgerDamaged(folder, 'found it empty, though a finished run left a copy');
  if (access === 'read' && fresh) throw storeMissing(folder);
  if (access !== 'read') await mkdir(join(folder, 'blobs'), { recursive: true });
  const opened = access === 'read' ? await openToRead(folder) : openDatabase(folder);
  try {
    await bringUpToDate(folder, opened, lock);
  } catch (error) {
    await opened.close();
    throw error;
  }
  return engineOf(folder, opened);
}

/** Missing, or without content, as a process leaves it that is killed while making it. */
function isEmpty(path: string): boolean {
  return (statSync(path, { throwIfNoEntry: false })?.size ?? 0) === 0;
}

/** Two processes must not bring the tables up to date at once. */
async function bringUpToDate(folder: string, { db }: OpenDatabase, lock: TakeLock | undefined): Promise<void> {
  await refuseNewer(folder, db);
  if ((await pendingMigrations(db)).length === 0) return;
  const held = await lock?.();
  try {
    await migrate(folder, db);
  } finally {
    await held?.release();
  }
}

const DIALECT: Dialect = {
  moment: (time) => sql`julianday(${time})`,
  listOf: (value) => sql`json_group_array(${value})`,
  numberAt: (list, place) => sql`json_extract(${list}, ${sql.lit(`$[${String(place)}]`)})`,
  // SQLite never changes the order of these.
  joinNext: sql`cross join`,
};

function engineOf(folder: string, opened: OpenDatabase): Engine {
  const { db } = opened;
  return {
    db,
    dialect: DIALECT,
    settle: async () => {
      // What SQLite advises before a connection is left: statistics for the planner; then the log goes back into the file.
      await sql`pragma optimize`.execute(db);
      await sql`pragma wal_checkpoint(truncate)`.execute(db);
      await keepBackup(folder, db);
    },
    reclaim: async () => {
      await sql`pragma incremental_vacuum`.execute(db);
      await sql`pragma wal_checkpoint(truncate)`.execute(db);
      // Else a mended ledger would get the dropped runs back, without their blobs.
      await keepBackup(folder, db);
    },
    // SQLite takes the next number from the rows.
    numbersTaken: () => Promise.resolve(),
    close: () => opened.close(),
  };
}

/** A whole copy of the ledger, from which a damaged one can be completed. */
async function keepBackup(folder: string, db: Engine['db']): Promise<void> {
  const underWay = join(folder, `${BACKUP}.under-way`);
  try {
    await rm(underWay, { force: true });
    await sql`vacuum into ${underWay}`.execute(db);
    await rename(underWay, join(folder, BACKUP));
  } catch (error) {
    await rm(underWay, { force: true });
    throw error;
  }
}

async function examine(folder: string, { mend, now }: { readonly mend: boolean; readonly now: string }): Promise<StoreFault[]> {
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
