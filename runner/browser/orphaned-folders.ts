// What browsers of ended processes left in the temporary folder: the next start of a browser clears it.
import { readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, sep } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { BROWSER_FOLDER } from './browser-folder.ts';
import { isGone, ownerNamed } from './process-owner.ts';

/** A browser ends by itself soon after its owner; one that a page holds up does not (ours: the first takes a tenth of this). */
const ENDS_MS = 2_000;
const LOOK_MS = 50;

/**
 * Removes folders whose owner is gone, and ends browsers that still run in them. Everything else belongs to others and stays.
 * @returns how many went; does not throw
 */
export async function clearOrphanedFolders(temporary = tmpdir()): Promise<number> {
  const names = await readdir(temporary).catch(() => []);
  const orphans = names.filter((name) => {
    const owner = name.startsWith(BROWSER_FOLDER) ? ownerNamed(name.slice(BROWSER_FOLDER.length)) : null;
    return owner !== null && isGone(owner);
  });
  const cleared = await Promise.all(orphans.map((name) => clear(join(temporary, name))));
  return cleared.filter(Boolean).length;
}

async function clear(folder: string): Promise<boolean> {
  try {
    await endThoseIn(folder);
    await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
    return true;
  } catch {
    // Somebody else's, or still written into: the next start tries again.
    return false;
  }
}

/** Browsers and their helpers, which would write into what was cleared. */
async function endThoseIn(folder: string): Promise<void> {
  const until = performance.now() + ENDS_MS;
  for (;;) {
    const pids = await processesIn(folder);
    if (pids.length === 0) return;
    if (performance.now() > until) for (const pid of pids) process.kill(pid, 'SIGKILL');
    await pause(LOOK_MS);
    if (performance.now() > 2 * ENDS_MS + until) return;
  }
}

/** Whose profile lies in it, where the system tells (proc(5): arguments are parted by NUL, or by spaces where a process wrote them anew). */
async function processesIn(folder: string): Promise<readonly number[]> {
  const pids = (await readdir('/proc').catch(() => [])).filter((name) => /^\d+$/u.test(name));
  const lines = await Promise.all(pids.map((pid) => readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '')));
  return pids.filter((_, i) => lines[i]?.includes(`--user-data-dir=${folder}${sep}`) === true).map(Number);
}
