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
}

export async function markProfile(folder: string): Promise<void> {
  const owner: Owner = { pid: process.pid, place: placeOfProcesses() };
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
    if (owner === null || owner.place !== place || isAlive(owner.pid)) continue;
    const isGone = await rm(profile, { recursive: true, force: true }).then(
      () => true,
      () => false,
    );
    if (isGone) count += 1;
  }
  return count;
}

async function ownerOf(profile: string): Promise<Owner | null> {
  try {
    const read: unknown = JSON.parse(await readFile(join(profile, MARK), 'utf8'));
    if (typeof read !== 'object' || read === null || !('pid' in read) || !('place' in read)) return null;
    const { pid, place } = read;
    return typeof pid === 'number' && typeof place === 'string' ? { pid, place } : null;
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
