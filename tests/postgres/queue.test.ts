// The queue that machines share, on the real database: what is handed out to whom, what becomes of it, and who ends when.
import { hostname } from 'node:os';
import pg from 'pg';
import { describe, expect, inject, test } from 'vitest';
import { openPgBossQueue } from '../../src/queue/pg-boss/pg-boss-queue.ts';
import { queueAt } from '../../src/queue/queue-at.ts';
import type { Group, Statement, TakenGroup, WorkQueue } from '../../src/queue/work-queue.ts';

let made = 0;
const freshSchema = (): string => `q${String(process.pid)}_${String((made += 1))}`;

/** A worker counts as gone at once, and tries follow one another quickly. */
const QUICK = { silentMs: 0, retryS: 1 };

function open(schema: string, who = 'quay, process 1'): Promise<WorkQueue> {
  return openPgBossQueue({ address: inject('postgres'), schema, place: 'the tests', who }, QUICK);
}

const groups = (...weights: readonly number[]): readonly Group[] =>
  weights.map((weight) => ({ name: `g${String(weight)}`, data: weight, weight, withinS: 600 }));

const nobody: ReadonlySet<string> = new Set();

/** In a transaction of its own, as the ledger does. */
async function settle(queue: WorkQueue, group: TakenGroup, report: unknown = null): Promise<boolean> {
  const client = new pg.Client({ connectionString: inject('postgres') });
  await client.connect();
  const statement: Statement = (text, values) => client.query(text, [...values]);
  try {
    await client.query('begin');
    const isOurs = await queue.settle(group, report, statement);
    await client.query('commit');
    return isOurs;
  } finally {
    await client.end();
  }
}

async function need(taking: Promise<TakenGroup | null>): Promise<TakenGroup> {
  const taken = await taking;
  if (taken === null) throw new Error('nothing was handed out');
  return taken;
}

describe('what is handed out', () => {
  test('the longest first, each to one worker; entered again, nothing is there twice', async () => {
    const schema = freshSchema();
    await using one = await open(schema);
    await using two = await open(schema);
    await one.announce('run-a', { plan: 1 }, groups(10, 30, 20));
    await one.announce('run-a', { plan: 2 }, groups(10, 30, 20));
    const taken = [await one.take(nobody), await two.take(nobody), await one.take(nobody), await two.take(nobody)];
    expect(taken.map((group) => group?.data ?? null)).toEqual([30, 20, 10, null]);
    expect(await two.announced()).toEqual([{ run: 'run-a', plan: { plan: 1 }, isOpen: true }]);
  });

  test('two runs share workers: the one with fewer groups under way is next', async () => {
    await using queue = await open(freshSchema());
    await queue.announce('run-a', {}, groups(50, 40, 30));
    await queue.announce('run-b', {}, groups(3, 2, 1));
    const runs: (string | undefined)[] = [];
    for (let i = 0; i < 4; i += 1) runs.push((await queue.take(nobody))?.run);
    expect(runs).toEqual(['run-a', 'run-b', 'run-a', 'run-b']);
    expect((await queue.take(new Set(['run-a'])))?.run).toBe('run-b');
  });

  test('its tables are made once, however many begin at the same time', async () => {
    const schema = freshSchema();
    const opened = await Promise.all(Array.from({ length: 5 }, () => open(schema)));
    await opened[0]?.announce('run-a', {}, groups(1));
    expect((await opened[4]?.take(nobody))?.data).toBe(1);
    for (const queue of opened) await queue[Symbol.asyncDispose]();
  });

  test('runs that are announced and taken off at the same time do not get into one another’s way', async () => {
    const schema = freshSchema();
    const opened = await Promise.all(Array.from({ length: 6 }, () => open(schema)));
    for (let round = 0; round < 4; round += 1) {
      await Promise.all(opened.map((queue, n) => queue.announce(`run-${String(round)}-${String(n)}`, {}, groups(1))));
      expect(await opened[0]?.announced()).toHaveLength(6);
      await Promise.all(opened.map((queue, n) => queue.retire(`run-${String(round)}-${String(n)}`)));
    }
    expect(await opened[0]?.announced()).toEqual([]);
    for (const queue of opened) await queue[Symbol.asyncDispose]();
  });

  test('a project with a long name has a queue of its own', async () => {
    const long = 'q'.repeat(62);
    await using one = await open(`${long}1`);
    await using two = await open(`${long}2`);
    await one.announce('run-a', {}, groups(1));
    expect(await two.take(nobody)).toBeNull();
    expect(await one.take(nobody)).not.toBeNull();
  });
});

describe('what becomes of it', () => {
  test('done: told with its report, and the run has nothing open', async () => {
    await using queue = await open(freshSchema());
    await queue.announce('run-a', {}, groups(1));
    expect(await settle(queue, await need(queue.take(nobody)), { captured: 4 })).toBe(true);
    const { waiting, underWay, ended } = await queue.standing('run-a');
    expect([waiting, underWay, ended.map((one) => one.kind === 'done' && one.report)]).toEqual([0, 0, [{ captured: 4 }]]);
    expect((await queue.announced()).map(({ isOpen }) => isOpen)).toEqual([false]);
    await queue.retire('run-a');
    expect(await queue.announced()).toEqual([]);
  });

  test('a worker that ended loses it, and what it says later is not taken', async () => {
    const schema = freshSchema();
    await using queue = await open(schema);
    await queue.announce('run-a', {}, groups(1));
    const worker = await open(schema, 'quay, process 2');
    const lost = await need(worker.take(nobody));
    await queue.tend();
    // It holds it: nothing is taken from it.
    expect((await queue.standing('run-a')).underWay).toBe(1);
    await worker[Symbol.asyncDispose]();
    await expect.poll(async () => (await queue.tend(), (await queue.standing('run-a')).underWay)).toBe(0);
    const again: TakenGroup[] = [];
    await expect
      .poll(async () => again.push(...[await queue.take(nobody)].flatMap((group) => group ?? [])), { timeout: 10_000 })
      .toBe(1);
    const [next] = again;
    if (next === undefined) throw new Error('nothing was handed out again');
    expect([next.id, next.tries]).toEqual([lost.id, 2]);
    // Whoever comes first has it: its rows and this word are one transaction, so the other leaves nothing.
    expect([await settle(queue, next), await settle(queue, lost)]).toEqual([true, false]);
  });

  test('a worker that lost it to another holds it no longer: should that one end, it is handed out again', async () => {
    const schema = freshSchema();
    await using one = await open(schema);
    await using leader = await open(schema);
    await leader.announce('run-a', {}, groups(1));
    const lost = await need(one.take(nobody));
    await leader.fail(lost, 'its worker seemed to have ended');
    expect(await settle(one, lost)).toBe(false);
    const other = await open(schema);
    await expect.poll(async () => (await other.take(nobody)) !== null, { timeout: 10_000 }).toBe(true);
    await other[Symbol.asyncDispose]();
    await expect.poll(async () => (await leader.tend(), (await leader.standing('run-a')).underWay)).toBe(0);
  });

  test('handed back it is as if nobody had taken it; failed as often as it may, it is given up with the reason', async () => {
    await using queue = await open(freshSchema());
    await queue.announce('run-a', {}, groups(7));
    await queue.giveBack(await need(queue.take(nobody)));
    for (const tries of [1, 2, 3]) {
      let taken: TakenGroup | null = null;
      await expect.poll(async () => (taken ??= await queue.take(nobody)) !== null, { timeout: 20_000 }).toBe(true);
      expect(taken).toMatchObject({ tries, data: 7 });
      await queue.fail(taken as unknown as TakenGroup, `the pier gave way ${String(tries)}`);
    }
    const { waiting, ended } = await queue.standing('run-a');
    expect([waiting, ended]).toMatchObject([0, [{ kind: 'given-up', data: 7, why: 'the pier gave way 3', tries: 3 }]]);
  });

  test('a run that is taken off takes what workers have in hand along', async () => {
    await using queue = await open(freshSchema());
    await queue.announce('run-a', {}, groups(2, 1));
    const taken = await need(queue.take(nobody));
    await queue.retire('run-a');
    expect(await settle(queue, taken)).toBe(false);
    await queue.giveBack(taken);
    await queue.fail(taken, 'too late');
    expect([await queue.take(nobody), await queue.announced()]).toEqual([null, []]);
  });
});

describe('who takes part', () => {
  test('a run is led by one; when its connection ends, by the next', async () => {
    const schema = freshSchema();
    const one = await open(schema);
    await using two = await open(schema);
    const lead = await one.lead('run-a');
    expect(lead?.isLost()).toBe(false);
    expect(await two.lead('run-a')).toBeNull();
    await one[Symbol.asyncDispose]();
    await expect.poll(async () => (await two.lead('run-a')) !== null).toBe(true);
  });

  test('a lead that was not got is not taken later, when a broken connection comes back', async () => {
    const schema = freshSchema();
    const one = await open(schema);
    await using two = await open(schema, 'quay, process 77');
    await one.lead('run-a');
    expect(await two.lead('run-a')).toBeNull();
    await two.enlist();
    await one[Symbol.asyncDispose]();
    const client = new pg.Client({ connectionString: inject('postgres') });
    await client.connect();
    const ours = "application_name = 'gloam queue quay, process 77'";
    await client.query(`select pg_terminate_backend(pid) from pg_stat_activity where ${ours}`);
    // What it does hold is held again: then it has taken all that it will take.
    const held = `select from pg_locks l join pg_stat_activity a on a.pid = l.pid where l.locktype = 'advisory' and l.granted and ${ours}`;
    await expect.poll(async () => (await client.query(held)).rowCount, { timeout: 10_000 }).toBeGreaterThan(0);
    await client.end();
    await using third = await open(schema);
    expect(await third.lead('run-a')).not.toBeNull();
  });

  test('workers are counted while they live, and one that does not take part says why', async () => {
    const schema = freshSchema();
    await using leader = await open(schema);
    const worker = await open(schema, `${hostname()}, process 2`);
    await leader.announce('run-a', {}, groups(1));
    await worker.enlist();
    await worker.refuse('run-a', 'another browser');
    expect(await leader.standing('run-a')).toMatchObject({
      workers: 1,
      refusals: [{ worker: `${hostname()}, process 2`, why: 'another browser' }],
    });
    await worker.refuse('run-a', null);
    await worker[Symbol.asyncDispose]();
    await expect.poll(async () => leader.standing('run-a')).toMatchObject({ workers: 0, refusals: [] });
  });

  test('connections that were cut come back, and what was held is held again', async () => {
    const schema = freshSchema();
    await using leader = await open(schema);
    await using worker = await open(schema);
    await leader.announce('run-a', {}, groups(1));
    const taken = await need(worker.take(nobody));
    const client = new pg.Client({ connectionString: inject('postgres') });
    await client.connect();
    const held = async (): Promise<number> =>
      (await client.query("select from pg_locks where locktype = 'advisory' and objsubid = 1 and pid = any($1)", [await pids()]))
        .rowCount ?? 0;
    const pids = async (): Promise<readonly number[]> =>
      (
        await client.query<{ readonly pid: number }>(
          "select pid from pg_stat_activity where application_name like 'gloam queue quay%'",
        )
      ).rows.map(({ pid }) => pid);
    expect(await held()).toBe(1);
    await client.query(
      "select pg_terminate_backend(pid) from pg_locks where locktype = 'advisory' and objsubid = 1 and pid = any($1)",
      [await pids()],
    );
    await expect.poll(held, { timeout: 10_000 }).toBe(1);
    await client.end();
    expect(await settle(worker, taken)).toBe(true);
  });

  test('a folder has no queue', async () => {
    await expect(queueAt(null, '/quay/.gloam')).rejects.toMatchObject({ code: 'queue-needs-database' });
  });
});
