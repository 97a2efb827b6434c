// Temporary profiles of browsers that a killed run left behind. Each profile says whose it is; the next run clears what no living
// process owns.
import { readFileSync, readlinkSync } from 'node:fs';
import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';

/** As the browser driver names them. */
const PROFILE = /^playwright_\w+dev_profile-/u;
const MARK = 'gloam-owner.json';

/** Process numbers mean something within one name space of one start of a machine only. */
export interface Owner {
  readonly pid: number;
  readonly place: string;
  /** Of the browser, which outlives its owner by moments and writes into what was cleared. */
  readonly browser?: number;
}

export async function markProfile(folder: string, browser?: number): Promise<void> {
  const owner: Owner = { pid: process.pid, place: placeOfProcesses(), ...(browser === undefined ? {} : { browser }) };
  await writeFile(join(folder, MARK), JSON.stringify(owner));
}

/**
 * Removes profiles whose owner is gone. Profiles without our mark belong to others and stay.
 * @returns how many went; does not throw
 */
export async function clearOrphanedProfiles(folder = tmpdir()): Promise<number> {
  const names = await readdir(folder).catch(() => []);
  const place = placeOfProcesses();
  let count = 0;
  for (const name of names.filter((each) => PROFILE.test(each))) {
    const profile = join(folder, name);
    const owner = await ownerOf(profile);
    if (owner === null || owner.place !== place || [owner.pid, owner.browser ?? owner.pid].some(isAlive)) continue;
    // The browser's helpers end later than itself.
    if ((await commandLines()).some((line) => line.includes(profile))) continue;
    const isGone = await rm(profile, { recursive: true, force: true, maxRetries: 3, retryDelay: 100 }).then(
      () => true,
      () => false,
    );
    if (isGone) count += 1;
    // Somebody still wrote into it: the mark is there for the next run.
    else await writeFile(join(profile, MARK), JSON.stringify(owner)).catch(() => undefined);
  }
  return count;
}

/** Of all processes, where the system tells (proc(5)). */
async function commandLines(): Promise<readonly string[]> {
  const pids = (await readdir('/proc').catch(() => [])).filter((name) => /^\d+$/u.test(name));
  return Promise.all(pids.map((pid) => readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '')));
}

async function ownerOf(profile: string): Promise<Owner | null> {
  try {
    const read: unknown = JSON.parse(await readFile(join(profile, MARK), 'utf8'));
    if (typeof read !== 'object' || read === null || !('pid' in read) || !('place' in read)) return null;
    const { pid, place } = read;
    const browser = 'browser' in read && typeof read.browser === 'number' ? { browser: read.browser } : {};
    return typeof pid === 'number' && typeof place === 'string' ? { pid, place, ...browser } : null;
  } catch {
    return null;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Somebody else's process is alive too.
    return error instanceof Error && 'code' in error && error.code !== 'ESRCH';
  }
}

function placeOfProcesses(): string {
  const facts = [() => readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim(), () => readlinkSync('/proc/self/ns/pid')];
  return [hostname(), ...facts.map(readOrNothing)].join(' ');
}

function readOrNothing(read: () => string): string {
  try {
    return read();
  } catch {
    return '';
  }
}
