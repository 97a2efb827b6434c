// gloam run --on-queue: plans a run, hands its groups to whichever workers there are, waits for them, and explains what they found.
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { Stopwatch } from '../../../runner/tab/stopwatch.ts';
import { readTokens } from '../../config/read-tokens.ts';
import { runLed } from '../../errors/queue-errors.ts';
import { readAll } from '../../gate/read-all.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import { pageGroupName } from '../../plan/plan-groups.ts';
import { count } from '../io.ts';
import { readAccess } from '../read-access.ts';
import type { RunOutcome } from '../run/execute-run.ts';
import { openRun } from '../run/open-run.ts';
import { runFacts } from '../run/run-facts.ts';
import { worthFirst } from '../run/worth-first.ts';
import { selectViews } from '../selection.ts';
import { concludeShared } from './conclude-shared.ts';
import type { LeadRequest } from './conclude-shared.ts';
import { planShared } from './plan-shared.ts';
import { sharedGroups } from './shared-groups.ts';
import { AWAY_MS, isDatabaseAway, openQueue, sharedStore, START_MS, whileAway } from './shared-store.ts';
import { takeUp } from './take-up.ts';
import { storeGivenUp, waitForGroups } from './wait-for-groups.ts';
import { WORK_FORMAT } from './work-plan.ts';
import type { WorkPlan } from './work-plan.ts';

/** @throws GloamError of every part it composes; what was stored until then is kept, and workers go on */
export async function leadRun(request: LeadRequest): Promise<RunOutcome> {
  const { configuration, io, signal } = request;
  const watch = new Stopwatch();
  const started = request.now();
  const end = performance.now() + (request.withinMs ?? Infinity);
  // First, so that nobody waits for a browser to be told that there is no queue.
  const noted = (error: unknown): void => {
    io.note(`${error instanceof Error ? error.message : String(error)} Waiting for it.`);
  };
  await using queue = await whileAway(() => openQueue(request.store), { signal, mostMs: START_MS, away: noted });
  const tokens = readTokens(configuration);
  const accessAt = await readAccess(configuration, request);
  const found = await findBrowser(request.env);
  const planned = await watch.time('starting', () => planShared(request, { found, tokens, accessAt }));
  const { reference } = configuration;
  const selected = selectViews(planned.plan, request.selection, (view) => view.theme === reference);

  await using store = sharedStore(request.store, {
    doing: 'run',
    waitMs: 0,
    signal,
    onWait: (who) => {
      io.note(`The store is held by ${who}; waiting.`);
    },
  });
  const away = async (error: unknown): Promise<void> => {
    noted(error);
    if (isDatabaseAway(error)) await store.leave();
  };
  const steadily = <T>(work: (ledger: Ledger) => Promise<T>): Promise<T> =>
    whileAway(async () => work(await store.ledger()), { signal, mostMs: AWAY_MS, away });

  const fresh: WorkPlan = {
    format: WORK_FORMAT,
    machine: planned.machine,
    pages: planned.pages,
    sets: request.sets,
    today: started.toISOString().slice(0, 10),
    anew: request.anew,
  };
  const onWait = (run: string): void => {
    io.note(`Another process leads run ${run}, or did until now; waiting a moment for its end.`);
  };
  const atStart = { signal, mostMs: START_MS, away };
  const taken = request.resume ? await whileAway(() => takeUp(queue, store, fresh, { signal, onWait }), atStart) : null;
  const facts = runFacts(request, { started, browser: found.version });
  const opened = taken ?? (await openRun(await store.ledger(), facts, selected, { resume: request.resume }));
  const { run } = opened;
  const plan = taken?.plan ?? fresh;
  const lead = taken?.lead ?? (await queue.lead(run));
  if (lead === null) throw runLed(run);

  const { before, owed, groups } = await steadily(async (ledger) => {
    const { previous } = await ledger.run(run);
    const earlier = previous === null ? [] : await readAll((slice) => ledger.views(previous, slice));
    const unfinished = await ledger.unfinished(run);
    // Whole groups: their views are judged against each other.
    const left = new Set([...(unfinished?.missing ?? []), ...(unfinished?.unchecked ?? [])].map(pageGroupName));
    const views = selected.filter((view) => left.has(pageGroupName(view)));
    const ordered = request.withinMs === undefined ? null : worthFirst(views, await ledger.standings());
    return { before: earlier, owed: views, groups: sharedGroups(views, earlier, ordered, configuration.limits?.viewMs) };
  });
  await whileAway(() => queue.announce(run, plan, groups), { signal, mostMs: AWAY_MS, away });
  io.note(
    `run ${run}: ${count(groups.length, 'group')} of ${count(owed.length, 'view')} on the queue; gloam work takes them, here or elsewhere`,
  );
  const { ended, reports } = await waitForGroups({
    queue,
    run,
    lead,
    end,
    owed: owed.length,
    io,
    signal,
    away,
    giveUp: (group) => steadily((ledger) => storeGivenUp(ledger, run, group, owed)),
  });
  const from = { run, ended, reports, plan, planned, before, queue, store, found, tokens, accessAt, watch, started, away };
  const outcome = await concludeShared(request, { ...from, isResumed: request.resume });
  await lead.release();
  return outcome;
}
