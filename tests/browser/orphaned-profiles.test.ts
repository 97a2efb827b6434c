// A process that is ended from outside leaves its browser's profile behind; the next start of a browser clears that one, and none that
// somebody alive or another program owns.
import { spawn } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, writeFile, mkdir, cp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { findBrowser } from '../../runner/browser/find-browser.ts';
import { markEarly } from '../../runner/browser/browser-process.ts';
import { launchBrowser } from '../../runner/browser/launch-browser.ts';
import { clearOrphanedProfiles, markProfile } from '../../runner/browser/browser-profiles.ts';

const MARK = 'gloam-owner.json';
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'gloam-profiles-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** A number that was a process's and is none any more: a child that was killed. */
async function killed(): Promise<number> {
  const child = spawn(process.execPath, ['-e', 'setInterval(() => {}, 1000)'], { stdio: 'ignore' });
  const gone = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGKILL');
  await gone;
  return child.pid ?? 0;
}

test('what no living process owns goes, and nothing else', async () => {
  const profile = (name: string): string => path.join(folder, `playwright_chromiumdev_profile-${name}`);
  for (const name of ['mine', 'orphan', 'lingers', 'elsewhere', 'unmarked', 'spoilt']) await mkdir(profile(name));
  await mkdir(path.join(folder, 'harbour'));
  await markProfile(profile('mine'));
  const mine = JSON.parse(await readFile(path.join(profile('mine'), MARK), 'utf8')) as {
    readonly pid: number;
    readonly place: string;
  };
  expect(mine.pid).toBe(process.pid);
  const pid = await killed();
  await writeFile(path.join(profile('orphan'), MARK), JSON.stringify({ ...mine, pid }));
  // Its browser is not gone yet, and would write into what was cleared.
  await writeFile(path.join(profile('lingers'), MARK), JSON.stringify({ ...mine, pid, browser: process.pid }));
  // The same number on another machine, or before it was started anew, says nothing.
  await writeFile(path.join(profile('elsewhere'), MARK), JSON.stringify({ pid, place: `${mine.place} other` }));
  await writeFile(path.join(profile('spoilt'), MARK), '{"pid":');
  await cp(path.join(profile('orphan'), MARK), path.join(folder, 'harbour', MARK));

  expect(await clearOrphanedProfiles(folder)).toBe(1);
  expect((await readdir(folder)).sort()).toEqual([
    'harbour',
    ...['elsewhere', 'lingers', 'mine', 'spoilt', 'unmarked'].map((name) => `playwright_chromiumdev_profile-${name}`),
  ]);
});

test.runIf(process.platform === 'linux')('a browser that is only being started has the mark already', async () => {
  const profile = path.join(folder, 'playwright_chromiumdev_profile-early');
  await mkdir(profile);
  // Stands for a browser that takes long to answer: a process of ours with a profile among its arguments.
  const child = spawn(
    process.execPath,
    ['-e', 'setInterval(() => {}, 1000)', '--', `--user-data-dir=${profile}`, '--no-first-run'],
    {
      stdio: 'ignore',
    },
  );
  const mark = async (): Promise<string> => {
    for (;;) {
      const text = await readFile(path.join(profile, MARK), 'utf8').catch(() => '');
      if (text.endsWith('}')) return text;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
  };
  const found = mark();
  await markEarly(found);
  child.kill('SIGKILL');
  expect(JSON.parse(await found)).toMatchObject({ pid: process.pid, browser: child.pid });
});

test('a browser that is started has a profile with our mark, as long as it runs', async () => {
  const owned = async (): Promise<readonly string[]> => {
    const names = (await readdir(tmpdir())).filter((name) => name.startsWith('playwright_'));
    const marks = await Promise.all(names.map((name) => readFile(path.join(tmpdir(), name, MARK), 'utf8').catch(() => '{}')));
    return names.filter((_, at) => (JSON.parse(marks[at] ?? '{}') as { readonly pid?: number }).pid === process.pid);
  };
  const before = await owned();
  const browser = await launchBrowser(await findBrowser(process.env));
  const profiles = (await owned()).filter((name) => !before.includes(name));
  expect(profiles).toHaveLength(1);
  // It runs, and is ours: nobody clears it.
  await clearOrphanedProfiles();
  expect(await owned()).toEqual(expect.arrayContaining([...profiles]));
  await browser.close();
});
