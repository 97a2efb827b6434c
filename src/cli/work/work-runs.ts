// gloam work: takes groups of whichever runs there are, several side by side, until it is told to stop or nothing is left.
import { availableParallelism } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import type { Access } from '../../../runner/app/access.ts';
import type { Secrets } from '../../../runner/app/secrets.ts';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { browserAhead } from '../../../runner/browser/launch-browser.ts';
import type { BrowserAhead } from '../../../runner/browser/launch-browser.ts';
import { GloamError } from '../../errors/gloam-error.ts';
import type { StorePlace } from '../../ledger/store-at.ts';
import type { Configuration } from '../../plan/configuration.ts';
import type { TakenGroup } from '../../queue/work-queue.ts';
import { count } from '../io.ts';
import type { Io } from '../io.ts';
import type { Environment } from '../read-access.ts';
import { openBench } from './prepare-run.ts';
import type { Bench } from './prepare-run.ts';
import { AWAY_MS, isAway, isDatabaseAway, openQueue, sharedStore, START_MS, whileAway } from './shared-store.ts';
import { workGroup } from './work-group.ts';
import { asGroup } from './work-plan.ts';

/** Between questions while there is nothing to do. */
const IDLE_MS = 500;
/** Between looks after groups of workers that ended. */
const TEND_MS = 3_000;
/** What was refused for a reason that may pass (an app that is not up yet) is asked for again. */
const REFUSED_MS = 15_000;
/** Stores that others hold, and a database that goes away, are waited for: whoever started a worker ends it. */
const FOREVER_MS = 2 ** 31 - 1;

export interface WorkRequest {
  readonly configuration: Configuration;
  readonly store: StorePlace;
  /** Groups side by side. */
  readonly workers?: number;
  /** Ends once nothing is left to do; waits so long for something to begin with. Absent: goes on. */
  readonly patienceMs?: number;
  readonly env: Environment;
  readonly secrets: Secrets;
  readonly signal: AbortSignal;
  readonly io: Io;
}

export interface WorkOutcome {
  readonly groups: number;
  readonly views: number;
  /** Of these: views that could not be captured. */
  readonly failed: number;
  /** Groups that went back to the queue: this worker was ended, or something of its own went wrong. */
  readonly givenBack: number;
  /** Runs that it did not work on, with the reason. */
  readonly refused: readonly { readonly run: string; readonly why: string }[];
}

/** @throws queue-needs-database, store-unreachable, browser-not-found; work-refused where it is to end and did nothing else */
export async function workRuns(request: WorkRequest): Promise<WorkOutcome> {
  const { configuration, io, signal, secrets } = request;
  const found = await findBrowser(request.env);
  const noted = (error: unknown): void => {
    io.note(`${wordsOf(error)} Waiting for it.`);
  };
  await using queue = await whileAway(() => openQueue(request.store), { signal, mostMs: START_MS, away: noted });
  await queue.enlist();
  await using store = sharedStore(request.store, {
    doing: 'work',
    waitMs: FOREVER_MS,
    signal,
    onWait: (who) => {
      io.note(`The store is held by ${who}; waiting.`);
    },
  });
  const away = async (error: unknown): Promise<void> => {
    noted(error);
    if (isDatabaseAway(error)) await store.leave();
  };
  const lasting = { signal, mostMs: Infinity, away };
  const openedBench = (): Promise<Bench> => openBench({ configuration, found, env: request.env, secrets, signal });
  let bench: Promise<Bench> | null = null;
  const refused = new Map<string, { readonly error: unknown; readonly until: number }>();
  const outcome = { groups: 0, views: 0, failed: 0, givenBack: 0 };
  const begun = performance.now();
  let hasMetWork = false;
  let isDone = false;
  let busy = 0;
  let tendedAt = 0;

  const leaveBench = async (): Promise<void> => {
    const leaving = bench;
    bench = null;
    await store.leave();
    await (await leaving?.catch(() => null))?.[Symbol.asyncDispose]();
  };

  const excepted = (): ReadonlySet<string> => {
    for (const [run, { until }] of refused) if (performance.now() > until) refused.delete(run);
    return new Set(refused.keys());
  };

  /** Nothing was to be had. @returns whether this is the end */
  const rest = async (): Promise<boolean> => {
    if (performance.now() - tendedAt > TEND_MS) {
      tendedAt = performance.now();
      await queue.tend();
    }
    const open = (await queue.announced()).filter(({ isOpen }) => isOpen);
    const left = open.filter(({ run }) => !refused.has(run));
    hasMetWork ||= open.length > 0;
    if (busy === 0 && open.length === 0) await leaveBench();
    const { patienceMs } = request;
    return patienceMs !== undefined && left.length === 0 && (hasMetWork || performance.now() - begun > patienceMs);
  };

  /** @returns null where this machine does not take part */
  const prepared = async (taken: TakenGroup) => {
    bench ??= openedBench();
    const announced = (await queue.announced()).find(({ run }) => run === taken.run);
    // It was taken off meanwhile.
    if (announced === undefined) return null;
    try {
      const opened = await bench;
      const run = await opened.prepare(announced, await store.ledger());
      return { run, bench: opened };
    } catch (error) {
      signal.throwIfAborted();
      if (isAway(error) || !(error instanceof GloamError)) throw error;
      const why = secrets.scrub(error.message);
      io.note(why);
      const isLasting = error.code === 'work-refused';
      refused.set(taken.run, { error, until: isLasting ? Infinity : performance.now() + REFUSED_MS });
      await queue.refuse(taken.run, why);
      return null;
    }
  };

  const handBack = async (taken: TakenGroup): Promise<void> => {
    outcome.givenBack += 1;
    await queue.giveBack(taken);
  };

  const slot = async (): Promise<void> => {
    let browser: BrowserAhead | null = null;
    const accesses = new Map<Bench, Access | undefined>();
    try {
      while (!isDone) {
        signal.throwIfAborted();
        const taken = await whileAway(() => queue.take(excepted()), lasting);
        if (taken === null) {
          if (busy === 0 && browser !== null) {
            await browser[Symbol.asyncDispose]();
            browser = null;
          }
          isDone ||= await whileAway(rest, lasting);
          if (isDone) return;
          await pause(IDLE_MS, undefined, { signal });
          continue;
        }
        hasMetWork = true;
        busy += 1;
        try {
          const ready = await whileAway(() => prepared(taken), lasting);
          if (ready === null) {
            await whileAway(() => queue.giveBack(taken), lasting);
            continue;
          }
          if (!accesses.has(ready.bench)) accesses.set(ready.bench, ready.bench.access());
          if (browser !== null && !(await browser.ready()).isConnected()) {
            await browser[Symbol.asyncDispose]();
            browser = null;
          }
          browser ??= browserAhead(found);
          const on = { run: ready.run, browser, access: accesses.get(ready.bench) };
          // Rendered anew, since what it is to be held against may have changed meanwhile; given to another by then, it is not stored.
          await whileAway(() => work(taken, on), { ...lasting, mostMs: AWAY_MS });
        } catch (error) {
          if (signal.aborted) {
            await handBack(taken).catch(() => undefined);
            throw error;
          }
          outcome.givenBack += 1;
          const why = secrets.scrub(wordsOf(error));
          io.note(`${asGroup(taken.data).name}: ${why}`);
          if (isDatabaseAway(error)) await store.leave();
          await whileAway(() => queue.fail(taken, why), lasting);
        } finally {
          busy -= 1;
        }
      }
    } finally {
      await browser?.[Symbol.asyncDispose]();
    }
  };

  const work = async (
    taken: TakenGroup,
    on: Pick<Parameters<typeof workGroup>[0], 'run' | 'browser' | 'access'>,
  ): Promise<void> => {
    const { name } = asGroup(taken.data);
    const report = await workGroup({ ...on, taken, ledger: await store.ledger(), queue, signal });
    if (report === null) {
      io.note(`${name}: was given to another worker meanwhile; nothing of it was stored`);
      return;
    }
    outcome.groups += 1;
    outcome.views += report.captured + report.failed;
    outcome.failed += report.failed;
    const failures = report.failed === 0 ? '' : `, ${count(report.failed, 'failure')}`;
    io.note(`${name}: ${count(report.captured + report.failed, 'view')}${failures}, ${(report.ms / 1000).toFixed(1)} s`);
  };

  io.note('Waiting for work; Ctrl-C hands back what is in hand and ends.');
  const slots = Array.from({ length: request.workers ?? Math.max(1, availableParallelism()) }, slot);
  try {
    const ends = await Promise.allSettled(slots);
    if (!signal.aborted) for (const end of ends) if (end.status === 'rejected') throw end.reason;
  } finally {
    await leaveBench();
  }
  const [first] = refused.values();
  if (first !== undefined && outcome.groups === 0 && !signal.aborted) throw first.error;
  return { ...outcome, refused: [...refused].map(([run, { error }]) => ({ run, why: secrets.scrub(wordsOf(error)) })) };
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
