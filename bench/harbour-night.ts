// One night of gloam, as a user starts it.
import { spawn } from 'node:child_process';
import path from 'node:path';

const HERE = import.meta.dirname;
/** This file runs as dist/bench/harbour-night.js; tests load it as it stands. */
export const ROOT = path.resolve(HERE, path.basename(path.dirname(HERE)) === 'dist' ? '../..' : '..');
export const HARBOUR = path.join(ROOT, 'scenarios', 'harbour');
export const MAIN = path.join(ROOT, 'dist', 'cli', 'main.js');

interface Ways {
  /** The command line that is started; this checkout's unless set. */
  readonly main?: string;
  /** Options of `gloam run`. */
  readonly more?: readonly string[];
}

/** @returns milliseconds @throws Error it ended otherwise than with 0 */
export function nightOn(configuration: string, store: string, { main = MAIN, more = [] }: Ways = {}): Promise<number> {
  const args = [main, 'run', '--config', configuration, '--store', store, ...more];
  return new Promise((resolve, reject) => {
    const start = performance.now();
    const child = spawn(process.execPath, args, { stdio: 'ignore' });
    child.on('error', reject);
    child.on('exit', (code) => {
      if (code === 0) resolve(performance.now() - start);
      else reject(new Error(`gloam run ended with ${String(code)}`));
    });
  });
}
