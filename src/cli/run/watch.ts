// gloam run --watch: one run in memory; a saved file renders again what it touches, and the causes are told anew. Nothing is stored.
import { availableParallelism } from 'node:os';
import path from 'node:path';
import type { Browser } from 'playwright';
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import { openApp } from '../../../runner/app/open-app.ts';
import type { Secrets } from '../../../runner/app/secrets.ts';
import { exemptionFileOf } from '../../config/exemption-file.ts';
import { readConfiguration } from '../../config/read-configuration.ts';
import { readTokens } from '../../config/read-tokens.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import { GloamError } from '../../errors/gloam-error.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { makePlan } from '../../plan/make-plan.ts';
import type { View } from '../../samples/view.ts';
import type { TokenProblem } from '../../tokens/problem.ts';
import { count } from '../io.ts';
import type { Io } from '../io.ts';
import { showProgress } from '../progress.ts';
import { readAccess } from '../read-access.ts';
import type { Environment } from '../read-access.ts';
import { selectViews } from '../selection.ts';
import type { Selection } from '../selection.ts';
import { openLiveRun } from './live-run.ts';
import type { Standing } from './live-run.ts';
import { showRound } from './show-round.ts';
import { filesOf, touchedBy } from './touched.ts';
import { watchFiles } from './watch-files.ts';
import type { FileWatch } from './watch-files.ts';

export interface WatchRequest {
  readonly configuration: Configuration;
  readonly selection: Selection;
  readonly workers?: number;
  readonly env: Environment;
  readonly secrets: Secrets;
  /** Ends the watching. */
  readonly signal: AbortSignal;
  readonly now: () => Date;
  readonly io: Io;
}

/**
 * Returns once aborted.
 * @throws GloamError of the parts before the first round; later ones are told, and the next change is waited for
 */
export async function watchRun(request: WatchRequest): Promise<void> {
  const { signal } = request;
  const browser = await launchBrowser(await findBrowser(request.env));
  try {
    let isFirst = true;
    let configuration: Configuration | null = request.configuration;
    while (configuration !== null) {
      configuration = await watchConfiguration({ ...request, configuration }, browser, isFirst);
      isFirst = false;
    }
  } catch (error) {
    if (!signal.aborted) throw error;
  } finally {
    await browser.close().catch(() => undefined);
  }
}

/**
 * Watches under one configuration.
 * @param isFirst what stands in the way is thrown; later it is told, and the next change of the configuration waited for
 * @returns the next one; null once aborted
 */
async function watchConfiguration(request: WatchRequest, browser: Browser, isFirst: boolean): Promise<Configuration | null> {
  const { configuration, signal, io } = request;
  const { app } = configuration;
  const settings = filesOfConfiguration(configuration);
  // Watched from before anything is told, so that an answer to what is told is seen.
  const files = await watchFiles({ ...(app.kind === 'serve' ? { folder: app.folder } : {}), files: settings }, signal);
  try {
    if (!(await rounds(request, browser, { files, settings }))) return null;
  } catch (error) {
    if (isFirst || !(error instanceof GloamError) || signal.aborted) throw error;
    tellFault(io, error);
    let changed;
    do {
      changed = await files.changes();
      if (changed === null) return null;
    } while (!changed.some((file) => settings.includes(file)));
  } finally {
    files.close();
  }
  return readAgain(configuration, request);
}

/** Rounds until the configuration changes. @returns false once aborted */
async function rounds(
  request: WatchRequest,
  browser: Browser,
  { files, settings }: { readonly files: FileWatch; readonly settings: readonly string[] },
): Promise<boolean> {
  const { configuration, signal, io } = request;
  const accessAt = await readAccess(configuration, request);
  const app = await openApp(configuration.app, signal);
  const access = accessAt(app.origin);
  const folder = configuration.app.kind === 'serve' ? configuration.app.folder : undefined;
  const pages = await discoverPages(configuration.pages, app.origin, signal, access);
  const { themes, viewports, reference } = configuration;
  const plan = makePlan({ origin: app.origin, pages, themes, viewports });
  const views = selectViews(plan, request.selection, (view) => view.theme === reference);
  let tokens = readTokens(configuration);
  await files.follow([...settings, ...(tokens?.files ?? [])]);
  const today = request.now().toISOString().slice(0, 10);
  const workers = request.workers ?? Math.max(1, availableParallelism());
  const live = openLiveRun({ configuration, pages, workers, access, today });
  const loaded = new Map<string, Set<string>>();
  const last: { standing: Standing | null } = { standing: null };

  /** Files that pages loaded or looked for, token files, the configuration: what else lies in the folder shows nowhere. */
  function matters(file: string): boolean {
    return settings.includes(file) || tokens?.files.includes(file) === true || [...loaded.values()].some((all) => all.has(file));
  }

  async function round(wanted: readonly View[], why: string): Promise<void> {
    const started = performance.now();
    const progress = showProgress(io, wanted.length);
    for (const { page } of wanted) loaded.delete(page);
    let failed;
    try {
      failed = await live.update(wanted, {
        tokens,
        browser,
        signal,
        onView: (view, isFailed) => {
          progress.step(view.id, isFailed);
        },
        onVisit: ({ name }, requested) => {
          const known = loaded.get(name) ?? new Set<string>();
          if (folder !== undefined)
            for (const address of requested) for (const file of filesOf(address, { origin: app.origin, folder })) known.add(file);
          loaded.set(name, known);
        },
      });
    } finally {
      progress.end();
    }
    const after = await live.explain(tokens);
    const seconds = ((performance.now() - started) / 1000).toFixed(1);
    io.say();
    io.say(`${clockOf(request.now())}  ${why}${count(wanted.length, 'view')} of ${String(views.length)} in ${seconds} s`);
    showRound(io, { before: last.standing, after, failed });
    last.standing = after;
  }

  try {
    const broken = brokenFiles(tokens);
    if (broken.length > 0) tellBroken(io, broken);
    else await round(views, '');
    io.say(waitingLine(folder === undefined ? null : path.relative(configuration.folder, folder) || '.', tokens));
    for (;;) {
      const changed = await files.changes(last.standing === null ? undefined : matters);
      if (changed === null) return false;
      if (changed.some((file) => settings.includes(file))) {
        io.say(`\n${clockOf(request.now())}  the configuration changed: all anew`);
        return true;
      }
      const names = changed.map((file) => path.relative(configuration.folder, file));
      const isTokens = changed.some((file) => tokens?.files.includes(file) === true);
      if (isTokens) {
        const fresh = readTokens(configuration);
        const faults = brokenFiles(fresh);
        if (faults.length > 0) {
          tellBroken(io, faults);
          continue;
        }
        tokens = fresh;
        // A resolver document may name other files by now.
        await files.follow([...settings, ...(fresh?.files ?? [])]);
      }
      const touched = isTokens || last.standing === null ? null : touchedBy(changed, loaded);
      const wanted = touched === null ? views : views.filter(({ page }) => touched.includes(page));
      const why = `${names.slice(0, 3).join(', ')}${names.length > 3 ? ` and ${String(names.length - 3)} more` : ''} changed: `;
      if (wanted.length > 0) await round(wanted, why);
    }
  } finally {
    await app.close();
  }
}

/** A configuration that can be read: at once, or after some more changes. @returns null once aborted */
async function readAgain(before: Configuration, request: WatchRequest): Promise<Configuration | null> {
  const files = await watchFiles({ files: filesOfConfiguration(before) }, request.signal);
  try {
    for (;;) {
      try {
        return await readConfiguration({ folder: before.folder, file: before.file });
      } catch (error) {
        if (!(error instanceof GloamError)) throw error;
        tellFault(request.io, error);
      }
      if ((await files.changes()) === null) return null;
    }
  } finally {
    files.close();
  }
}

function filesOfConfiguration({ file, themes, states }: Configuration): readonly string[] {
  const scripts = [
    ...themes.flatMap(({ apply }) => (apply.script === undefined ? [] : [apply.script])),
    ...states.flatMap((state) => (state.kind === 'script' ? [state.file] : [])),
  ];
  return [file, exemptionFileOf(file), ...scripts];
}

/** Files that cannot be read at all: half-written ones, mostly. What is wrong inside readable ones is a finding. */
function brokenFiles(tokens: ReadConfigured | null): readonly TokenProblem[] {
  return (tokens?.graph.problems ?? []).filter(({ code }) => code === 'not-json-object' || code === 'source-missing');
}

function tellBroken(io: Io, problems: readonly TokenProblem[]): void {
  for (const { file, line, column, found, expected } of problems)
    io.say(`${io.style('red', 'cannot be read:')} ${file}:${String(line)}:${String(column)}: found ${found}; expected ${expected}`);
  io.say('Waiting for the next change; what was told last still stands.');
}

function tellFault(io: Io, error: GloamError): void {
  io.say(`${io.style('red', 'cannot go on:')} ${error.message}\n  ${error.hint}`);
  io.say('Waiting for the next change of the configuration.');
}

function waitingLine(folder: string | null, tokens: ReadConfigured | null): string {
  const app = folder === null ? 'the app is not served from a folder, so its pages are not watched;' : `${folder}/,`;
  const more = tokens === null ? '' : ` ${count(tokens.files.length, 'token file')},`;
  return `\nWatching ${app}${more} the configuration. Nothing is stored. Ctrl-C ends.`;
}

function clockOf(now: Date): string {
  return now.toTimeString().slice(0, 8);
}
