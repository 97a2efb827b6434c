// A damaged ledger.sqlite → one that is whole: what can still be read of it, completed from the copy that the last finished run left.
// The damaged file is kept beside it.
import { existsSync, statSync } from 'node:fs';
import { cp, mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';
import { codeOf } from '../database/ledger-fault.ts';
import { migrate, openDatabase } from './open-database.ts';
import { type SalvagedRow, SALVAGED, salvageRows } from './salvage.ts';

/** Copy of the ledger as the last finished run left it. */
export const BACKUP = 'ledger.backup.sqlite';

export interface MendReceipt {
  /** Where the damaged file went; null when rebuilding its indexes was enough. */
  readonly keptAs: string | null;
  /** Rows saved from the damaged file, and rows that only the copy had. */
  readonly saved: number;
  readonly fromBackup: number;
}

/** What SQLite finds wrong with the file; empty when it is whole. */
export function databaseFaults(path: string): readonly string[] {
  // To SQLite an empty file is a whole database.
  if ((statSync(path, { throwIfNoEntry: false })?.size ?? 0) === 0) return ['the file is missing or empty'];
  let file: SqliteFile.Database | undefined;
  try {
    file = new SqliteFile(path, { fileMustExist: true });
    file.pragma('cell_size_check = on');
    const rows = file.prepare<[], { readonly integrity_check: string }>('pragma integrity_check(20)').all();
    const faults = rows.map((row) => row.integrity_check);
    return faults.length === 1 && faults[0] === 'ok' ? [] : faults;
  } catch (error) {
    if (!/^SQLITE_(CORRUPT|NOTADB|IOERR|ERROR)/.test(codeOf(error))) throw error;
    return [error instanceof Error ? error.message : String(error)];
  } finally {
    file?.close();
  }
}

/** For the holder of the store's lock, with nobody else connected. @param stamp tells the kept file from earlier ones */
export async function mendDatabase(folder: string, stamp: string): Promise<MendReceipt> {
  const path = join(folder, 'ledger.sqlite');
  if (rebuildIndexes(path)) return { keptAs: null, saved: 0, fromBackup: 0 };

  const workshop = join(folder, 'mending');
  await rm(workshop, { recursive: true, force: true });
  // A ledger of its own, in a folder of its own, so that a killed doctor leaves the store as it was.
  await mkdir(workshop);
  if (!existsSync(path)) await writeFile(path, '');
  await cp(path, join(workshop, 'damaged.sqlite'));
  if (existsSync(`${path}-wal`)) await cp(`${path}-wal`, join(workshop, 'damaged.sqlite-wal'));
  const fresh = openDatabase(workshop);
  await migrate(workshop, fresh.db);
  await fresh.close();

  const mended = new SqliteFile(join(workshop, 'ledger.sqlite'));
  const saved = copyRows(join(workshop, 'damaged.sqlite'), mended);
  const fromBackup = existsSync(join(folder, BACKUP)) ? copyRows(join(folder, BACKUP), mended) : 0;
  mended.close();

  const keptAs = join(folder, `ledger.damaged-${stamp}.sqlite`);
  await rename(path, keptAs);
  for (const rest of ['-wal', '-shm']) await rm(`${path}${rest}`, { force: true });
  await rename(join(workshop, 'ledger.sqlite'), path);
  await rm(workshop, { recursive: true, force: true });
  return { keptAs, saved, fromBackup };
}

/** @returns whether the file is whole now */
function rebuildIndexes(path: string): boolean {
  try {
    const file = new SqliteFile(path, { fileMustExist: true });
    try {
      file.exec('reindex');
    } finally {
      file.close();
    }
  } catch (error) {
    if (!codeOf(error).startsWith('SQLITE_')) throw error;
    return false;
  }
  return databaseFaults(path).length === 0;
}

/** Rows whose key is taken stay as they are. @returns how many rows came in */
function copyRows(from: string, into: SqliteFile.Database): number {
  let file: SqliteFile.Database;
  try {
    file = new SqliteFile(from, { fileMustExist: true });
  } catch (error) {
    if (codeOf(error).startsWith('SQLITE_')) return 0;
    throw error;
  }
  let count = 0;
  try {
    for (const { table, key } of SALVAGED) {
      into.transaction(() => {
        for (const row of salvageRows(file, table, key)) count += insertRow(into, table, row);
      })();
    }
  } finally {
    file.close();
  }
  return count;
}

function insertRow(into: SqliteFile.Database, table: string, row: SalvagedRow): number {
  const names = Object.keys(row);
  const columns = names.map((name) => `"${name}"`).join(', ');
  const places = names.map(() => '?').join(', ');
  try {
    return into.prepare(`insert or ignore into "${table}" (${columns}) values (${places})`).run(Object.values(row)).changes;
  } catch (error) {
    // A row that is damaged itself: a column that is none, a value where none may be missing.
    if (/^SQLITE_(ERROR|CONSTRAINT|MISMATCH)/.test(codeOf(error))) return 0;
    throw error;
  }
}
