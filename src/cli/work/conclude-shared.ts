// All groups of a shared run ended: what only the whole tells is added, findings are explained, and the run is finished.
import { openApp } from '../../../runner/app/open-app.ts';
import type { FoundBrowser } from '../../../runner/browser/find-browser.ts';
import { browserAhead } from '../../../runner/browser/launch-browser.ts';
import type { Stopwatch } from '../../../runner/tab/stopwatch.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import { doubtsOf } from '../../gate/doubts.ts';
import { readAll } from '../../gate/read-all.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { StoredView } from '../../ledger/records.ts';
import { makePlan } from '../../plan/make-plan.ts';
import { ruleSelectors } from '../../plan/rule-selectors.ts';
import type { WorkQueue } from '../../queue/work-queue.ts';
import type { FailedView } from '../../samples/captured-view.ts';
import { meaningOf } from '../../samples/note-words.ts';
import type { View } from '../../samples/view.ts';
import type { readAccess } from '../read-access.ts';
import { closeRun } from '../run/close-run.ts';
import { openComparer } from '../run/compare-views.ts';
import type { RunOutcome, RunRequest } from '../run/execute-run.ts';
import { failIdleThemes } from '../run/fail-idle-themes.ts';
import { openThemeEffects } from '../run/theme-effects.ts';
import { isNarrowed } from '../selection.ts';
import type { PlannedShared } from './plan-shared.ts';
import { AWAY_MS, whileAway } from './shared-store.ts';
import type { SharedStore } from './shared-store.ts';
import type { GroupReport, WorkPlan } from './work-plan.ts';

export type LeadRequest = Omit<RunRequest, 'part' | 'workers' | 'browser'>;

interface Gathered {
  readonly run: string;
  /** By hand, before its plan was done. */
  readonly ended: boolean;
  readonly reports: ReadonlyMap<string, GroupReport>;
  readonly plan: WorkPlan;
  readonly planned: PlannedShared;
  /** Views of the run before. */
  readonly before: readonly StoredView[];
  readonly isResumed: boolean;
  readonly queue: WorkQueue;
  readonly store: SharedStore;
  readonly found: FoundBrowser;
  readonly tokens: ReadConfigured | null;
  readonly accessAt: Awaited<ReturnType<typeof readAccess>>;
  readonly watch: Stopwatch;
  readonly started: Date;
  readonly away: (error: unknown) => Promise<void>;
}

export async function concludeShared(request: LeadRequest, from: Gathered): Promise<RunOutcome> {
  const { configuration } = request;
  const { run, ended, plan, queue, store, tokens, watch } = from;
  const reports = [...from.reports.values()];
  // Ended by hand: what came so far is closed all the same.
  const signal = ended ? new AbortController().signal : request.signal;
  const lasting = { signal, mostMs: AWAY_MS, away: from.away };
  const isWide = !ended && !isNarrowed(request.selection);
  const isWhole = isWide && !from.isResumed;
  await watch.time('explaining', () =>
    whileAway(async () => {
      const ledger = await store.ledger();
      // Once more after the connection broke: it may have been done.
      if ((await ledger.run(run)).state !== 'running') return;
      if (isWhole) await failIdle(ledger, request, { ...from, signal });
      const { today, sets, pages } = plan;
      if (isWide) await (await openComparer(ledger, run, { configuration, sets, today })).vanished(from.planned.plan);
      await closeRun({ ledger, run, configuration, tokens, pages, today, now: request.now, cut: ended, anew: plan.anew });
    }, lasting),
  );
  await whileAway(() => queue.retire(run), lasting);
  const { summary, rows } = await whileAway(async () => {
    const ledger = await store.ledger();
    return { summary: await ledger.run(run), rows: await readAll((slice) => ledger.views(run, slice)) };
  }, lasting);
  const failed = rows
    .filter(({ status }) => status === 'failed')
    .map((row): FailedView => ({
      view: viewOf(row),
      status: 'failed',
      ms: row.ms ?? 0,
      code: row.code ?? '',
      error: row.error ?? '',
    }));
  const leftOut = rows.filter(({ status }) => status === 'planned').map(viewOf);
  const ruled = new Set(reports.flatMap((report) => report.ruled));
  const sawAll = isWhole && failed.length + leftOut.length === 0;
  return {
    run: summary,
    ended,
    failed,
    leftOut,
    unsteady: rows.flatMap((row) => {
      const note = row.status === 'captured' ? row.notes.find((said) => meaningOf(said) === 'tries') : undefined;
      return note === undefined ? [] : [{ view: viewOf(row), note }];
    }),
    doubts: doubtsOf(rows, from.before, { pages: plan.pages, states: configuration.states }),
    idle: sawAll ? ruleSelectors(configuration).filter(({ selector }) => !ruled.has(selector)) : [],
    seconds: (request.now().getTime() - from.started.getTime()) / 1000,
    unchanged: reports.reduce((sum, report) => sum + report.unchanged, 0),
    time: sumOfTimes([...reports.map((report) => report.time), watch.rows()]),
  };
}

/** A theme that changed no colour in any group was not put on. */
async function failIdle(
  ledger: Ledger,
  { configuration }: LeadRequest,
  from: Pick<Gathered, 'run' | 'plan' | 'reports' | 'found' | 'accessAt'> & { readonly signal: AbortSignal },
): Promise<void> {
  const { run, plan, signal } = from;
  const { themes, viewports, reference } = configuration;
  const effects = openThemeEffects(themes, reference);
  for (const report of from.reports.values()) effects.join(report.effects);
  const idle = effects.idle();
  if (idle.length === 0) return;
  const rows = await readAll((slice) => ledger.views(run, { status: 'captured', ...slice }));
  const captured = new Set(rows.map(({ id }) => id));
  await using browser = browserAhead(from.found);
  const app = await openApp(configuration.app, signal);
  try {
    const { origin } = app;
    const views = makePlan({ origin, pages: plan.pages, themes, viewports }).filter(({ id }) => captured.has(id));
    const access = from.accessAt(origin);
    await failIdleThemes({ idle, views, reference, ledger, run, access, signal, browser: await browser.ready() });
  } finally {
    await app.close();
  }
}

function viewOf({ id, page, theme, state, viewport, url }: StoredView): View {
  return { id, page, theme, state, viewport, url };
}

/** Of all machines together. */
function sumOfTimes(lists: readonly RunOutcome['time'][]): RunOutcome['time'] {
  const sums = new Map<string, RunOutcome['time'][number]>();
  for (const { stage, ms, times } of lists.flat()) {
    const sum = sums.get(stage) ?? { stage, ms: 0, times: 0 };
    sums.set(stage, { stage, ms: sum.ms + ms, times: sum.times + times });
  }
  return [...sums.values()];
}
