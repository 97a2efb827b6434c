// npm run browser: makes sure there is a Chromium. Playwright's download first, the distribution's package where that fails.
import { spawn } from 'node:child_process';
import { access } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { FoundBrowser } from './find-browser.ts';
import { findBrowser } from './find-browser.ts';

type Say = (line: string) => void;

/** @throws GloamError `browser-not-found` when nothing worked */
export async function installBrowser(env: NodeJS.ProcessEnv, say: Say): Promise<FoundBrowser> {
  try {
    return await findBrowser(env);
  } catch (error) {
    if (!(error instanceof GloamError) || error.code !== 'browser-not-found') throw error;
  }
  say("No Chromium found; trying Playwright's download.");
  const playwright = join(dirname(createRequire(import.meta.url).resolve('playwright/package.json')), 'cli.js');
  if (await succeeds(process.execPath, [playwright, 'install', 'chromium'], say)) {
    try {
      return await findBrowser(env);
    } catch (error) {
      say(error instanceof Error ? error.message : String(error));
    }
  }
  if (await mayUseApt()) {
    say("The download failed; trying the distribution's packages.");
    for (const name of ['chromium-headless-shell', 'chromium']) {
      if (await succeeds('apt-get', ['install', '-y', name], say)) break;
    }
  }
  return findBrowser(env);
}

async function mayUseApt(): Promise<boolean> {
  if (process.getuid?.() !== 0) return false;
  try {
    await access('/etc/debian_version');
    return true;
  } catch {
    return false;
  }
}

function succeeds(command: string, args: readonly string[], say: Say): Promise<boolean> {
  return new Promise((resolve) => {
    const child = spawn(command, args, { stdio: ['ignore', 'inherit', 'inherit'] });
    child.on('error', (error) => {
      say(`${command}: ${error.message}`);
      resolve(false);
    });
    child.on('exit', (code) => {
      resolve(code === 0);
    });
  });
}

if (process.argv[1] !== undefined && import.meta.filename === process.argv[1]) {
  try {
    const found = await installBrowser(process.env, console.error);
    console.error(`Browser: ${found.version}${found.path === undefined ? '' : ` (${found.path})`}`);
  } catch (error) {
    console.error(error instanceof GloamError ? `${error.message}\n${error.hint}` : error);
    process.exitCode = 1;
  }
}
