// The main job: plan → views → samples → findings → causes, all of it stored. Composes the parts; holds no logic of theirs.
import { availableParallelism } from 'node:os';
import type { Browser } from 'playwright';
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { browserAhead } from '../../../runner/browser/launch-browser.ts';
import { openApp } from '../../../runner/app/open-app.ts';
import type { RenderRequest } from '../../../runner/render-request.ts';
import { render } from '../../../runner/render.ts';
import type { Secrets } from '../../../runner/app/secrets.ts';
import { Stopwatch } from '../../../runner/tab/stopwatch.ts';
import { readTokens } from '../../config/read-tokens.ts';
import { doubtsOf } from '../../gate/doubts.ts';
import type { Doubt } from '../../gate/doubts.ts';
import { readAll } from '../../gate/read-all.ts';
import { openLedger } from '../../ledger/ledger.ts';
import type { StorePlace } from '../../ledger/store-at.ts';
import type { RunSummary } from '../../ledger/records.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { ruleSelectors } from '../../plan/rule-selectors.ts';
import type { RuleSelector } from '../../plan/rule-selectors.ts';
import { makePlan } from '../../plan/make-plan.ts';
import type { ViewResult } from '../../samples/captured-view.ts';
import type { Note } from '../../samples/note.ts';
import { meaningOf } from '../../samples/note-words.ts';
import type { View } from '../../samples/view.ts';
import { propertyNames } from '../../tokens/property-names.ts';
import type { ReadTokens } from '../../tokens/read-token-files.ts';
import type { Io } from '../io.ts';
import { readAccess } from '../read-access.ts';
import type { Environment } from '../read-access.ts';
import { isNarrowed, selectViews } from '../selection.ts';
import type { Selection } from '../selection.ts';
import { showProgress } from '../progress.ts';
import { closeRun } from './close-run.ts';
import { failIdleThemes } from './fail-idle-themes.ts';
import { openComparer } from './compare-views.ts';
import { judgeGroups } from './judge-groups.ts';
import { openSecondLook } from './second-look.ts';
import { openRun } from './open-run.ts';
import type { PartOf } from './open-run.ts';
import { runFacts } from './run-facts.ts';
import { worthFirst } from './worth-first.ts';

export interface RunRequest {
  readonly configuration: Configuration;
  readonly store: StorePlace;
  readonly selection: Selection;
  readonly workers?: number;
  readonly label?: string;
  /** Accepted sets to compare with; the first that has a view decides. */
  readonly sets: readonly string[];
  /** Finish the run that was cut off. */
  readonly resume: boolean;
  readonly part?: PartOf;
  /** Read every view anew, also where it is as it was. */
  readonly anew: boolean;
  /** No new view is started after this time; no end when absent. */
  readonly withinMs?: number;
  readonly env: Environment;
  readonly secrets: Secrets;
  /** One that is open already and stays so. */
  readonly browser?: Browser;
  readonly signal: AbortSignal;
  readonly now: () => Date;
  readonly io: Io;
}

export interface RunOutcome {
  readonly run: RunSummary;
  /** The run was ended before every view was captured. */
  readonly ended: boolean;
  readonly failed: readonly Extract<ViewResult, { status: 'failed' }>[];
  /** Views that were not come to: the time was over, or the run was ended. */
  readonly leftOut: readonly View[];
  /** Captured, but only on a further try. */
  readonly unsteady: readonly { readonly view: View; readonly note: Note }[];
  /** Views that may not be what they say. */
  readonly doubts: readonly Doubt[];
  /** Selectors of the configuration that match nothing in any view; none where the run did not see all there is. */
  readonly idle: readonly RuleSelector[];
  readonly seconds: number;
  /** Views that are as an earlier run saw them; what that knew of them was taken over. */
  readonly unchanged: number;
  /** Where the time went. */
  readonly time: ReturnType<Stopwatch['rows']>;
}

/** @throws GloamError of every part it composes; what was captured until then is stored */
export async function executeRun(request: RunRequest): Promise<RunOutcome> {
  const { configuration, io, signal } = request;
  const watch = new Stopwatch();
  const started = request.now();
  const { withinMs = Infinity } = request;
  const end = performance.now() + withinMs;
  const isOver = (): boolean => performance.now() >= end;
  const tokens = readTokens(configuration);
  const accessAt = await readAccess(configuration, request);
  const found = await watch.time('starting', () => findBrowser(request.env));
  await using browser = browserAhead(found, request.browser);
  const app = await watch.time('starting', () => openApp(configuration.app, signal));
  try {
    const access = accessAt(app.origin);
    const toFollow = configuration.pages.kind === 'follow' ? await browser.ready() : undefined;
    const pages = await discoverPages(configuration.pages, app.origin, signal, access, toFollow);
    const { themes, viewports, reference } = configuration;
    const plan = makePlan({ origin: app.origin, pages, themes, viewports });
    const selected = selectViews(plan, request.selection, (view) => view.theme === reference);
    // It starts while the run enters the ledger.
    browser.ready().catch(() => undefined);
    await using ledger = await openLedger(request.store, { access: 'own', signal });
    const facts = runFacts(request, { started, browser: found.version });
    const { run, views } = await openRun(ledger, facts, selected, {
      resume: request.resume,
      ...(request.part === undefined ? {} : { part: request.part }),
    });
    const progress = showProgress(io, views.length);
    const failed: Extract<ViewResult, { status: 'failed' }>[] = [];
    const unsteady: RunOutcome['unsteady'][number][] = [];
    const seen = new Set<string>();
    const ruled = new Set<string>();
    const ordered = request.withinMs === undefined ? views : worthFirst(views, await ledger.standings());
    let unchanged = 0;
    const today = started.toISOString().slice(0, 10);
    const comparer = await openComparer(ledger, run, { configuration, sets: request.sets, today });
    const { previous } = await ledger.run(run);
    const before = previous === null ? [] : await readAll((slice) => ledger.views(previous, slice));
    const secondLook = openSecondLook(before, configuration.states);
    const judge = judgeGroups({ configuration, pages, views, ledger, run, today, comparer, watch, secondLook });
    let ended = false;
    try {
      const asked: Omit<RenderRequest, 'views'> = {
        configuration,
        pages,
        isOver,
        dye: dyedNames(configuration, tokens),
        // One more than there are cores: a page waits for a part of its time.
        workers: request.workers ?? availableParallelism() + 1,
        ...(access === undefined ? {} : { access }),
        signal,
        watch,
        browser: await browser.ready(),
      };
      const take = async (given: ViewResult): Promise<void> => {
        const { result, isSecond } = await judge.take(given);
        const note = result.status === 'captured' ? result.notes.find((said) => meaningOf(said) === 'tries') : undefined;
        if (note !== undefined) unsteady.push({ view: result.view, note });
        if (isSecond) return;
        if (result.status === 'failed') {
          // What fails all views alike is told once.
          if (!failed.some(({ error }) => error === result.error)) progress.note(`${result.view.id}: ${result.error}`);
          failed.push(result);
        } else if (result.reused === true) unchanged += 1;
        seen.add(result.view.id);
        if (result.status === 'captured') for (const selector of result.ruled ?? []) ruled.add(selector);
        progress.step(result.view.id, result.status === 'failed');
      };
      const known: RenderRequest['known'] = request.anew ? undefined : (view) => ledger.knownView(view.id);
      await render({ ...asked, views: ordered, ...(known === undefined ? {} : { known }) }, take);
      await render({ ...asked, views: secondLook.due() }, take);
    } catch (error) {
      // Ended by hand: what came so far is judged and kept. Anything else is a fault.
      if (!signal.aborted) throw error;
      ended = true;
    } finally {
      progress.end();
    }
    await judge.rest();
    if (!ended && !isNarrowed(request.selection) && request.part === undefined && !request.resume) {
      const captured = ordered.filter(({ id }) => seen.has(id) && !failed.some(({ view }) => view.id === id));
      const idle = judge.idleThemes();
      const from = { idle, views: captured, reference, ledger, run, access, signal };
      if (idle.length > 0) failed.push(...(await failIdleThemes({ ...from, browser: await browser.ready() })));
    }
    browser.leave();
    if (!ended && !isNarrowed(request.selection) && request.part === undefined) await comparer.vanished(plan);
    await watch.time('explaining', () =>
      closeRun({ ledger, run, configuration, tokens, pages, today, now: request.now, cut: ended, anew: request.anew }),
    );
    const seconds = (request.now().getTime() - started.getTime()) / 1000;
    const leftOut = ordered.filter(({ id }) => !seen.has(id));
    // Only a run that saw all there is can say so.
    const isWhole = !ended && failed.length + leftOut.length === 0 && !isNarrowed(request.selection) && request.part === undefined;
    const idle = isWhole && !request.resume ? ruleSelectors(configuration).filter(({ selector }) => !ruled.has(selector)) : [];
    const doubts = doubtsOf(await readAll((slice) => ledger.views(run, slice)), before, {
      pages,
      states: configuration.states,
    });
    return { run: await ledger.run(run), ended, failed, leftOut, unsteady, doubts, idle, seconds, unchanged, time: watch.rows() };
  } finally {
    await app.close();
  }
}

/** Custom properties that the tokens are served as. */
export function dyedNames(configuration: Configuration, tokens: ReadTokens | null): readonly string[] {
  const css = configuration.tokens?.css ?? [{}];
  return tokens === null ? [] : [...tokens.graph.tokens.keys()].flatMap((path) => propertyNames(path, css));
}
