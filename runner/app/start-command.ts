// Starts the app under test with its own command and ends it with everything it started.
import type { ChildProcess } from 'node:child_process';
import { spawn } from 'node:child_process';
import { setTimeout as pause } from 'node:timers/promises';
import { appStartFailed, appUnreachable } from '../../src/errors/capture-errors.ts';

export interface StartedApp {
  close(): Promise<void>;
}

const WAIT_MS = 60_000;
/** Time between a polite and a hard end. */
const GRACE_MS = 5_000;
const KEPT_OUTPUT = 2_000;

/**
 * Runs the command in a shell and waits until `url` answers.
 * @throws GloamError `app-start-failed` when the command ends first, `app-unreachable` after a minute
 */
export async function startCommand(
  source: { readonly command: string; readonly url: string; readonly cwd: string },
  signal: AbortSignal,
  waitMs = WAIT_MS,
): Promise<StartedApp> {
  signal.throwIfAborted();
  const early = await reachable(source.url);
  if (early === null)
    throw appStartFailed(source.command, `was not started: ${source.url} is already served by something else`, '');

  // Its own process group, so that what a shell or package script starts ends with it.
  const child = spawn(source.command, { cwd: source.cwd, shell: true, detached: process.platform !== 'win32', stdio: 'pipe' });
  let output = '';
  const keep = (chunk: Buffer): void => {
    output = (output + chunk.toString('utf8')).slice(-KEPT_OUTPUT);
  };
  child.stdout.on('data', keep);
  child.stderr.on('data', keep);
  let ended: string | null = null;
  const exited = new Promise<void>((resolve) => {
    child.on('exit', (code, by) => {
      ended = by === null ? `ended with exit code ${String(code)}` : `was ended by ${by}`;
      resolve();
    });
    child.on('error', (error) => {
      ended = `could not be started: ${error.message}`;
      resolve();
    });
  });
  const close = async (): Promise<void> => {
    await endGroup(child, exited);
  };

  const deadline = Date.now() + waitMs;
  try {
    for (;;) {
      signal.throwIfAborted();
      const why = await reachable(source.url);
      // A read of `ended` after an await: the compiler cannot see the handler above.
      const end = ended as string | null;
      if (end !== null) throw appStartFailed(source.command, end, output.trim());
      if (why === null) return { close };
      if (Date.now() > deadline) throw appUnreachable(source.url, `${why} (waited ${waitMs} ms for "${source.command}")`, true);
      await pause(100, undefined, { signal });
    }
  } catch (error) {
    await close();
    throw error;
  }
}

/** Any answer, also an error page, means that the server runs. @returns null when reachable, else why not */
export async function reachable(url: string): Promise<string | null> {
  try {
    const answer = await fetch(url, { redirect: 'manual', signal: AbortSignal.timeout(5_000) });
    await answer.body?.cancel();
    return null;
  } catch (error) {
    if (!(error instanceof Error)) return String(error);
    return error.cause instanceof Error ? error.cause.message : error.message;
  }
}

async function endGroup(child: ChildProcess, exited: Promise<void>): Promise<void> {
  const { pid } = child;
  if (pid === undefined) return;
  const send = (name: 'SIGTERM' | 'SIGKILL'): boolean => {
    try {
      if (process.platform === 'win32') return child.kill(name);
      return process.kill(-pid, name);
    } catch {
      // The group is gone.
      return false;
    }
  };
  const groupLives = (): boolean => {
    try {
      return process.kill(-pid, 0);
    } catch {
      return false;
    }
  };
  send('SIGTERM');
  const deadline = Date.now() + GRACE_MS;
  while (groupLives() && Date.now() < deadline) await pause(25);
  send('SIGKILL');
  await exited;
}
