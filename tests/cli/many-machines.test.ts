// Machines that share a run, as processes on a real PostgreSQL: what they find is what one machine finds, whoever of them is killed.
import { createHash } from 'node:crypto';
import { cpSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openPgBossQueue } from '../../src/queue/pg-boss/pg-boss-queue.ts';
import { startBucket } from '../../bench/bucket.ts';
import { postgresPrograms, startCluster } from '../../bench/cluster.ts';
import type { Cluster } from '../../bench/cluster.ts';
import { folderWith, gloam, page, quayApp, start } from './gloam.ts';
import type { Started } from './gloam.ts';

const PROGRAMS = postgresPrograms();
const PASSWORD = 'ebb-and-flow-77';
const KEY = 'low-water-mark-91';

/** Pages with states of both kinds, a fault at rest and one in a state. */
function app(): string {
  const folder = quayApp({
    pages: ['/', { path: '/board.html', name: 'board', states: ['told', 'open'] }, { path: '/log.html', name: 'log' }],
    states: { told: { hover: '#tell' }, open: { click: '#tell' } },
    headers: { 'x-quay': { env: 'QUAY_KEY' } },
    tokens: { base: ['tokens.json'] },
  });
  const value = { colorSpace: 'srgb', components: [0.6, 0.6, 0.6], hex: '#999999' };
  writeFileSync(path.join(folder, 'tokens.json'), JSON.stringify({ ink: { $type: 'color', $value: value } }));
  const style = '#tell:hover { color: #ddd; background: #eee } .open + p { color: #777; background: #888 }';
  const body = `<h1>Board</h1><button id="tell" onclick="this.className='open'">Tell</button><p>Next high water</p>`;
  writeFileSync(path.join(folder, 'site', 'board.html'), page(body, style));
  writeFileSync(path.join(folder, 'site', 'log.html'), page('<h1>Log</h1><p style="color:#aaa">Nothing came in.</p>'));
  return folder;
}

/** Everything of an export but names of runs, moments and ports. */
function told(folder: string): Readonly<Record<string, unknown>> {
  const read = (name: string): string => readFileSync(path.join(folder, name), 'utf8');
  const { id, startedAt, finishedAt, views, ...run } = JSON.parse(read('run.json')) as {
    readonly id: string;
    readonly startedAt: string;
    readonly finishedAt: string;
    readonly views: readonly { readonly ms: number; readonly url: string }[];
  };
  expect([id, startedAt, finishedAt].every((text) => text.length > 0)).toBe(true);
  const rows = (name: string): readonly unknown[] =>
    read(name)
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Readonly<Record<string, unknown>>)
      .map(({ since, ...row }) => ({ ...row, isOfThisRun: since === id }));
  return {
    run,
    views: views.map(({ ms: _, url, ...view }) => ({ ...view, url: new URL(url).pathname })),
    findings: rows('findings.ndjson'),
    causes: rows('causes.ndjson'),
    samples: rows('samples.ndjson'),
    shots: readdirSync(path.join(folder, 'shots'))
      .sort()
      .map((name) => [
        name,
        createHash('sha256')
          .update(readFileSync(path.join(folder, 'shots', name)))
          .digest('hex'),
      ]),
  };
}

/** Without what depends on which of two runs was over first. */
function timeless({ run, findings, ...rest }: ReturnType<typeof told>): Readonly<Record<string, unknown>> {
  const without = (row: unknown, ...names: readonly string[]): unknown =>
    Object.fromEntries(Object.entries(row as object).filter(([name]) => !names.includes(name)));
  return {
    ...rest,
    run: without(run, 'label'),
    findings: (findings as readonly unknown[]).map((row) => without(row, 'status', 'isOfThisRun')),
  };
}

// Processes and their browsers start a dozen times, and a group of a worker that was killed waits for ten seconds.
describe.skipIf(PROGRAMS === null)('machines that share a run', { timeout: 400_000 }, () => {
  let cluster: Cluster;
  let folder: string;
  let env: Readonly<Record<string, string>>;
  let address: string;
  const running: Started[] = [];
  const begin = (...args: readonly string[]): Started => {
    const process = start(folder, args, env);
    running.push(process);
    return process;
  };

  beforeAll(async () => {
    cluster = await startCluster(PROGRAMS ?? '');
    folder = app();
    address = cluster.address.replace('tide@', `tide:${PASSWORD}@`);
    env = { GLOAM_STORE: `${address}?schema=quay`, GLOAM_BLOBS: path.join(folder, 'shared'), QUAY_KEY: KEY };
  });
  afterAll(async () => {
    for (const process of running) process.kill('SIGKILL');
    await Promise.all(running.map(({ ended }) => ended));
    await cluster[Symbol.asyncDispose]();
  });

  async function alone(out: string, store = 'alone'): Promise<number | null> {
    return (await start(folder, ['run', '--store', store, '--export', out, '--samples'], { QUAY_KEY: KEY }).ended).code;
  }

  async function asked<T extends pg.QueryResultRow>(text: string): Promise<readonly T[]> {
    const client = new pg.Client({ connectionString: cluster.address });
    await client.connect();
    const { rows } = await client.query<T>(text);
    await client.end();
    return rows;
  }

  test('find what one finds, member by member, though a worker and the one that leads are killed and the database restarts', async () => {
    const first = alone('alone-1');
    // It waits for the run.
    const lost = begin('work', '--workers', '1');
    const leader = begin('run', '--on-queue');
    await lost.printed(/\d views?, /);
    // Whatever it has in hand by now is lost, and nothing else.
    lost.kill('SIGKILL');
    await leader.printed('groups of');
    leader.kill('SIGKILL');
    await leader.ended;
    const workers = [begin('work', '--workers', '1', '--until-done'), begin('work', '--workers', '1', '--until-done')];
    await cluster.restart('immediate');
    const again = begin('run', '--on-queue', '--resume', '--export', 'shared-1', '--samples');
    const { code, stderr } = await again.ended;
    expect(code, stderr).toBe(0);
    for (const worker of workers) expect(await worker.ended).toMatchObject({ code: 0 });
    expect(await first).toBe(0);
    const [one, other] = [told(path.join(folder, 'alone-1')), told(path.join(folder, 'shared-1'))];
    expect(other).toEqual(one);
    expect((one['findings'] as readonly unknown[]).length).toBeGreaterThan(5);
    // 10 views of 3 pages, once each; token files have rows of their own.
    const stored = await asked(
      "select count(*)::int as views, count(distinct view)::int as names from quay.run_view where status = 'captured'",
    );
    expect(stored).toEqual([{ views: 10, names: 10 }]);
    // Nothing is left of it in the queue.
    expect(
      await asked(
        'select (select count(*) from quay_work.job)::int as jobs, (select count(*) from quay_work.announced)::int as runs',
      ),
    ).toEqual([{ jobs: 0, runs: 0 }]);
  });

  test('find the same on the next night, take over what is as it was, and leave no secret anywhere', async () => {
    const workers = [begin('work', '--workers', '1', '--until-done'), begin('work', '--workers', '1', '--until-done')];
    const leader = begin('run', '--on-queue', '--export', 'shared-2', '--samples', '--json');
    await leader.printed('on the queue');
    const rows = JSON.stringify([await asked('select * from quay_work.job'), await asked('select * from quay_work.announced')]);
    const [{ code, stdout, stderr }, secondAlone] = await Promise.all([leader.ended, alone('alone-2')]);
    expect([code, secondAlone], stderr).toEqual([0, 0]);
    expect((JSON.parse(stdout) as { readonly unchanged: number }).unchanged).toBe(10);
    expect(told(path.join(folder, 'shared-2'))).toEqual(told(path.join(folder, 'alone-2')));
    const ends = await Promise.all(workers.map(({ ended }) => ended));
    const said = [stdout, stderr, rows, ...ends.flatMap((end) => [end.stdout, end.stderr])].join('\n');
    expect(rows).toContain('gloam-work/1');
    expect(said).not.toContain(PASSWORD);
    expect(said).not.toContain(KEY);
  });

  test('a machine that is not like the one that planned refuses, a group that fails each time is told as failed views', async () => {
    const other = folderWith({});
    cpSync(folder, other, { recursive: true, filter: (file) => !/shared|alone/.test(path.basename(file)) });
    writeFileSync(path.join(other, 'site', 'index.html'), page('<h1>Another quay</h1>'));
    const leader = begin('run', '--on-queue', '--page', 'log', '--json');
    await leader.printed('on the queue');
    const refused = start(other, ['work', '--workers', '1', '--until-done'], env);
    running.push(refused);
    const { code, stderr } = await refused.ended;
    expect(code).toBe(2);
    expect(stderr).toMatch(/this machine is not like the one that planned it[^]*files of the app: found one with the hash/);
    await leader.printed('does not take part');
    await using queue = await openPgBossQueue({ address, schema: 'quay', place: 'the tests', who: 'quay, process 1' });
    for (let tries = 1; tries <= 3;) {
      const taken = await queue.take(new Set());
      if (taken === null) continue;
      tries += 1;
      await queue.fail(taken, 'the pier gave way');
    }
    const ended = await leader.ended;
    expect(ended.code).toBe(3);
    const { failed, run } = JSON.parse(ended.stdout) as {
      readonly failed: readonly { readonly code: string; readonly error: string; readonly view: { readonly id: string } }[];
      readonly run: { readonly totals: { readonly failed: number } };
    };
    expect(failed.map((view) => [view.view.id, view.code])).toEqual([
      ['log@noon/rest/desk', 'group-given-up'],
      ['log@dusk/rest/desk', 'group-given-up'],
    ]);
    expect(failed[0]?.error).toBe('log@*/*/desk: given up after 3 tries, the last one: the pier gave way');
    expect(run.totals.failed).toBe(2);
  });

  test('a run that is ended by hand is closed with what there is; a worker hands back what it has and ends', async () => {
    const leader = begin('run', '--on-queue', '--anew');
    const worker = begin('work', '--workers', '1');
    await worker.printed(/\d views?, /);
    worker.kill('SIGTERM');
    expect(await worker.ended).toMatchObject({ code: 0 });
    leader.kill('SIGINT');
    const { code, stdout } = await leader.ended;
    expect([code, stdout]).toEqual([3, expect.stringContaining('Ended before the plan was done')]);
    const [run] = await asked<{ readonly state: string; readonly cut: number }>(
      'select state, cut from quay.run order by n desc limit 1',
    );
    expect(run).toEqual({ state: 'finished', cut: 1 });
  });

  test('two that lead at once share the workers, and each finds what one finds, also with pictures in a bucket', async () => {
    await using bucket = await startBucket();
    const inBucket = { ...env, GLOAM_STORE: `${address}?schema=pier`, GLOAM_BLOBS: bucket.address, ...bucket.env };
    const shared = (...args: readonly string[]): Started => {
      const process = start(folder, args, inBucket);
      running.push(process);
      return process;
    };
    expect(await alone('alone-3', 'alone-fresh')).toBe(0);
    const leaders = ['spring', 'neap'].map((label) =>
      shared('run', '--on-queue', '--label', label, '--export', `shared-${label}`, '--samples'),
    );
    for (const leader of leaders) await leader.printed('on the queue');
    const workers = [1, 2].map(() => shared('work', '--workers', '1', '--until-done'));
    const ends = await Promise.all([...leaders, ...workers].map(({ ended }) => ended));
    expect(
      ends.map(({ code }) => code),
      ends.map(({ stderr }) => stderr).join('\n'),
    ).toEqual([0, 0, 0, 0]);
    const one = timeless(told(path.join(folder, 'alone-3')));
    for (const label of ['spring', 'neap']) expect(timeless(told(path.join(folder, `shared-${label}`)))).toEqual(one);
    expect(
      await asked(`select r.label, count(*)::int as views, count(distinct v.view)::int as names
        from pier.run r join pier.run_view v on v.run = r.n where v.status = 'captured' group by r.label order by r.label`),
    ).toEqual(['neap', 'spring'].map((label) => ({ label, views: 10, names: 10 })));
    // Nothing of the pictures lies here, and no key anywhere.
    expect(existsSync(path.join(folder, '.gloam', 'pier'))).toBe(false);
    expect(ends.map(({ stdout, stderr }) => stdout + stderr).join('\n')).not.toContain(bucket.env['AWS_SECRET_ACCESS_KEY'] ?? '');
    const pruned = await shared('prune', '--keep', '1', '--json').ended;
    expect(JSON.parse(pruned.stdout)).toMatchObject({ kept: [expect.anything()], dropped: [expect.anything()] });
    expect(await shared('doctor').ended).toMatchObject({ code: 0 });
  });
});

test('a folder has no queue, and what speaks of this machine has no meaning on one', async () => {
  const folder = quayApp();
  const { code, stderr } = await gloam(folder, 'run', '--on-queue');
  expect([code, stderr]).toEqual([2, expect.stringMatching(/\.gloam: found a store that is a folder; expected a database/)]);
  expect((await gloam(folder, 'work')).stderr).toMatch(/found a store that is a folder/);
  expect((await gloam(folder, 'run', '--on-queue', '--workers', '2')).stderr).toMatch(/--workers has no meaning/);
});
