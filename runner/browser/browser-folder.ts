// One folder for all that browsers of this process put into the temporary folder. It is there before the first of them is, and its name says
// whose it is: whatever moment a process is ended at, nothing lies about of which nobody knows the owner.
import { AsyncLocalStorage } from 'node:async_hooks';
import { rmSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { nameOfOwner, thisProcess } from './process-owner.ts';

/** Of the folder's name; the owner follows. */
export const BROWSER_FOLDER = 'gloam-browser-';

/** As the driver sees it: what is put here is asked by it, and not by `import { tmpdir }` (Node's docs, `syncBuiltinESMExports`). */
const system = createRequire(import.meta.url)('node:os') as { tmpdir: () => string };
const within = new AsyncLocalStorage<string>();
let own: string | null = null;

/**
 * Runs what starts a browser: the driver's temporary folders come to lie in this process's own. The driver takes no word for where they go and
 * asks the system, so what it hears is changed, for what this call brings about and nothing else.
 */
export async function inBrowserFolder<T>(start: () => Promise<T>): Promise<T> {
  own ??= answerWithin();
  await mkdir(own, { recursive: true, mode: 0o700 });
  return within.run(own, start);
}

function answerWithin(): string {
  const outer = system.tmpdir;
  system.tmpdir = () => within.getStore() ?? outer();
  const folder = join(tmpdir(), BROWSER_FOLDER + nameOfOwner(thisProcess()));
  // What browsers left in it: a process that is ended from outside leaves it to the next.
  process.on('exit', () => {
    try {
      rmSync(folder, { recursive: true, force: true });
    } catch {
      // A browser still writes into it.
    }
  });
  return folder;
}
