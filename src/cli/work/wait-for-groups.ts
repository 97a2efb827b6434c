// Whoever leads a run looks at the queue until all its groups ended, tells how far it is, and stores what was given up.
import { setTimeout as pause } from 'node:timers/promises';
import { groupGivenUp } from '../../errors/queue-errors.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { EndedGroup, Lead, WorkQueue } from '../../queue/work-queue.ts';
import type { View } from '../../samples/view.ts';
import type { Io } from '../io.ts';
import { showProgress } from '../progress.ts';
import { AWAY_MS, whileAway } from './shared-store.ts';
import { asGroup, asReport } from './work-plan.ts';
import type { GroupReport } from './work-plan.ts';

/** Between looks at the queue. */
const LOOK_MS = 500;
/** Without any worker for so long, a line says so. */
const LONELY_MS = 15_000;

/** All its groups ended, or were taken back. */
export async function waitForGroups(from: {
  readonly queue: WorkQueue;
  readonly run: string;
  readonly lead: Lead;
  readonly end: number;
  readonly owed: number;
  readonly io: Io;
  readonly signal: AbortSignal;
  readonly away: (error: unknown) => Promise<void>;
  readonly giveUp: (ended: EndedGroup & { kind: 'given-up' }) => Promise<void>;
}): Promise<{ readonly ended: boolean; readonly reports: ReadonlyMap<string, GroupReport> }> {
  const { queue, run, io, signal } = from;
  const progress = showProgress(io, from.owed);
  const reports = new Map<string, GroupReport>();
  const told = new Set<string>();
  let isWithdrawn = false;
  let lonelySince = performance.now();
  let isLonelyTold = false;
  let isLeadTold = false;
  const takeIn = async (ended: readonly EndedGroup[]): Promise<void> => {
    for (const one of ended) {
      if (told.has(one.id)) continue;
      const { name, views } = asGroup(one.data);
      if (one.kind === 'given-up') {
        await from.giveUp(one);
        progress.note(groupGivenUp(name, one.tries, one.why).message);
        for (const view of views) progress.step(view, true);
      } else {
        const report = asReport(one.report);
        reports.set(one.id, report);
        for (const [place] of views.entries()) progress.step(name, place < report.failed);
      }
      told.add(one.id);
    }
  };
  const look = async (): Promise<boolean> => {
    await queue.tend();
    if (!isWithdrawn && performance.now() >= from.end) {
      await queue.withdraw(run);
      isWithdrawn = true;
    }
    const { waiting, underWay, workers, ended, refusals } = await queue.standing(run, { sinceStart: reports.size === 0 });
    await takeIn(ended);
    for (const { worker, why } of refusals) {
      const key = `${worker}\n${why}`;
      if (!told.has(key)) progress.note(`${worker} does not take part: ${why}`);
      told.add(key);
    }
    if (workers > 0 || underWay > 0) {
      lonelySince = performance.now();
      isLonelyTold = false;
    } else if (!isLonelyTold && performance.now() - lonelySince > LONELY_MS) {
      progress.note(`No worker asks for work: start gloam work on this machine or any other that sees the store.`);
      isLonelyTold = true;
    }
    if (from.lead.isLost() && !isLeadTold) progress.note(`The lead of run ${run} was lost with its connection; it is taken again.`);
    isLeadTold = from.lead.isLost();
    return waiting + underWay === 0;
  };
  try {
    while (!(await whileAway(look, { signal, mostMs: AWAY_MS, away: from.away }))) await pause(LOOK_MS, undefined, { signal });
    // In another order than they began, transactions may have ended after the last look.
    const all = async (): Promise<void> => takeIn((await queue.standing(run, { sinceStart: true })).ended);
    await whileAway(all, { signal, mostMs: AWAY_MS, away: from.away });
    return { ended: false, reports };
  } catch (error) {
    // Ended by hand: nothing more is handed out, and what workers have in hand is not wanted any more.
    if (!signal.aborted) throw error;
    await queue.retire(run);
    return { ended: true, reports };
  } finally {
    progress.end();
  }
}

/** Its views are told as failed, unless somebody stored them after all. */
export async function storeGivenUp(
  ledger: Ledger,
  run: string,
  { data, tries, why }: EndedGroup & { kind: 'given-up' },
  planned: readonly View[],
): Promise<void> {
  const { name, views: ids } = asGroup(data);
  const wanted = new Set(ids);
  const views = planned.filter(({ id }) => wanted.has(id));
  const { code, message } = groupGivenUp(name, tries, why);
  const kept = await Promise.all(views.map((view) => ledger.keepView({ view, status: 'failed', ms: 0, code, error: message })));
  const findings = views.map((view) => ({ view, findings: [] }));
  await ledger.storeGroup(run, { views: kept, comparisons: [], findings }, () => Promise.resolve(true));
}
