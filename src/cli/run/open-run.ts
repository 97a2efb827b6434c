// A run enters the ledger: the whole plan, the part of it that was asked for, or what a killed run still owes.
import { wrongUse } from '../../errors/command-errors.ts';
import type { RunReader, RunWriter } from '../../ledger/ports.ts';
import type { NewRun, RunPart } from '../../ledger/records.ts';
import { groupId } from '../../plan/make-plan.ts';
import { REST_STATE } from '../../samples/view.ts';
import type { View } from '../../samples/view.ts';

export interface PartOf {
  /** 1 to `of`. */
  readonly index: number;
  readonly of: number;
}

export interface OpenedRun {
  readonly run: string;
  /** Views to render now. */
  readonly views: readonly View[];
}

export async function openRun(
  ledger: RunReader & RunWriter,
  facts: Omit<NewRun, 'views' | 'part'>,
  views: readonly View[],
  how: { readonly resume: boolean; readonly part?: PartOf },
): Promise<OpenedRun> {
  if (how.resume) return resumeRun(ledger, views);
  if (how.part === undefined) return { run: await ledger.beginRun({ ...facts, views }), views };
  const part = partOf(views, how.part);
  const mine = new Set(part.views);
  return { run: await ledger.beginRun({ ...facts, views, part }), views: views.filter((view) => mine.has(view.id)) };
}

/**
 * Pages are dealt out in turn, so that neighbours, often of one size, do not all meet in one part; a page's states stay with the
 * page at rest, since what that shows is not listed anew in them.
 */
function partOf(views: readonly View[], { index, of }: PartOf): RunPart {
  const pageOf = (view: View): string => groupId({ ...view, state: REST_STATE });
  const pages = [...new Set(views.map(pageOf))];
  const mine = new Set(pages.filter((_, place) => place % of === index - 1));
  return { index, of, views: views.filter((view) => mine.has(pageOf(view))).map((view) => view.id) };
}

/** One whose time was over, or that was ended by hand, was finished without some of its views. */
async function leftOutRun(ledger: RunReader & RunWriter): ReturnType<RunReader['unfinished']> {
  const run = await ledger.reopenRun();
  return run === null ? null : ledger.unfinished(run);
}

/** A group is judged as a whole, so all of its views are rendered again where one is owed. */
async function resumeRun(ledger: RunReader & RunWriter, views: readonly View[]): Promise<OpenedRun> {
  const unfinished = (await ledger.unfinished()) ?? (await leftOutRun(ledger));
  if (unfinished === null) throw wrongUse('--resume: no run of this store was cut off.', 'Start a new one: gloam run.');
  const owed = new Set([...unfinished.missing, ...unfinished.unchecked].map(groupId));
  const known = new Set(views.map(groupId));
  const lost = [...owed].find((group) => !known.has(group));
  if (lost !== undefined) {
    throw wrongUse(
      `--resume: ${lost} of run ${unfinished.run.id} is no longer in the plan.`,
      'The configuration has changed since: start a new run.',
    );
  }
  return { run: unfinished.run.id, views: views.filter((view) => owed.has(groupId(view))) };
}
