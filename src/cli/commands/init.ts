// gloam init: looks at an app, says what it found, and writes a configuration that works as it stands.
import { existsSync, readFileSync, statSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { Command } from 'commander';
import type { Proposal } from '../../config/propose-configuration.ts';
import type { ProposedTokens } from '../../config/propose-configuration-tokens.ts';
import { shortApply } from '../../config/short-apply.ts';
import { wrongUse } from '../../errors/command-errors.ts';
import { configThere } from '../../errors/gate-errors.ts';
import type { ObservedApp } from '../../plan/observed-app.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import { count } from '../io.ts';
import type { Io } from '../io.ts';
import { ignoreStore } from '../ignore-store.ts';
import { loadInit } from '../load.ts';
import { wholeFromOne } from '../option-values.ts';

interface InitOptions extends CommonOptions {
  readonly format: string;
  readonly force?: boolean;
  readonly print?: boolean;
  readonly pages: number;
  readonly within: number;
}

export function initCommand(run: Run): Command {
  return command<InitOptions>('init', 'look at an app and write a configuration', run, init)
    .argument('[url or folder]', 'a running app or a folder of pages', '.')
    .option('--format <name>', 'ts or json', 'ts')
    .option('--force', 'write over a configuration that is there')
    .option('--print', 'print the configuration instead of writing it')
    .option('--pages <n>', 'look for this many pages at most', wholeFromOne, 40)
    .option('--within <seconds>', 'look for themes this long at most', wholeFromOne, 120);
}

async function init(session: Session, options: InitOptions, [where = '.']: readonly string[]): Promise<ExitCode> {
  const { io } = session;
  if (options.format !== 'ts' && options.format !== 'json')
    throw wrongUse(`--format: found "${options.format}"; expected ts or json`, 'JSON has no comments; TypeScript has.');
  const file = path.resolve(session.folder, options.config ?? `gloam.config.${options.format}`);
  const there = earlierConfiguration(file);
  if (there !== null && options.force !== true && options.print !== true) throw configThere(there);
  const app = appAt(where, session.folder);

  const { exploreApp, findTokens, letInBefore, proposeJson, proposeTypeScript, signInNote, validateConfiguration } =
    await loadInit();
  const before = there === null ? null : await letInBefore(there, session);
  const observed = await exploreApp({
    app: app.source,
    start: app.start,
    ...(before?.accessAt === undefined ? {} : { accessAt: before.accessAt }),
    limit: options.pages,
    withinMs: options.within * 1000,
    signal: session.signal,
    onStep: (what) => {
      io.note(`${what} …`);
    },
  });
  const folder = path.dirname(file);
  const tokens = await findTokens(folder, observed.themes, observed.properties);
  const proposal: Proposal = {
    observed,
    app: app.source.kind === 'serve' ? { kind: 'serve', folder: relative(folder, app.source.folder) } : app.source,
    tokens,
    ...(before === null ? {} : { letIn: before.letIn }),
    typed: hasTypes(folder),
  };
  // What is proposed must be right before anyone sees it.
  validateConfiguration(file, JSON.parse(proposeJson(proposal)));
  const text = options.format === 'json' || file.endsWith('.json') ? proposeJson(proposal) : proposeTypeScript(proposal);
  const { signIn } = observed;
  const notes = [
    ...(signIn === undefined ? [] : [signInNote(signIn, before?.letIn)]),
    ...(before?.notes ?? []),
    ...observed.notes,
    ...app.notes,
  ];

  if (options.print === true) {
    io.print(text);
    return EXIT.done;
  }
  await writeFile(file, text);
  const ignored = await ignoreStore(folder);
  if (io.json) {
    io.result({ file, ...observed, notes, tokens, ignored });
    return EXIT.done;
  }
  tell(io, observed, tokens, notes);
  io.say();
  io.say(`written: ${relative(session.folder, file)}`);
  if (ignored !== null) io.say(`added:   .gloam/ to ${relative(session.folder, ignored)}, where runs and pictures will be kept`);
  io.say(`next:    gloam run${options.config === undefined ? '' : ` --config ${options.config}`}, then gloam gate`);
  return EXIT.done;
}

interface AppAt {
  readonly source: { readonly kind: 'serve'; readonly folder: string } | { readonly kind: 'url'; readonly url: string };
  readonly start: string;
  readonly notes: readonly string[];
}

function appAt(where: string, folder: string): AppAt {
  if (/^https?:\/\//.test(where)) {
    if (!URL.canParse(where)) throw wrongUse(`found "${where}"; expected an address`, 'For example http://127.0.0.1:3000/.');
    const { origin, pathname, search } = new URL(where);
    return { source: { kind: 'url', url: origin }, start: pathname + search, notes: [] };
  }
  const served = path.resolve(folder, where);
  if (!existsSync(served) || !statSync(served).isDirectory()) {
    const found = existsSync(served) ? 'which is a file' : 'which does not exist';
    throw wrongUse(
      `found "${where}", ${found}; expected a folder of pages or an address (http://…)`,
      'Start the app and give its address, or name the folder that holds its HTML files.',
    );
  }
  return { source: { kind: 'serve', folder: served }, start: '/', notes: scriptNotes(served) };
}

/** A folder of sources may need its own server before its pages show anything. */
function scriptNotes(folder: string): readonly string[] {
  const script = scriptOf(path.join(folder, 'package.json'));
  if (script === undefined) return [];
  return [
    `package.json has the script "${script}": if the pages need it, start it and give init its address; then app may be { start: 'npm run ${script}', url: ADDRESS }`,
  ];
}

function scriptOf(file: string): string | undefined {
  try {
    const facts: unknown = JSON.parse(readFileSync(file, 'utf8'));
    const scripts: unknown = typeof facts === 'object' && facts !== null && 'scripts' in facts ? facts.scripts : undefined;
    if (typeof scripts !== 'object' || scripts === null) return undefined;
    return ['dev', 'start', 'serve', 'preview'].find((name) => name in scripts);
  } catch {
    // No package there, or none that can be read: nothing to say about it.
    return undefined;
  }
}

function earlierConfiguration(file: string): string | null {
  const names = ['gloam.config.ts', 'gloam.config.js', 'gloam.config.mjs', 'gloam.config.json'];
  const candidates = [
    file,
    ...(names.includes(path.basename(file)) ? names.map((name) => path.join(path.dirname(file), name)) : []),
  ];
  return candidates.find((candidate) => existsSync(candidate)) ?? null;
}

function relative(from: string, to: string): string {
  return path.relative(from, to).replaceAll(path.sep, '/') || '.';
}

/** The package can be found from the folder, so an editor finds its types. */
function hasTypes(folder: string): boolean {
  for (let here = folder; ; here = path.dirname(here)) {
    if (existsSync(path.join(here, 'node_modules', 'gloam', 'package.json'))) return true;
    if (path.dirname(here) === here) return false;
  }
}

function tell(io: Io, observed: ObservedApp, tokens: ProposedTokens | null, notes: readonly string[]): void {
  const { pages, themes, viewports, morePages } = observed;
  io.say(io.style('bold', `${count(pages.length, 'page')}${morePages ? ' (there are more)' : ''}`));
  for (const { path: pagePath, title } of pages.slice(0, 12))
    io.say(`  ${pagePath}${title === '' ? '' : `  ${io.style('dim', title)}`}`);
  if (pages.length > 12) io.say(`  and ${count(pages.length - 12, 'more', 'more')}`);
  io.say(io.style('bold', count(themes.length, 'theme')));
  for (const { name, tone, apply, evidence } of themes) {
    io.say(`  ${name} (${tone})  ${Object.keys(apply).length === 0 ? 'nothing to put on' : JSON.stringify(shortApply(apply))}`);
    for (const one of evidence.slice(0, 3)) io.say(`    ${io.style('dim', one)}`);
  }
  io.say(io.style('bold', count(viewports.length, 'viewport')));
  for (const { name, widthCssPx, heightCssPx, why } of viewports)
    io.say(`  ${name} ${String(widthCssPx)} × ${String(heightCssPx)}  ${io.style('dim', why)}`);
  io.say(io.style('bold', tokens === null ? 'no token files' : 'token files'));
  if (tokens !== null) {
    const files = tokens.kind === 'resolver' ? [tokens.file] : [...tokens.base, ...Object.values(tokens.themes).flat()];
    for (const file of files) io.say(`  ${file}`);
    io.say(`  ${count(tokens.fit.tokens, 'token')}, ${String(tokens.fit.onPage)} of them custom properties of the page`);
  }
  for (const note of notes) io.say(`${io.style('yellow', '!')} ${note}`);
}
