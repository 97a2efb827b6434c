// The process behind a browser: ended by force where it no longer answers, and its temporary profile marked as ours.
import { readdir, readFile } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';
import type { Browser } from 'playwright';
import { markProfile } from './browser-profiles.ts';

const processes = new WeakMap<Browser, number>();

/** How long an ended browser may take to be gone; the system does it in milliseconds. */
const GONE_MS = 5_000;

/** Looks up which process it is; a browser that does not tell is closed as far as it lets itself be closed. */
export async function learnProcess(browser: Browser): Promise<void> {
  try {
    const cdp = await browser.newBrowserCDPSession();
    const { processInfo } = await cdp.send('SystemInfo.getProcessInfo');
    const own = processInfo.find(({ type }) => type === 'browser');
    if (own !== undefined) processes.set(browser, own.id);
    // `Browser.getBrowserCommandLine` answers only browsers that show that they are automated.
    const { commandLine } = await cdp.send('SystemInfo.getInfo');
    const profile = profileIn(commandLine);
    if (profile !== null) await markProfile(profile, own?.id);
    await cdp.detach();
  } catch {
    // What is not known is not used.
  }
}

/** How often is looked whether the process is there; it is there after some 50 ms, and answers seconds later on a busy machine. */
const LOOK_MS = 50;

/**
 * Marks profiles of browsers that are being started as soon as their processes can be seen: who is ended meanwhile has left a mark too.
 * Where the system has no such files (other than Linux), the mark comes once the browser answers.
 */
export async function markEarly(starting: Promise<unknown>): Promise<void> {
  const over = new AbortController();
  const end = (): void => {
    over.abort();
  };
  starting.then(end, end);
  const marked = new Set<string>();
  for (;;) {
    for (const { profile, pid } of await profilesOfChildren()) {
      if (marked.has(profile)) continue;
      marked.add(profile);
      await markProfile(profile, pid).catch(() => undefined);
    }
    if (over.signal.aborted) return;
    await pause(LOOK_MS, undefined, { signal: over.signal }).catch(() => undefined);
  }
}

/** Of this process (proc(5): in stat, behind the name in brackets, the state and the parent; arguments are parted by NUL). */
async function profilesOfChildren(): Promise<readonly { readonly profile: string; readonly pid: number }[]> {
  const pids = (await readdir('/proc').catch(() => [])).filter((name) => /^\d+$/u.test(name));
  const profiles = await Promise.all(
    pids.map(async (pid) => {
      const stat = await read(`/proc/${pid}/stat`);
      const [, parent] = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
      const profile = Number(parent) === process.pid ? profileIn((await read(`/proc/${pid}/cmdline`)).replaceAll('\0', ' ')) : null;
      return profile === null ? [] : [{ profile, pid: Number(pid) }];
    }),
  );
  return profiles.flat();
}

/** A process may be gone by now. */
function read(file: string): Promise<string> {
  return readFile(file, 'utf8').catch(() => '');
}

/** In a command line as one text: up to the next flag. */
function profileIn(commandLine: string): string | null {
  return / --user-data-dir=(?<folder>.+?)(?= --|$)/u.exec(commandLine)?.groups?.['folder'] ?? null;
}

/** A browser that works is gone in a tenth of this (ours). */
const CLOSE_MS = 5_000;

/** Closes it in order, and ends it where it does not go. Does not throw. */
export async function closeBrowser(browser: Browser): Promise<void> {
  if (!(await within(CLOSE_MS, browser.close()))) await endBrowser(browser);
}

/** Ends the browser whatever it is doing. Does not throw. */
export async function endBrowser(browser: Browser): Promise<void> {
  const pid = processes.get(browser);
  const gone = new Promise<void>((resolve) => {
    if (!browser.isConnected()) resolve();
    browser.once('disconnected', () => {
      resolve();
    });
  });
  if (pid !== undefined) {
    try {
      process.kill(pid, 'SIGKILL');
    } catch {
      // It is gone already.
    }
  }
  const closed = browser.close().catch(() => undefined);
  await within(GONE_MS, Promise.race([gone, closed]));
}

/** @returns whether it came in time */
export async function within(ms: number, what: Promise<unknown>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<boolean>((resolve) => {
    timer = setTimeout(() => {
      resolve(false);
    }, ms);
  });
  try {
    return await Promise.race([
      what.then(
        () => true,
        () => true,
      ),
      late,
    ]);
  } finally {
    clearTimeout(timer);
  }
}
