// Machines that share runs while things break at random: workers and whoever leads are killed or stand still for a while, connections are
// cut, the database restarts or loses its power, pictures are away or slow, their disk is full, clocks jump. Pictures lie in a folder, or in
// a bucket where `GLOAM_KILLS_BLOBS=bucket`; disks are filled where a small one can be mounted (Linux, as root), and clocks jump where
// libfaketime is installed (Debian: faketime). After each run: is every view stored once, are its findings
// and files there, and did the run end or say why? `GLOAM_KILLS` faults (200 unless set), one in each `GLOAM_KILLS_APART` seconds (5), at most `GLOAM_KILLS_MINUTES` minutes (40).
// Needs PostgreSQL and a built gloam; everything it makes lies in a temporary folder.
import { execFile, spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rename, rm, statfs, writeFile } from 'node:fs/promises';
import { tmpdir, userInfo } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import pg from 'pg';
import { findBrowser } from '../runner/browser/find-browser.ts';
import { startBucket } from './bucket.ts';
import type { BucketServer } from './bucket.ts';
import { postgresPrograms, startCluster } from './cluster.ts';
import type { Cluster } from './cluster.ts';

/** What clocks are moved with; Debian's place, and that of other Linuxes. */
const FAKETIME = ['/usr/lib/x86_64-linux-gnu', '/usr/lib/aarch64-linux-gnu', '/usr/lib', '/usr/lib64']
  .map((folder) => `${folder}/faketime/libfaketime.so.1`)
  .find((file) => existsSync(file));
const DISK_MB = 64;

const MAIN = path.resolve(import.meta.dirname, '..', 'cli', 'main.js');
const PAGES = 24;
const VIEWS = PAGES * 2;
const WORKERS = 2;
const SEED = Number(process.env['GLOAM_SEED'] ?? 20261128);
const WANTED = Number(process.env['GLOAM_KILLS'] ?? 200);
const MOST_MS = Number(process.env['GLOAM_KILLS_MINUTES'] ?? 40) * 60_000;
/** Between two faults: from at once to this. Much less, and no group is ever done in three tries. */
const BETWEEN_MS = Number(process.env['GLOAM_KILLS_APART'] ?? 5) * 2_000;
/** A run that takes longer hangs, which is what must not be. */
const RUN_MS = 8 * 60_000;

interface Running {
  readonly process: ChildProcess;
  readonly ended: Promise<{ readonly code: number | null; readonly said: string }>;
}

export async function kills(): Promise<void> {
  const programs = postgresPrograms();
  if (programs === null) throw new Error('PostgreSQL is not installed');
  const folder = await mkdtemp(path.join(tmpdir(), 'gloam-kills-'));
  await using cluster = await startCluster(programs);
  const bucket = process.env['GLOAM_KILLS_BLOBS'] === 'bucket' ? await startBucket() : null;
  const disk = bucket === null && process.platform === 'linux' && userInfo().uid === 0 ? path.join(folder, 'disk') : null;
  try {
    await makeApp(folder);
    if (disk !== null) {
      await mkdir(disk);
      await promisify(execFile)('mount', ['-t', 'tmpfs', '-o', `size=${String(DISK_MB)}m`, 'tmpfs', disk]);
    }
    if (disk === null && bucket === null) console.log('No disk is filled: a small one can be mounted by root on Linux alone.');
    if (FAKETIME === undefined) console.log('No clock jumps: libfaketime is not installed.');
    await breakRuns(folder, cluster, { bucket, disk });
  } finally {
    await bucket?.[Symbol.asyncDispose]();
    if (disk !== null) await promisify(execFile)('umount', ['-l', disk]).catch(() => undefined);
    await rm(folder, { recursive: true, force: true });
  }
}

async function makeApp(folder: string): Promise<void> {
  await mkdir(path.join(folder, 'site'), { recursive: true });
  const pages = Array.from({ length: PAGES }, (_, i) => `berth-${String(i)}`);
  for (const [i, name] of pages.entries()) {
    const rows = '<p>High water at the pier</p>'.repeat(1 + (i % 7));
    const html = `<!doctype html><html lang="en"><meta charset="utf-8"><title>${name}</title><style>html { background: #fff; color: #111 } html.dusk { background: #101418; color: #eee } .weak { color: #999 }</style><h1>${name}</h1><p class="weak">Low water</p>${rows}`;
    await writeFile(path.join(folder, 'site', `${name}.html`), html);
  }
  const config = {
    app: { serve: 'site' },
    pages: pages.map((name) => ({ path: `/${name}.html`, name })),
    themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
  };
  await writeFile(path.join(folder, 'gloam.config.json'), JSON.stringify(config));
}

async function breakRuns(
  folder: string,
  cluster: Cluster,
  { bucket, disk }: { readonly bucket: BucketServer | null; readonly disk: string | null },
): Promise<void> {
  const blobs = path.join(disk ?? folder, 'shared');
  const clock = path.join(folder, 'clock');
  await writeFile(clock, '+0s');
  const browser = FAKETIME === undefined ? null : await browserInTime(folder);
  const env = {
    ...process.env,
    ...{ NO_COLOR: '1', GLOAM_STORE: `${cluster.address}?schema=quay`, GLOAM_BLOBS: bucket?.address ?? blobs },
    ...bucket?.env,
    ...(FAKETIME === undefined || browser === null
      ? {}
      : {
          GLOAM_BROWSER: browser,
          LD_PRELOAD: FAKETIME,
          FAKETIME_TIMESTAMP_FILE: clock,
          FAKETIME_CACHE_DURATION: '1',
          // A clock that is set is not the one that measures.
          FAKETIME_DONT_FAKE_MONOTONIC: '1',
        }),
  };
  const begin = (...args: readonly string[]): Running => {
    // A group of its own: a browser goes with the process that started it.
    const child = spawn(process.execPath, [MAIN, ...args], { cwd: folder, env, stdio: ['ignore', 'pipe', 'pipe'], detached: true });
    let said = '';
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => (said += chunk.toString()));
    const ended = new Promise<{ code: number | null; said: string }>((resolve) => {
      child.on('close', (code) => {
        resolve({ code, said });
      });
    });
    return { process: child, ended };
  };
  const kill = async (running: Running): Promise<void> => {
    if (running.process.pid !== undefined) {
      try {
        process.kill(-running.process.pid, 'SIGKILL');
      } catch {
        // It has ended by itself.
      }
    }
    await running.ended;
  };
  let state = SEED;
  const chance = (): number => {
    // Numerical Recipes' generator of 32 bits.
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const crew = Array.from({ length: WORKERS }, () => begin('work', '--workers', '1'));
  let leader = begin('run', '--on-queue', '--anew');
  const done = new Map<string, number>();
  const count = (what: string): void => void done.set(what, (done.get(what) ?? 0) + 1);
  const all = (): number => [...done.values()].reduce((sum, n) => sum + n, 0);

  const faults: readonly (readonly [share: number, name: string, act: () => Promise<void>])[] = [
    [
      0.35,
      'worker killed',
      async () => {
        const place = Math.floor(chance() * WORKERS);
        const [lost] = crew.splice(place, 1);
        if (lost !== undefined) await kill(lost);
        crew.push(begin('work', '--workers', '1'));
      },
    ],
    [
      0.15,
      'leader killed',
      async () => {
        await kill(leader);
        leader = begin('run', '--on-queue', '--resume');
      },
    ],
    [
      0.15,
      'connections cut',
      async () => {
        await asked(
          cluster,
          'select pg_terminate_backend(pid) from pg_stat_activity where pid <> pg_backend_pid() and datname = current_database()',
        );
      },
    ],
    [0.07, 'database lost its power', () => cluster.restart('immediate')],
    [0.05, 'database restarted', () => cluster.restart('fast')],
    [
      0.07,
      'worker stood still',
      async () => {
        const pid = crew[0]?.process.pid;
        if (pid === undefined) return;
        try {
          process.kill(pid, 'SIGSTOP');
          await pause(2_000 + chance() * 12_000);
          process.kill(pid, 'SIGCONT');
        } catch {
          // It has ended.
        }
      },
    ],
    [
      0.06,
      'pictures away',
      async () => {
        if (bucket !== null) {
          await bucket.stop();
          await pause(500 + chance() * 6_000);
          await bucket.start();
          return;
        }
        await rename(blobs, `${blobs}-away`).catch(() => undefined);
        await writeFile(blobs, 'no folder').catch(() => undefined);
        await pause(500 + chance() * 2_000);
        await rm(blobs, { force: true, recursive: true });
        await rename(`${blobs}-away`, blobs).catch(() => undefined);
      },
    ],
    ...(bucket === null ? [] : [[0.06, 'pictures slow', () => bucket.stall(1_000 + chance() * 9_000)] as const]),
    ...(disk === null
      ? []
      : [
          [
            0.05,
            'disk of pictures full',
            async () => {
              const ballast = path.join(disk, 'ballast');
              const { bavail, bsize } = await statfs(disk);
              await writeFile(ballast, Buffer.alloc(bavail * bsize)).catch(() => undefined);
              await pause(500 + chance() * 4_000);
              await rm(ballast, { force: true });
            },
          ] as const,
        ]),
    ...(FAKETIME === undefined || browser === null
      ? []
      : [
          [
            0.05,
            'clock jumped',
            async () => {
              await writeFile(clock, `${chance() < 0.5 ? '+' : '-'}${String(Math.floor(chance() * 50 * 3600))}s`);
            },
          ] as const,
        ]),
  ];

  const from = performance.now();
  const ends = new Map<string, number>();
  let runs = 0;
  let failedViews = 0;
  const wrong: string[] = [];
  let runFrom = performance.now();
  const next = async (): Promise<void> => {
    const { code, said } = await leader.ended;
    const last = said.trim().split('\n').slice(-12).join(' / ');
    ends.set(`leader ended with ${String(code)}`, (ends.get(`leader ended with ${String(code)}`) ?? 0) + 1);
    const row = await lastRun(cluster);
    if (row?.state === 'finished') {
      runs += 1;
      failedViews += row.failed;
      wrong.push(...(await faultsOf(cluster, row)));
      runFrom = performance.now();
      leader = begin('run', '--on-queue', '--anew');
    } else {
      // It gave up: it has to say why, and may be led on.
      if (/Node\.js v\d/u.test(said) || !/gloam: /u.test(said))
        wrong.push(`a leader ended with ${String(code)} without saying why: ${last}`);
      console.log(`  led on after: ${last.slice(0, 200)}`);
      // Killed before it began a run, there is none to lead on.
      leader = /no run of this store was cut off/u.test(said)
        ? begin('run', '--on-queue', '--anew')
        : begin('run', '--on-queue', '--resume');
    }
  };
  while (all() < WANTED && performance.now() - from < MOST_MS) {
    await pause(chance() * BETWEEN_MS);
    if (leader.process.exitCode !== null) await next();
    for (const [i, worker] of crew.entries()) {
      if (worker.process.exitCode === null) continue;
      wrong.push(`a worker ended by itself: ${(await worker.ended).said.trim().split('\n').slice(-6).join(' / ')}`);
      crew[i] = begin('work', '--workers', '1');
    }
    if (performance.now() - runFrom > RUN_MS) {
      wrong.push('a run did not end');
      break;
    }
    let pick = chance() * faults.reduce((sum, [part]) => sum + part, 0);
    for (const [part, name, act] of faults) {
      pick -= part;
      if (pick >= 0) continue;
      await act();
      count(name);
      break;
    }
  }
  // The last run is left in peace, and has to come to its end.
  for (let tries = 0; tries < 5; tries += 1) {
    await Promise.race([leader.ended, pause(RUN_MS, undefined, { ref: false })]);
    if (leader.process.exitCode === null) {
      wrong.push('the last run did not end');
      break;
    }
    const before = runs;
    await next();
    if (runs > before) break;
  }
  await kill(leader);
  for (const worker of crew) await kill(worker);
  const { said } = await begin('doctor').ended;
  // Files that nobody came to name are what killed workers leave; prune takes them in time.
  for (const told of said.match(/^[a-z-]+: .*$/gmu) ?? [])
    if (!told.startsWith('unknown-file: ')) wrong.push(`the doctor: ${told}`);
  if (!/\d+ runs?, \d+ files?/u.test(said)) wrong.push(`the doctor did not come to its end: ${said.trim()}`);
  console.log(`${String(all())} faults in ${((performance.now() - from) / 60_000).toFixed(1)} minutes (seed ${String(SEED)}):`);
  for (const [what, n] of [...done].sort((a, b) => b[1] - a[1])) console.log(`  ${String(n).padStart(4)}  ${what}`);
  console.log(
    `${String(runs)} runs of ${String(VIEWS)} views came to their end; ${String(failedViews)} views were told as failed.`,
  );
  for (const [what, n] of ends) console.log(`  ${String(n).padStart(4)}  ${what}`);
  console.log(wrong.length === 0 ? 'No view lost, none twice; every end said why.' : `WRONG:\n  ${wrong.join('\n  ')}`);
  if (wrong.length > 0) process.exitCode = 1;
}

/** The browser is left out of it: it does not start with that library. @returns null where it is not the system's */
async function browserInTime(folder: string): Promise<string | null> {
  const { path: program } = await findBrowser(process.env);
  if (program === undefined) return null;
  const script = path.join(folder, 'browser');
  await writeFile(script, `#!/bin/sh\nunset LD_PRELOAD\nexec '${program}' "$@"\n`, { mode: 0o755 });
  return script;
}

interface RunRow {
  readonly n: number;
  readonly id: string;
  readonly state: string;
  readonly failed: number;
}

async function lastRun(cluster: Cluster): Promise<RunRow | undefined> {
  const rows = await asked<RunRow>(
    cluster,
    `select n, id, state, (select count(*)::int from quay.run_view where run = n and status = 'failed') as failed
     from quay.run order by n desc limit 1`,
  ).catch(() => []);
  return rows[0];
}

/** Every view of the plan is there once, with findings that were stored, and its files; nothing is left in the queue. */
async function faultsOf(cluster: Cluster, { n, id }: RunRow): Promise<readonly string[]> {
  const [row] = await asked<{
    readonly views: number;
    readonly names: number;
    readonly owed: number;
    readonly bare: number;
    readonly why: number;
  }>(
    cluster,
    `select count(*)::int as views, count(distinct view)::int as names, count(*) filter (where status = 'planned')::int as owed,
       count(*) filter (where status = 'captured' and (sheet is null or shot is null or samples is null))::int as bare,
       count(*) filter (where status = 'failed' and error is null)::int as why
     from quay.run_view where run = ${String(n)} and status <> 'files'`,
  );
  const [left] = await asked<{ readonly jobs: number }>(
    cluster,
    `select count(*)::int as jobs from quay_work.job where name = '${id}'`,
  );
  const found = JSON.stringify({ ...row, ...left });
  const expected = JSON.stringify({ views: VIEWS, names: VIEWS, owed: 0, bare: 0, why: 0, jobs: 0 });
  return found === expected ? [] : [`run ${id}: found ${found}; expected ${expected}`];
}

async function asked<T extends pg.QueryResultRow>(cluster: Cluster, text: string): Promise<readonly T[]> {
  const client = new pg.Client({ connectionString: cluster.address });
  client.on('error', () => undefined);
  await client.connect();
  try {
    return (await client.query<T>(text)).rows;
  } finally {
    await client.end();
  }
}
