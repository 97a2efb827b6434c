// A PostgreSQL of the tests' and benches' own: made in a temporary folder, on a free port of loopback, ended and removed afterwards.
import { execFile, spawn } from 'node:child_process';
import { chown, mkdtemp, readdir, rm } from 'node:fs/promises';
import { existsSync, readdirSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir, userInfo } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);

export interface Cluster extends AsyncDisposable {
  readonly address: string;
  /** As after a power cut, or a planned restart. */
  restart(how: 'immediate' | 'fast'): Promise<void>;
  stop(how: 'immediate' | 'fast'): Promise<void>;
  start(): Promise<void>;
}

/** Folder of `initdb` and `pg_ctl`; null where PostgreSQL is not installed. `GLOAM_TEST_PG_BIN` names another. */
export function postgresPrograms(): string | null {
  const versions = '/usr/lib/postgresql';
  const installed = existsSync(versions)
    ? readdirSync(versions)
        .sort((a, b) => Number(b) - Number(a))
        .map((version) => path.join(versions, version, 'bin'))
    : [];
  const places = [process.env['GLOAM_TEST_PG_BIN'], ...installed, ...(process.env['PATH'] ?? '').split(path.delimiter)];
  return places.find((place) => place !== undefined && place !== '' && existsSync(path.join(place, 'initdb'))) ?? null;
}

/** The server refuses to be run by root: then it is run by the user that came with its package, else by nobody. */
async function owner(): Promise<{ readonly uid?: number; readonly gid?: number }> {
  if (userInfo().uid !== 0) return {};
  const idOf = async (which: string): Promise<number> => {
    const { stdout } = await run('id', [which, 'postgres']).catch(() => run('id', [which, 'nobody']));
    return Number(stdout);
  };
  const [uid, gid] = await Promise.all(['-u', '-g'].map(idOf));
  return { ...(uid === undefined ? {} : { uid }), ...(gid === undefined ? {} : { gid }) };
}

export async function startCluster(programs: string): Promise<Cluster> {
  const as = await owner();
  const folder = await mkdtemp(path.join(tmpdir(), 'gloam-pg-'));
  if (as.uid !== undefined && as.gid !== undefined) await chown(folder, as.uid, as.gid);
  const data = path.join(folder, 'data');
  const port = await freePort();
  const call = (program: string, args: readonly string[]): Promise<unknown> =>
    run(path.join(programs, program), [...args], { ...as, cwd: folder, env: { PATH: process.env['PATH'], LC_ALL: 'C' } });
  await call('initdb', ['-D', data, '-U', 'tide', '-A', 'trust', '-E', 'UTF8', '--no-sync']);
  const settings = [`-p ${String(port)}`, '-h 127.0.0.1', `-k ${folder}`, '-c fsync=off', '-c max_connections=200'].join(' ');
  const start = async (): Promise<void> => {
    // Its log goes to a file: a pipe of ours would be held open by the server.
    const started = spawn(
      path.join(programs, 'pg_ctl'),
      ['-D', data, '-w', '-t', '60', '-l', path.join(folder, 'log'), '-o', settings, 'start'],
      { ...as, cwd: folder, stdio: 'ignore', env: { PATH: process.env['PATH'], LC_ALL: 'C' } },
    );
    const code = await new Promise((resolve) => started.on('close', resolve));
    if (code !== 0) throw new Error(`PostgreSQL did not start: see ${folder}/log (${(await readdir(folder)).join(', ')})`);
  };
  const stop = async (how: 'immediate' | 'fast'): Promise<void> => {
    await call('pg_ctl', ['-D', data, '-w', '-m', how, 'stop']);
  };
  await start();
  return {
    address: `postgres://tide@127.0.0.1:${String(port)}/postgres`,
    start,
    stop,
    restart: async (how) => {
      await stop(how);
      await start();
    },
    [Symbol.asyncDispose]: async () => {
      await stop('immediate').catch(() => undefined);
      await rm(folder, { recursive: true, force: true });
    },
  };
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}
