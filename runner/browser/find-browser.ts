// Which Chromium to drive: GLOAM_BROWSER, then Playwright's own, then one of the system.
import { execFile } from 'node:child_process';
import { access, constants } from 'node:fs/promises';
import { delimiter, join } from 'node:path';
import { promisify } from 'node:util';
import { chromium } from './playwright.ts';
import { browserFailed, browserNotFound } from '../../src/errors/capture-errors.ts';

export interface FoundBrowser {
  /** Program to start; undefined: the one Playwright installed. */
  readonly path: string | undefined;
  /** As the program says, e.g. `Chromium 140.0.7339.16`. */
  readonly version: string;
}

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * Names under which systems install Chromium or a browser built on it, most wanted first. The first has no window at all: the same pictures
 * for half of the browser's own work (docs/speed.md).
 */
const SYSTEM_NAMES = [
  'chromium-headless-shell',
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge',
] as const;

const SYSTEM_PLACES = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
] as const;

const run = promisify(execFile);

/**
 * @param env GLOAM_BROWSER and PATH are read
 * @throws GloamError `browser-not-found`; `browser-failed` when GLOAM_BROWSER does not start
 */
export async function findBrowser(env: Environment): Promise<FoundBrowser> {
  const wanted = env['GLOAM_BROWSER'];
  if (wanted !== undefined && wanted !== '') return { path: wanted, version: await versionOf(wanted) };

  const own = ownPath();
  if (own !== undefined && (await isProgram(own))) return { path: undefined, version: await versionOf(own) };

  for (const path of systemPaths(env['PATH'] ?? '')) {
    if (await isProgram(path)) return { path, version: await versionOf(path) };
  }
  throw browserNotFound(['GLOAM_BROWSER', "Playwright's browsers", `${SYSTEM_NAMES.join(', ')} on the PATH`]);
}

/** Playwright throws on platforms it has no build for. */
function ownPath(): string | undefined {
  try {
    return chromium.executablePath();
  } catch {
    return undefined;
  }
}

function systemPaths(path: string): readonly string[] {
  const folders = path.split(delimiter).filter((folder) => folder !== '');
  return [...SYSTEM_NAMES.flatMap((name) => folders.map((folder) => join(folder, name))), ...SYSTEM_PLACES];
}

async function isProgram(path: string): Promise<boolean> {
  try {
    await access(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

async function versionOf(path: string): Promise<string> {
  try {
    const { stdout } = await run(path, ['--version'], { timeout: 30_000 });
    // Distributions append where they built it.
    return stdout.trim().replace(/ built on .*$/u, '');
  } catch (cause) {
    throw browserFailed(path, cause instanceof Error ? cause.message : String(cause));
  }
}
