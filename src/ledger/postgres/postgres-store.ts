// A store in PostgreSQL: one schema of a database for each project, any number of machines that read and write. Blobs lie elsewhere.
// Nothing outside this folder knows of PostgreSQL.
import { hostname } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import { Kysely, Migrator, sql } from 'kysely';
import pg from 'pg';
import {
  ledgerNewer,
  storeBusy,
  type StoreHolder,
  storeMissing,
  storeUnreachable,
  storeUnwell,
} from '../../errors/ledger-errors.ts';
import type { Blobs } from '../blobs/blobs.ts';
import type { Access, Dialect, Engine, LockOptions, Store, StoreLock } from '../database/engine.ts';
import { codeOf, type FaultCodes, ledgerFault } from '../database/ledger-fault.ts';
import type { LedgerSchema } from '../database/schema.ts';
import { MIGRATION_PROVIDER, MIGRATIONS } from './migrations.ts';
import { SchemaDialect } from './schema-dialect.ts';

export interface PostgresPlace {
  /** `postgres://…`, with whatever secret it needs. */
  readonly address: string;
  /** Schema of the project. */
  readonly schema: string;
  /** On this machine, for what can be made again. */
  readonly folder: string;
  readonly blobs: Blobs;
}

/** PostgreSQL, appendix A: codes of errors. */
const CODES: FaultCodes = {
  full: ['53100', '53200'],
  readOnly: ['25006', '42501'],
  damaged: ['XX001', 'XX002'],
  unwell: ['53300', '57014', '40001', '40P01', '55P03'],
};

/** The database does not answer, or does not let us in: classes 08 and 28, 57P0x, 3D000, and what the network says. */
const UNREACHABLE = /^(08|28|57P0|3D000|ECONN|ENOTFOUND|EHOSTUNREACH|ENETUNREACH|ETIMEDOUT|EPIPE|EAI_AGAIN)/;

/** Connections of one process; a run stores a view while it reads another. */
const CONNECTIONS = 6;
const CONNECT_MS = 15_000;
const RETRY_MS = 200;

export function postgresStore(where: PostgresPlace): Store {
  const place = withoutSecret(where.address, where.schema);
  const faultOf = (error: unknown): unknown => {
    if (
      error instanceof Error &&
      (UNREACHABLE.test(codeOf(error)) || /^Connection terminated|timeout exceeded when trying to connect/.test(error.message))
    )
      return storeUnreachable(place, error);
    return ledgerFault(place, error, { codes: CODES, damaged: storeUnwell });
  };
  return {
    place,
    folder: where.folder,
    blobs: where.blobs,
    exists: async () => {
      const opened = connect(where);
      try {
        return await hasTables(opened.db, where.schema);
      } catch (error) {
        throw faultOf(error);
      } finally {
        await opened.close();
      }
    },
    lock: (options) => lock(where, place, options),
    open: (access) => open(where, place, access),
    // The server looks after its own files: checksums, its log, its copies.
    examine: () => Promise.resolve([]),
    faultOf,
  };
}

/** As messages and the lists of the server show it. */
function withoutSecret(address: string, schema: string): string {
  const url = new URL(address);
  url.password = '';
  url.search = '';
  return `${url.href} (schema ${schema})`;
}

interface Opened {
  readonly db: Kysely<LedgerSchema>;
  close(): Promise<void>;
}

/** Counts and sums come as 64 bits; none of ours is beyond what a number holds. */
const types = new pg.TypeOverrides();
for (const type of [pg.types.builtins.INT8, pg.types.builtins.NUMERIC]) types.setTypeParser(type, Number);

function settings({ address, schema }: PostgresPlace, name: string): pg.ClientConfig {
  return {
    connectionString: address,
    types,
    application_name: name,
    connectionTimeoutMillis: CONNECT_MS,
    keepAlive: true,
    options: `-c search_path=${schema}`,
  };
}

function connect(where: PostgresPlace): Opened {
  const pool = new pg.Pool({ ...settings(where, 'gloam'), max: CONNECTIONS });
  // A connection that breaks while nobody uses it is replaced by the next question.
  pool.on('error', () => undefined);
  // One that breaks while it is used fails its question; that it says so as an event too must not end the process.
  pool.on('connect', (client) => client.on('error', () => undefined));
  const db = new Kysely<LedgerSchema>({ dialect: new SchemaDialect(where.schema, { pool }) });
  let closed = false;
  return {
    db,
    close: async () => {
      if (closed) return;
      closed = true;
      await db.destroy();
    },
  };
}

async function hasTables(db: Kysely<LedgerSchema>, schema: string): Promise<boolean> {
  const { rows } = await sql<{ readonly there: boolean }>`
    select exists (select 1 from information_schema.tables where table_schema = ${schema} and table_name = 'run') as there`.execute(
    db,
  );
  return rows[0]?.there === true;
}

/** One number for what points and what prunes, one for the project. */
const POINTING = 0x61_6e;

const DIALECT: Dialect = {
  pointing: sql`select pg_advisory_xact_lock_shared(${sql.lit(POINTING)}, hashtext(current_schema()))`,
  pruning: sql`select pg_advisory_xact_lock(${sql.lit(POINTING)}, hashtext(current_schema()))`,
  moment: (time) => sql`cast(${time} as timestamptz)`,
  listOf: (value) => sql`cast(json_agg(${value}) as text)`,
  numberAt: (list, place) => sql`cast(cast(${list} as json) ->> ${sql.lit(place)} as double precision)`,
  joinNext: sql`join`,
};

async function open(where: PostgresPlace, place: string, access: Access): Promise<Engine> {
  const opened = connect(where);
  const { db } = opened;
  try {
    if (access === 'read' && !(await hasTables(db, where.schema))) throw storeMissing(place);
    await refuseNewer(db, where.schema, place);
    // Under a lock of the database: it lets one process at a time change tables.
    if (access !== 'read') await migrate(db, where.schema);
  } catch (error) {
    await opened.close();
    throw error;
  }
  return {
    db,
    dialect: DIALECT,
    // What the planner needs after many rows came or went; copies are the server's business.
    settle: async () => {
      await sql`analyze run_view, sheet, finding, run_cause, comparison`.execute(db);
    },
    reclaim: async () => {
      await sql`vacuum analyze run_view, sheet, finding, run_cause, comparison, blob, cause`.execute(db);
    },
    numbersTaken: async () => {
      for (const table of ['run', 'view', 'blob', 'sheet', 'finding', 'cause', 'acceptance', 'difference'] as const) {
        const next = sql`select coalesce(max(n), 0) + 1 from ${sql.table(table)}`;
        await sql`select setval(pg_get_serial_sequence(${table}, 'n'), (${next}), false)`.execute(db);
      }
    },
    close: () => opened.close(),
  };
}

async function migrate(db: Kysely<LedgerSchema>, schema: string): Promise<void> {
  const migrator = new Migrator({ db, provider: MIGRATION_PROVIDER, migrationTableSchema: schema });
  const pending = await migrator.getMigrations();
  if (pending.every(({ executedAt }) => executedAt !== undefined)) return;
  const { error } = await migrator.migrateToLatest();
  if (error !== undefined)
    throw error instanceof Error ? error : new Error('the tables could not be brought up to date', { cause: error });
}

async function refuseNewer(db: Kysely<LedgerSchema>, schema: string, place: string): Promise<void> {
  const { rows: tables } = await sql<{ readonly there: boolean }>`
    select exists (
      select 1 from information_schema.tables where table_schema = ${schema} and table_name = 'kysely_migration') as there`.execute(
    db,
  );
  if (tables[0]?.there !== true) return;
  const { rows } = await sql<{ readonly name: string }>`select name from kysely_migration order by name desc limit 1`.execute(db);
  const found = rows[0]?.name ?? '';
  const newest = Object.keys(MIGRATIONS).sort().at(-1) ?? '';
  if (found > newest) throw ledgerNewer(place, found, newest);
}

/**
 * A lock of the database, held by a connection of its own: it ends with that connection, however the process ends. Who holds it is
 * read from the name of the connection.
 */
async function lock(where: PostgresPlace, place: string, options: LockOptions): Promise<StoreLock> {
  const client = new pg.Client(settings(where, `gloam ${options.doing} ${String(process.pid)} ${hostname()}`.slice(0, 63)));
  let broken = false;
  client.on('error', () => {
    broken = true;
  });
  client.on('end', () => {
    broken = true;
  });
  await client.connect();
  try {
    const deadline = Date.now() + options.waitMs;
    let told = false;
    while (!(await tryLock(client, where.schema, options.shared === true))) {
      const holder = await holderOf(client, where.schema);
      if (Date.now() >= deadline) throw storeBusy(place, holder);
      if (!told) options.onWait?.(holder);
      told = true;
      await pause(RETRY_MS, undefined, options.signal === undefined ? {} : { signal: options.signal });
    }
  } catch (error) {
    await client.end();
    throw error;
  }
  let released = false;
  return {
    isLost: () => broken && !released,
    release: async () => {
      if (released) return;
      released = true;
      if (!broken) await client.end();
    },
  };
}

/** One number for gloam, one for the project. */
const GLOAM = 0x61_6d;

async function tryLock(client: pg.Client, schema: string, shared: boolean): Promise<boolean> {
  const lock = shared ? 'pg_try_advisory_lock_shared' : 'pg_try_advisory_lock';
  const { rows } = await client.query<{ readonly held: boolean }>(`select ${lock}($1, hashtext($2)) as held`, [GLOAM, schema]);
  return rows[0]?.held === true;
}

async function holderOf(client: pg.Client, schema: string): Promise<StoreHolder> {
  const { rows } = await client.query<{ readonly name: string; readonly since: Date }>(
    `select a.application_name as name, a.backend_start as since
     from pg_locks l join pg_stat_activity a on a.pid = l.pid
     where l.locktype = 'advisory' and l.granted and l.classid = $1 and l.objid = hashtext($2)::bit(32)::bigint::oid`,
    [GLOAM, schema],
  );
  const [, doing, pid] = /^gloam (\S+) (\d+) /.exec(rows[0]?.name ?? '') ?? [];
  return {
    ...(pid === undefined ? {} : { pid: Number(pid) }),
    ...(doing === undefined ? {} : { doing }),
    ...(rows[0] === undefined ? {} : { since: rows[0].since.toISOString() }),
  };
}
