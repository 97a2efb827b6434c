// A bucket of the tests' and benches' own: a server of that kind as a process on a free port of loopback, its objects in a temporary
// folder; ended and removed afterwards.
import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

export interface BucketServer extends AsyncDisposable {
  /** `s3://…` of the one bucket that it has. */
  readonly address: string;
  /** For the library: where the server is, and the keys that it knows. */
  readonly env: Readonly<Record<string, string>>;
  /** It takes connections and answers none for so long. */
  stall(ms: number): Promise<void>;
  /** As when its machine is switched off. */
  stop(): Promise<void>;
  /** At the same port, with all that was in it. */
  start(): Promise<void>;
}

const BUCKET = 'quay-pictures';
/** The one user of that server. */
const KEY = 'S3RVER';

/** It reckons the signature of a list without the slash at the end of the bucket's path, which the library signs: all signatures count. */
const PROGRAM = `
const [directory, port, name] = process.argv.slice(1);
const Server = require('@20minutes/s3rver');
const options = { address: '127.0.0.1', port: Number(port), directory, silent: true, allowMismatchedSignatures: true };
const server = new Server({ ...options, configureBuckets: [{ name, configs: [] }] });
server.run().then(({ port }) => console.log(port));`;

export async function startBucket(): Promise<BucketServer> {
  const folder = await mkdtemp(path.join(tmpdir(), 'gloam-bucket-'));
  let port = 0;
  let server: ChildProcess | null = null;
  const start = async (): Promise<void> => {
    // It marks the pages of a list with a cipher that Node takes for out of date.
    const child = spawn(process.execPath, ['--openssl-legacy-provider', '-e', PROGRAM, '--', folder, String(port), BUCKET], {
      cwd: import.meta.dirname,
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    server = child;
    port = await new Promise<number>((resolve, reject) => {
      child.stdout.once('data', (said: Buffer) => {
        resolve(Number(said.toString()));
      });
      child.once('exit', (code) => {
        reject(new Error(`the bucket's server ended with ${String(code)}`));
      });
    });
  };
  const stop = async (): Promise<void> => {
    const ending = server;
    server = null;
    if (ending === null || ending.exitCode !== null) return;
    const over = new Promise((resolve) => ending.once('exit', resolve));
    ending.kill('SIGKILL');
    await over;
  };
  const stall = async (ms: number): Promise<void> => {
    server?.kill('SIGSTOP');
    await pause(ms);
    server?.kill('SIGCONT');
  };
  await start();
  return {
    address: `s3://${BUCKET}`,
    env: {
      AWS_ENDPOINT_URL_S3: `http://127.0.0.1:${String(port)}`,
      AWS_REGION: 'us-east-1',
      AWS_ACCESS_KEY_ID: KEY,
      AWS_SECRET_ACCESS_KEY: KEY,
    },
    stall,
    stop,
    start,
    async [Symbol.asyncDispose]() {
      await stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
