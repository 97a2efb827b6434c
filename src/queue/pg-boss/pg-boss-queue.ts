// The queue on pg-boss: a schema of its own beside the project's, in it a queue for each run. The library hands out, counts tries, waits
// longer from one to the next, and gives up. Ours is what it leaves open: which run is next, whether a worker still lives, and what a run
// is to be like. Nothing outside this folder knows of it.
import { createHash } from 'node:crypto';
import PgBoss from 'pg-boss';
import type pg from 'pg';
import type { QueuePlace } from '../queue-place.ts';
import type { EndedGroup, Group, WorkQueue } from '../work-queue.ts';
import { openClaims } from './claims.ts';
import { connectTo, type Connection } from './connection.ts';
import { installQueue, oneByOne, queueSchema } from './install-queue.ts';

/** Tries after the first. */
const RETRIES = 2;
/** Before the second try; twice as long before the third. s */
const RETRY_S = 2;
/** A group in hand whose worker holds nothing: so long it may take to reach the database again. ms */
const SILENT_MS = 10_000;
/** Statements take as many groups at once. */
const AT_ONCE = 1_000;
/** Transactions may end in another order than they began. s */
const OVERLAP_S = 60;
/** @param how for tests: how long a worker may be silent, and how long the second try waits */
export async function openPgBossQueue(
  where: QueuePlace,
  how: { readonly silentMs: number; readonly retryS: number } = { silentMs: SILENT_MS, retryS: RETRY_S },
): Promise<WorkQueue> {
  const schema = queueSchema(where.schema);
  const db = connectTo({ ...where, name: `gloam queue ${where.who}` });
  // Nothing runs by itself: who leads a run, and workers that have nothing to do, tend the queue.
  const boss = new PgBoss({ db: db.asked, schema, supervise: false, schedule: false });
  boss.on('error', () => undefined);
  try {
    await installQueue(db, schema, boss);
    const claims = await openClaims(db.config);
    return queue({ db, schema, boss, claims, ...how, who: where.who });
  } catch (error) {
    await db.close();
    throw error;
  }
}

interface JobRow {
  readonly id: string;
  readonly data: { readonly group: unknown; readonly retries: number };
  readonly output: unknown;
  readonly state: string;
  readonly retry_count: number;
  readonly completed_on: Date;
}

function queue(on: {
  readonly db: Connection;
  readonly schema: string;
  readonly boss: PgBoss;
  readonly claims: Awaited<ReturnType<typeof openClaims>>;
  readonly silentMs: number;
  readonly retryS: number;
  readonly who: string;
}): WorkQueue {
  const { db, schema, boss, claims } = on;
  const groupClaim = (id: string): string => `gloam group ${schema} ${id}`;
  const crew = `gloam crew ${schema}`;
  /** Groups in hand that no worker was seen to hold: since when. */
  const silent = new Map<string, number>();
  const lastEnded = new Map<string, Date>();
  /** All that is told of a job that waits to be handed out. The moments are far off, so that no clock that is put back holds it up. */
  const jobOf = (run: string, { name, data, weight, withinS }: Group, retries = RETRIES): PgBoss.JobInsert => ({
    id: idOf(run, name),
    name: run,
    data: { group: data, retries },
    priority: weight,
    retryLimit: retries,
    retryDelay: on.retryS,
    retryBackoff: true,
    expireInSeconds: withinS,
    startAfter: '2000-01-01T00:00:00Z',
    keepUntil: '2200-01-01T00:00:00Z',
  });

  return {
    async lead(run) {
      const name = `gloam lead ${schema} ${run}`;
      if (!(await claims.hold(name, { alone: true }))) return null;
      return { isLost: () => claims.isLost(name), release: () => claims.release(name) };
    },

    async announce(run, plan, groups) {
      // The library makes a table for it, and drops that again.
      await oneByOne(db, schema, () => boss.createQueue(run));
      for (let from = 0; from < groups.length; from += AT_ONCE)
        await boss.insert(groups.slice(from, from + AT_ONCE).map((group) => jobOf(run, group)));
      await db.query(`insert into ${schema}.announced (run, plan) values ($1, $2) on conflict (run) do nothing`, [
        run,
        JSON.stringify(plan),
      ]);
    },

    async standing(run, how) {
      const counts = await db.query<{ readonly waiting: string; readonly active: string }>(
        `select count(*) filter (where state < 'active') as waiting, count(*) filter (where state = 'active') as active
         from ${schema}.job where name = $1`,
        [run],
      );
      const since = how?.sinceStart === true ? undefined : lastEnded.get(run);
      const rows = await db.query<JobRow & pg.QueryResultRow>(
        `select id, data, output, state, retry_count, completed_on from ${schema}.job
         where name = $1 and state in ('completed', 'failed') and completed_on >= $2::timestamptz - interval '${String(OVERLAP_S)} s'
         order by completed_on`,
        [run, since ?? '2000-01-01T00:00:00Z'],
      );
      const last = rows.at(-1);
      if (last !== undefined) lastEnded.set(run, last.completed_on);
      const crews = await db.query<{ readonly workers: string }>(
        `select count(*) as workers from pg_locks l where l.granted and ${isLock('l', '$1')}`,
        [crew],
      );
      const refusals = await db.query<{ readonly worker: string; readonly why: string }>(
        `select worker, why from ${schema}.refusal where run = $1 order by worker`,
        [run],
      );
      return {
        waiting: Number(counts[0]?.waiting ?? 0),
        underWay: Number(counts[0]?.active ?? 0),
        workers: Number(crews[0]?.workers ?? 0),
        ended: rows.map(endedOf),
        refusals,
      };
    },

    withdraw: (run) => boss.purgeQueue(run),

    async retire(run) {
      await db.query(`delete from ${schema}.announced where run = $1`, [run]);
      await db.query(`delete from ${schema}.refusal where run = $1`, [run]);
      // The library drops a queue only when nothing is in it; a worker may give something back meanwhile.
      for (;;) {
        const jobs = await db.query<{ readonly id: string }>(`select id from ${schema}.job where name = $1`, [run]);
        if (jobs.length === 0) break;
        await boss.deleteJob(
          run,
          jobs.map(({ id }) => id),
        );
      }
      await oneByOne(db, schema, () => boss.deleteQueue(run));
      lastEnded.delete(run);
    },

    async enlist() {
      await claims.hold(crew, { alone: false });
    },

    async announced() {
      const rows = await db.query<{ readonly run: string; readonly plan: unknown; readonly open: boolean }>(
        `select run, plan, exists (select from ${schema}.job where name = run and state < 'completed') as open
         from ${schema}.announced order by at, run`,
      );
      return rows.map(({ run, plan, open }) => ({ run, plan, isOpen: open }));
    },

    async take(except) {
      const runs = await db.query<{ readonly name: string }>(
        `select name from ${schema}.job where name in (select run from ${schema}.announced) and not name = any($1)
         group by name having count(*) filter (where state < 'active' and start_after < now()) > 0
         order by count(*) filter (where state = 'active'), min(created_on), name`,
        [[...except]],
      );
      for (const { name: run } of runs) {
        const [job] = await boss.fetch<JobRow['data']>(run, { includeMetadata: true, priority: true });
        if (job === undefined) continue;
        await claims.hold(groupClaim(job.id), { alone: false });
        return { run, id: job.id, data: job.data.group, tries: RETRIES - job.data.retries + job.retryCount + 1 };
      }
      return null;
    },

    async settle(group, report, statement) {
      const values = [group.run, group.id];
      const { rows } = await statement(
        `select id from ${schema}.job where name = $1 and id = $2 and state = 'active' for update`,
        values,
      );
      if (rows.length === 0) {
        // Else whoever has it now would seem to live for as long as we do.
        await claims.release(groupClaim(group.id));
        return false;
      }
      const asked = { executeSql: async (text: string, given: unknown[]) => ({ rows: [...(await statement(text, given)).rows] }) };
      await boss.complete(group.run, group.id, { report }, { db: asked });
      await claims.release(groupClaim(group.id));
      return true;
    },

    async giveBack(group) {
      const [job] = await db.query<{ readonly priority: number; readonly within: string; readonly data: JobRow['data'] }>(
        `select priority, extract(epoch from expire_in) as within, data from ${schema}.job
         where name = $1 and id = $2 and state = 'active'`,
        [group.run, group.id],
      );
      if (job !== undefined) {
        const anew = jobOf(
          group.run,
          { name: '', data: group.data, weight: job.priority, withinS: Math.max(1, Math.round(Number(job.within))) },
          // Tries that failed stay counted; this one does not.
          Math.max(0, RETRIES - (group.tries - 1)),
        );
        await db.together(async (asked) => {
          await boss.deleteJob(group.run, group.id, { db: asked });
          await boss.insert([{ ...anew, id: group.id }], { db: asked });
        });
      }
      await claims.release(groupClaim(group.id));
    },

    async fail(group, why) {
      await boss.fail(group.run, group.id, { why });
      await claims.release(groupClaim(group.id));
    },

    async refuse(run, why) {
      if (why === null) await db.query(`delete from ${schema}.refusal where run = $1 and worker = $2`, [run, on.who]);
      else
        await db.query(
          `insert into ${schema}.refusal (run, worker, why) values ($1, $2, $3) on conflict (run, worker) do update set why = excluded.why`,
          [run, on.who, why],
        );
    },

    async tend() {
      await boss.expire();
      const rows = await db.query<{ readonly name: string; readonly id: string }>(
        `select name, id from ${schema}.job j where state = 'active'
         and not exists (select from pg_locks l where ${isLock('l', `'gloam group ${schema} ' || j.id::text`)})`,
      );
      const now = performance.now();
      const ids = new Set(rows.map(({ id }) => id));
      for (const id of silent.keys()) if (!ids.has(id)) silent.delete(id);
      for (const { name, id } of rows) {
        const since = silent.get(id) ?? now;
        silent.set(id, since);
        if (now - since < on.silentMs) continue;
        silent.delete(id);
        await boss.fail(name, id, { why: 'its worker ended before it was done' });
      }
    },

    async [Symbol.asyncDispose]() {
      await claims.close();
      await boss.stop({ graceful: false });
      await db.close();
    },
  };
}

/** Whether a row of `pg_locks` is the lock of that name, in this database. @param name an expression */
function isLock(row: string, name: string): string {
  const key = `hashtextextended(${name}, 0)`;
  return `${row}.locktype = 'advisory' and ${row}.objsubid = 1
    and ${row}.database = (select oid from pg_database where datname = current_database())
    and ${row}.classid::bigint = ((${key} >> 32) & 4294967295) and ${row}.objid::bigint = (${key} & 4294967295)`;
}

/** The same work has the same id, however often it is entered. @returns in the form of a UUID of version 8 (RFC 9562) */
function idOf(run: string, name: string): string {
  const hex = createHash('sha256')
    .update(JSON.stringify([run, name]))
    .digest('hex');
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

function endedOf({ id, data, output, state, retry_count: tries }: JobRow): EndedGroup {
  if (state === 'completed') return { id, data: data.group, kind: 'done', report: memberOf(output, 'report') };
  // The library has a sentence of its own for what took too long.
  const why = memberOf(output, 'why') ?? memberOf(memberOf(output, 'value'), 'message');
  return {
    id,
    data: data.group,
    kind: 'given-up',
    why: typeof why === 'string' ? why : 'it did not say why',
    tries: RETRIES - data.retries + tries + 1,
  };
}

function memberOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null && name in value
    ? (value as Readonly<Record<string, unknown>>)[name]
    : undefined;
}
