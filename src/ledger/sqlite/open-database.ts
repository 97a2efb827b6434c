// Opens ledger.sqlite ready for use: WAL, patient with other writers, its tables brought up to date.
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';
import { Kysely, Migrator, sql, SqliteAdapter, type SqliteDatabase, SqliteDialect } from 'kysely';
import { ledgerNewer } from '../../errors/ledger-errors.ts';
import { codeOf } from '../database/ledger-fault.ts';
import { MIGRATION_PROVIDER, MIGRATIONS } from './migrations.ts';
import type { LedgerSchema } from '../database/schema.ts';

/** How long one statement waits for another process's transaction; those take milliseconds. */
const BUSY_MS = 20_000;

export interface OpenDatabase {
  readonly db: Kysely<LedgerSchema>;
  close(): Promise<void>;
}

/** Steps the file lacks, by name; all of them for an empty file. */
export async function pendingMigrations(db: Kysely<LedgerSchema>): Promise<readonly string[]> {
  const steps = await new Migrator({ db, provider: MIGRATION_PROVIDER }).getMigrations();
  return steps.filter((step) => step.executedAt === undefined).map((step) => step.name);
}

/** @throws ledger-newer when the file knows steps that this version does not */
export async function migrate(folder: string, db: Kysely<LedgerSchema>): Promise<void> {
  await refuseNewer(folder, db);
  const { error } = await new Migrator({ db, provider: MIGRATION_PROVIDER }).migrateToLatest();
  if (error !== undefined)
    throw error instanceof Error ? error : new Error('the tables could not be brought up to date', { cause: error });
}

export async function refuseNewer(folder: string, db: Kysely<LedgerSchema>): Promise<void> {
  const tables = await db.introspection.getTables({ withInternalKyselyTables: true });
  if (!tables.some((table) => table.name === 'kysely_migration')) return;
  const { rows } = await newestStep(db);
  const found = rows[0]?.name ?? '';
  const newest = Object.keys(MIGRATIONS).sort().at(-1) ?? '';
  if (found > newest) throw ledgerNewer(folder, found, newest);
}

function newestStep(db: Kysely<LedgerSchema>): Promise<{ readonly rows: readonly { readonly name: string }[] }> {
  return sql<{ name: string }>`select name from kysely_migration order by name desc limit 1`.execute(db);
}

export function openDatabase(folder: string): OpenDatabase {
  const path = join(folder, 'ledger.sqlite');
  const file = new SqliteFile(path, { timeout: BUSY_MS });
  try {
    // Takes effect on an empty file only: lets prune give room back.
    file.pragma('auto_vacuum = incremental');
    file.pragma('journal_mode = wal');
    // With WAL a killed process loses nothing; only a power cut may cost the last transactions, never the file.
    file.pragma('synchronous = normal');
    // 32 MB of pages, 16 MB of log: with SQLite's 2 MB and 4 MB, storing 100,000 findings took twice as long.
    file.pragma('cache_size = -32000');
    file.pragma('wal_autocheckpoint = 4000');
    // Touches the file, so that damage and missing rights show here.
    file.pragma('user_version');
  } catch (error) {
    file.close();
    throw error;
  }
  return wrap(file, () => Promise.resolve());
}

/**
 * For a store that may only be read: SQLite needs to write beside a WAL file even to read it, so where that is refused a copy in a
 * temporary folder is read instead.
 */
export async function openToRead(folder: string): Promise<OpenDatabase> {
  try {
    const opened = openDatabase(folder);
    await opened.db.selectNoFrom((eb) => eb.lit(1).as('one')).execute();
    return opened;
  } catch (error) {
    if (!/^SQLITE_(READONLY|CANTOPEN)/.test(codeOf(error))) throw error;
  }
  const copy = await mkdtemp(join(tmpdir(), 'gloam-read-'));
  try {
    for (const name of ['ledger.sqlite', 'ledger.sqlite-wal']) {
      if (existsSync(join(folder, name))) await cp(join(folder, name), join(copy, name));
    }
    return wrap(new SqliteFile(join(copy, 'ledger.sqlite')), () => rm(copy, { recursive: true, force: true }));
  } catch (error) {
    await rm(copy, { recursive: true, force: true });
    throw error;
  }
}

function wrap(file: SqliteFile.Database, after: () => Promise<void>): OpenDatabase {
  const db = new Kysely<LedgerSchema>({ dialect: new LedgerDialect({ database: seenByKysely(file) }) });
  let closed = false;
  return {
    db,
    close: async () => {
      if (closed) return;
      closed = true;
      await db.destroy();
      // Kysely leaves a file alone that it has asked nothing.
      file.close();
      await after();
    },
  };
}

/** Kysely does not count on SQLite's transactions around changes of tables; with them a step of a migration is done or not begun. */
class LedgerAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

class LedgerDialect extends SqliteDialect {
  override createAdapter(): LedgerAdapter {
    return new LedgerAdapter();
  }
}

/** Statements kept ready; a run uses some dozens. */
const STATEMENTS = 200;

/**
 * The file as Kysely is to see it. Statements are kept: Kysely has each prepared anew, and a third of the time of storing a run went
 * there. Transactions ask for the right to write at once: one that begins by reading could not wait for another writer later. And
 * SQLite ends a transaction by itself when the disk is full; rolling back is then done already.
 */
function seenByKysely(file: SqliteFile.Database): SqliteDatabase {
  const ready = new Map<string, SqliteFile.Statement>();
  const statement = (text: string): SqliteFile.Statement => {
    const known = ready.get(text);
    if (known !== undefined) return known;
    if (ready.size >= STATEMENTS) ready.clear();
    const made = file.prepare(text);
    ready.set(text, made);
    return made;
  };
  return {
    close: () => {
      file.close();
    },
    prepare: (text) => {
      if (text === 'begin') return statement('begin immediate');
      if (text === 'rollback' && !file.inTransaction) return statement('select 1');
      return statement(text);
    },
  };
}
