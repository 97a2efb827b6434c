// What of a machine decides what its pictures look like. Hashes stand for files, so nothing of what is in them travels.
import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Browser } from 'playwright';
import { readFontFacts } from '../../../runner/browser/font-facts.ts';
import type { FontFacts } from '../../../runner/browser/font-facts.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { packageVersion } from '../package-facts.ts';

export interface MachineFacts {
  readonly gloam: string;
  readonly browser: string;
  readonly fonts: FontFacts;
  /** Hash over the configuration, but for its place and what only judges or reports a run. */
  readonly configuration: string;
  /** Files that it names, relative to its folder → hash. */
  readonly files: Readonly<Record<string, string>>;
  /** Hash over the folder that is served; null where the app comes from elsewhere. */
  readonly app: string | null;
}

/** @param tokenFiles absolute */
export async function readMachineFacts(
  configuration: Configuration,
  from: { readonly browser: Browser; readonly browserVersion: string; readonly tokenFiles: readonly string[] },
): Promise<MachineFacts> {
  const { folder } = configuration;
  const named = [...new Set([...filesOf(configuration), ...from.tokenFiles])].sort();
  const files = await Promise.all(named.map(async (file) => [relative(folder, file), await hashOfFile(file)] as const));
  return {
    gloam: packageVersion(),
    browser: from.browserVersion,
    fonts: await readFontFacts(from.browser),
    configuration: hash(JSON.stringify(portable(configuration))),
    files: Object.fromEntries(files),
    app: configuration.app.kind === 'serve' ? await hashOfFolder(configuration.app.folder) : null,
  };
}

function hash(text: string | Uint8Array): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}

async function hashOfFile(file: string): Promise<string> {
  return hash(await readFile(file).catch(() => 'missing'));
}

async function hashOfFolder(folder: string): Promise<string> {
  const all = createHash('sha256');
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  const files = entries.filter((entry) => entry.isFile()).map((entry) => path.join(entry.parentPath, entry.name));
  for (const file of files.sort()) all.update(`${relative(folder, file)}\0`).update(await readFile(file));
  return all.digest('hex').slice(0, 16);
}

/** Written alike on all systems. */
function relative(folder: string, file: string): string {
  return path.relative(folder, file).split(path.sep).join('/');
}

function filesOf({ themes, states, session }: Configuration): readonly string[] {
  return [
    ...themes.flatMap(({ apply }) => apply.script ?? []),
    ...states.flatMap((state) => (state.kind === 'script' ? state.file : [])),
    ...(session === undefined ? [] : [session.script]),
  ];
}

/** Where it lies, and what only the gate reads. */
const OF_ITS_PLACE: ReadonlySet<string> = new Set(['file', 'folder', 'store', 'blobs', 'gate', 'night']);

/** With paths as they are seen from its folder, and without what tells where it lies or how a run is judged by the gate. */
function portable(configuration: Configuration): unknown {
  const { folder, app, themes, states, session, tokens } = configuration;
  const rest = Object.fromEntries(Object.entries(configuration).filter(([name]) => !OF_ITS_PLACE.has(name)));
  const from = (file: string): string => relative(folder, file);
  return {
    ...rest,
    app:
      app.kind === 'serve'
        ? { ...app, folder: from(app.folder), ...(app.fallback === undefined ? {} : { fallback: from(app.fallback) }) }
        : app.kind === 'start'
          ? { ...app, cwd: from(app.cwd) }
          : app,
    themes: themes.map(({ apply, ...theme }) => ({
      ...theme,
      apply: { ...apply, ...(apply.script === undefined ? {} : { script: from(apply.script) }) },
    })),
    states: states.map((state) => (state.kind === 'script' ? { ...state, file: from(state.file) } : state)),
    ...(session === undefined ? {} : { session: { ...session, script: from(session.script) } }),
    ...(tokens === undefined
      ? {}
      : {
          tokens:
            tokens.kind === 'resolver'
              ? { ...tokens, file: from(tokens.file) }
              : {
                  ...tokens,
                  base: tokens.base.map(from),
                  themes: Object.fromEntries(Object.entries(tokens.themes).map(([name, list]) => [name, list.map(from)])),
                },
        }),
  };
}
