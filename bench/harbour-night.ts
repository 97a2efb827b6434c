// One night of gloam on the demo app, as a user starts it.
import { spawn } from 'node:child_process';
import path from 'node:path';

/** This file runs as dist/bench/harbour-night.js. */
export const ROOT = path.resolve(import.meta.dirname, '..', '..');
export const HARBOUR = path.join(ROOT, 'scenarios', 'harbour');

/** @param more options of `gloam run` @returns milliseconds */
export function runHarbour(store: string, ...more: readonly string[]): Promise<number> {
  return nightOn(path.join(HARBOUR, 'gloam.config.json'), store, ...more);
}

export function nightOn(configuration: string, store: string, ...more: readonly string[]): Promise<number> {
  const main = path.join(ROOT, 'dist', 'cli', 'main.js');
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
