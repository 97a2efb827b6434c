// A process that is ended from outside leaves what its browser put into the temporary folder; the next start of a browser clears that, and
// nothing that somebody alive or another program owns.
import { spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { mkdir, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { BROWSER_FOLDER } from '../../runner/browser/browser-folder.ts';
import { findBrowser } from '../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../runner/browser/launch-browser.ts';
import { clearOrphanedFolders } from '../../runner/browser/orphaned-folders.ts';
import { nameOfOwner, thisProcess } from '../../runner/browser/process-owner.ts';
import type { Owner } from '../../runner/browser/process-owner.ts';
import { quayApp, start } from '../cli/gloam.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'gloam-orphans-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** A process that does nothing until it is killed. @param args beyond what it runs */
function idle(...args: readonly string[]): ChildProcess {
  return spawn(process.execPath, ['-e', 'setInterval(() => {}, 1000)', '--', ...args], { stdio: 'ignore' });
}

async function killed(child: ChildProcess): Promise<number> {
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGKILL');
  await gone;
  return child.pid ?? 0;
}

const nameFor = (owner: Owner): string => BROWSER_FOLDER + nameOfOwner(owner);

test('what no living process owns goes, and nothing else', async () => {
  const mine = thisProcess();
  const pid = await killed(idle());
  const place = mine.place.startsWith('0') ? '1'.repeat(8) : '0'.repeat(8);
  const stays = [
    nameFor(mine),
    // The same number on another machine, or before this one was started anew, says nothing.
    nameFor({ ...mine, pid, place }),
    // Not a name of ours.
    'playwright_chromiumdev_profile-berth',
    `${BROWSER_FOLDER}harbour`,
    `${nameFor({ ...mine, pid })}-copy`,
  ];
  const goes = [
    nameFor({ ...mine, pid }),
    // Its number was given to somebody else: only where the system tells when a process was started.
    ...(process.platform === 'linux' ? [nameFor({ ...mine, start: '1' })] : []),
  ];
  for (const name of [...stays, ...goes]) await mkdir(path.join(folder, name, 'profile', 'Default'), { recursive: true });

  expect(await clearOrphanedFolders(folder)).toBe(goes.length);
  expect((await readdir(folder)).sort()).toEqual([...stays].sort());
});

test.runIf(process.platform === 'linux')('a browser that outlives its owner is ended before its folder goes', async () => {
  const orphan = path.join(folder, nameFor({ ...thisProcess(), pid: await killed(idle()) }));
  await mkdir(path.join(orphan, 'profile'), { recursive: true });
  // Stands for a browser that is held up by a page and does not see that nobody speaks to it any more.
  const heldUp = idle(`--user-data-dir=${path.join(orphan, 'profile')}`, '--no-first-run');
  // Looks into the folder, and is no browser of ours.
  const reader = idle(orphan);
  const ended = new Promise((resolve) =>
    heldUp.once('exit', (_, signal) => {
      resolve(signal);
    }),
  );
  await clearOrphanedFolders(folder);
  expect(await ended).toBe('SIGKILL');
  expect(await readdir(folder)).not.toContain(path.basename(orphan));
  expect(reader.exitCode ?? reader.signalCode).toBe(null);
  await killed(reader);
});

test('all that a browser puts into the temporary folder lies in the folder of its process', async () => {
  const own = path.join(tmpdir(), nameFor(thisProcess()));
  const browser = await launchBrowser(await findBrowser(process.env));
  const kinds = (await readdir(own)).map((name) => name.replace(/-\w+$/u, ''));
  expect(kinds).toEqual(expect.arrayContaining(['playwright-artifacts', 'playwright_chromiumdev_profile']));
  // It runs, and is ours: nobody clears it.
  await clearOrphanedFolders();
  expect((await readdir(own)).length).toBe(kinds.length);
  await browser.close();
});

/** `GLOAM_KILLED_RUNS` tries more moments. */
const KILLED_RUNS = Number(process.env['GLOAM_KILLED_RUNS'] ?? 5);
/** After the first thing lies in the temporary folder; a browser is there after a third of this, and a page after two. */
const LATEST_MS = 1_500;

test.runIf(process.platform === 'linux')(
  'whenever runs are killed, the next one leaves nothing in the temporary folder',
  async () => {
    const app = quayApp();
    const temporary = await mkdtemp(path.join(folder, 'temporary-'));
    const env = { TMPDIR: temporary, NODE_DISABLE_COMPILE_CACHE: '1' };
    const lies = async (): Promise<readonly string[]> => readdir(temporary);
    let left = 0;
    for (let i = 0; i < KILLED_RUNS; i += 1) {
      const before = await lies();
      const run = start(app, ['run', '--anew'], env);
      await expect
        .poll(async () => (await lies()).some((name) => !before.includes(name)), { interval: 2, timeout: 60_000 })
        .toBe(true);
      // The first moments are those in which a folder is there and its owner is not known yet, if ever.
      await pause(LATEST_MS * (i / KILLED_RUNS) ** 2);
      run.kill('SIGKILL');
      await run.ended;
      left = Math.max(left, (await lies()).length);
    }
    // Otherwise nothing was proved.
    expect(left).toBeGreaterThan(0);
    expect((await start(app, ['run'], env).ended).stderr).not.toContain('a fault of gloam');
    expect(await readdir(temporary)).toEqual([]);
    await rm(app, { recursive: true, force: true });
  },
  300_000,
);
