// Calls the command line, as a process of its own or within the test's, and makes small apps for it to look at.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { call } from '../../src/cli/call.ts';
import { sharedBrowser } from '../shared-browser.ts';

export const MAIN = path.resolve(import.meta.dirname, '..', '..', 'dist', 'cli', 'main.js');

export interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Started {
  readonly pid: number;
  /** Resolves once the text has been printed on either stream. */
  printed(text: string | RegExp): Promise<string>;
  readonly ended: Promise<Ended>;
  kill(signal: NodeJS.Signals): void;
}

/** @param main of another build than the one that stands beside the tests */
export function start(folder: string, args: readonly string[], env: NodeJS.ProcessEnv = {}, main = MAIN): Started {
  const child = spawn(process.execPath, [main, ...args], { cwd: folder, env: { ...process.env, NO_COLOR: '1', ...env } });
  let stdout = '';
  let stderr = '';
  const watchers: (() => void)[] = [];
  const seen = (): void => {
    for (const watch of watchers) watch();
  };
  child.stdout.on('data', (chunk: Buffer) => {
    stdout += chunk.toString();
    seen();
  });
  child.stderr.on('data', (chunk: Buffer) => {
    stderr += chunk.toString();
    seen();
  });
  const ended = new Promise<Ended>((resolve) => {
    child.on('close', (code) => {
      resolve({ code, stdout, stderr });
      seen();
    });
  });
  return {
    pid: child.pid ?? -1,
    ended,
    kill: (signal) => child.kill(signal),
    printed: (text) =>
      new Promise((resolve, reject) => {
        const watch = (): void => {
          const all = `${stdout}\n${stderr}`;
          if (typeof text === 'string' ? all.includes(text) : text.test(all)) resolve(all);
          else if (child.exitCode !== null)
            reject(new Error(`ended with ${child.exitCode} before printing ${String(text)}:\n${all}`));
        };
        watchers.push(watch);
        watch();
      }),
  };
}

/**
 * Called within the test's own process: everything but main.ts is the same, and what starting Node and loading the browser's driver takes
 * (more than a small app's night) is spared. Signals, the environment and what is bundled are for `start`.
 */
export async function gloam(folder: string, ...args: readonly string[]): Promise<Ended> {
  const said = { stdout: '', stderr: '' };
  const code = await call(args, {
    folder,
    env: { ...process.env, NO_COLOR: '1' },
    out: { write: (text) => (said.stdout += text) },
    err: { write: (text) => (said.stderr += text) },
    signal: new AbortController().signal,
    command: [process.execPath, MAIN],
    browser: sharedBrowser,
  });
  return { code, ...said };
}

/** The built command line, as people call it. */
export function built(folder: string, ...args: readonly string[]): Promise<Ended> {
  return start(folder, args).ended;
}

/** A folder in the system's temporary place with these files. */
export function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'gloam-cli-'));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
    writeFileSync(path.join(folder, name), text);
  }
  return folder;
}

export const page = (body: string, style = ''): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Quay</title><style>
   html { background: #fff; color: #111 } html.dusk { background: #101418; color: #eee } ${style}</style></head><body>${body}</body></html>`;

/** Two themes by class, two pages, one text that is too weak at noon. */
export function quayApp(more: Readonly<Record<string, unknown>> = {}): string {
  const config = {
    app: { serve: 'site' },
    pages: ['/', '/board.html'],
    themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
    ...more,
  };
  return folderWith({
    'site/index.html': page(
      '<h1>Quay</h1><p id="weak" style="color:#999">Low water at noon</p>',
      '.dusk #weak { color: #bbb !important }',
    ),
    'site/board.html': page('<h1>Board</h1><p>Nothing is wrong here.</p>'),
    'gloam.config.json': JSON.stringify(config),
  });
}
