// One process at a time may run on a store. The lock is SQLite's own file lock on a small file beside the ledger: the system drops it
// when its holder dies, however it dies, so there is no stale lock to judge. A note beside it tells others who holds it.
import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import SqliteFile from 'better-sqlite3';
import { type StoreHolder, storeBusy } from '../../errors/ledger-errors.ts';
import type { LockOptions, StoreLock } from '../database/engine.ts';
import { codeOf } from '../database/ledger-fault.ts';

/** How often a waiting process tries again; short against a run, long against the cost of a try. */
const RETRY_MS = 100;

export async function takeStoreLock(folder: string, options: LockOptions): Promise<StoreLock> {
  const file = new SqliteFile(join(folder, 'lock.sqlite'), { timeout: 0 });
  const note = join(folder, 'lock.json');
  try {
    const deadline = Date.now() + options.waitMs;
    let told = false;
    while (!tryLock(file)) {
      const holder = await readHolder(note);
      if (Date.now() >= deadline) throw storeBusy(folder, holder);
      if (!told) options.onWait?.(holder);
      told = true;
      await pause(RETRY_MS, undefined, options.signal === undefined ? {} : { signal: options.signal });
    }
    await writeFile(note, JSON.stringify({ pid: process.pid, since: new Date().toISOString(), doing: options.doing }));
  } catch (error) {
    file.close();
    throw error;
  }
  return {
    // The system holds it as long as this process lives.
    isLost: () => false,
    release: async () => {
      if (!file.open) return;
      await rm(note, { force: true });
      file.close();
    },
  };
}

function tryLock(file: SqliteFile.Database): boolean {
  try {
    file.exec('begin exclusive');
    return true;
  } catch (error) {
    if (codeOf(error).startsWith('SQLITE_BUSY')) return false;
    throw error;
  }
}

async function readHolder(note: string): Promise<StoreHolder> {
  let read: unknown;
  try {
    read = JSON.parse(await readFile(note, 'utf8'));
  } catch {
    // The note is a courtesy: its holder may be writing it just now.
    return {};
  }
  if (typeof read !== 'object' || read === null) return {};
  return {
    ...('pid' in read && typeof read.pid === 'number' ? { pid: read.pid } : {}),
    ...('since' in read && typeof read.since === 'string' ? { since: read.since } : {}),
    ...('doing' in read && typeof read.doing === 'string' ? { doing: read.doing } : {}),
  };
}
