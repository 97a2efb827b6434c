// The schema of a project's queue: its name, the library's tables, and ours beside them.
import { createHash } from 'node:crypto';
import type PgBoss from 'pg-boss';
import pg from 'pg';
import { type Connection, faultOf } from './connection.ts';

/** Names of schemas end here in the library. */
const LONGEST_SCHEMA = 50;

/** Beyond the library: what a run is to be like, and which workers do not take it. */
const OWN_TABLES = (schema: string): string => `
  create table if not exists ${schema}.announced (
    run text primary key, plan jsonb not null, at timestamptz not null default now());
  create table if not exists ${schema}.refusal (
    run text not null, worker text not null, why text not null, primary key (run, worker))`;

/** Beside the project's own; the library lets names have 50 characters. */
export function queueSchema(project: string): string {
  const name = `${project}_work`;
  if (name.length <= LONGEST_SCHEMA) return name;
  return `${project.slice(0, LONGEST_SCHEMA - 14)}_${createHash('sha256').update(project).digest('hex').slice(0, 8)}_work`;
}

/** Under a lock of the database: the library itself is not made for two that begin at once. */
export async function installQueue(db: Connection, schema: string, boss: PgBoss): Promise<void> {
  const there = await db.query<{ readonly there: string | null }>('select to_regclass($1)::text as there', [`${schema}.refusal`]);
  const isThere = typeof there[0]?.there === 'string';
  if (isThere) {
    await boss.start();
    return;
  }
  await oneByOne(db, schema, async () => {
    await boss.start();
    await db.query(OWN_TABLES(schema));
  });
}

/** Work that changes tables, under a lock of the database: two that each hold what the other wants would end as a deadlock. */
export async function oneByOne<T>(db: Connection, schema: string, work: () => Promise<T>): Promise<T> {
  const lock = new pg.Client(db.config);
  lock.on('error', () => undefined);
  try {
    await lock.connect();
    await lock.query('select pg_advisory_lock(hashtextextended($1, 0))', [`gloam queue ${schema}`]);
    return await work();
  } catch (error) {
    throw faultOf(db.place, error);
  } finally {
    await lock.end().catch(() => undefined);
  }
}
