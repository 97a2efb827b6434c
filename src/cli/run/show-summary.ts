// What a person reads after a run: how it went, what was found per check and theme, and where to look next.
import type { RunReader } from '../../ledger/ports.ts';
import type { CountCell, RunDifference } from '../../ledger/records.ts';
import { groupBy } from '../../checks/group-by.ts';
import { CHECK_IDS } from '../../checks/table.ts';
import { doubtWords } from '../../gate/doubt-words.ts';
import type { Cause } from '../../samples/finding.ts';
import { noteWords } from '../../samples/note-words.ts';
import type { Io } from '../io.ts';
import { count } from '../io.ts';
import { showTime } from '../progress.ts';
import type { RunOutcome } from './execute-run.ts';
import { countFindings, isCounted, sumOfChecks } from '../../samples/what-counts.ts';
import { causeWords } from '../cause-words.ts';

/** How many reasons for which views failed are listed before the rest is only counted. */
const MOST_FAILED = 8;
/** How many causes a person reads before going to the report. */
const MOST_CAUSES = 12;
/** How many views that were left out, or were unsteady, are named. */
const MOST_NAMED = 10;

/** @param against what was found held against another run; null where there is none */
export async function showSummary(io: Io, ledger: RunReader, outcome: RunOutcome, against: RunDifference | null): Promise<void> {
  const { run, failed, seconds, unchanged } = outcome;
  const captured = (run.totals?.views ?? 0) - failed.length - outcome.leftOut.length;
  io.say();
  const rate = seconds > 0 ? captured / seconds : 0;
  io.say(
    `${io.style('bold', count(captured, 'view'))} captured in ${showTime(seconds)} (${rate.toFixed(1)} a second), ${unchanged === 0 ? '' : `${unchanged} of them as they were, `}${count(run.totals?.samples ?? 0, 'sample')}; run ${run.id}`,
  );
  if (outcome.ended)
    io.say(io.style('yellow', 'Ended before the plan was done: this run is incomplete; gloam run --resume goes on with it.'));
  showFailed(io, failed);
  showLeftOut(io, outcome);
  showUnsteady(io, outcome.unsteady);
  showDoubts(io, outcome.doubts);
  showIdle(io, outcome);
  showCauses(io, await ledger.causes(run.id), sumOfChecks(run.totals?.findings ?? {}));
  const cells = await ledger.counts(run.id);
  showTable(
    io,
    run.themes.map((theme) => theme.name),
    cells,
    against,
  );
}

/** Stages overlap, so their shares are of the time on the clock and may sum to more than all of it. */
export function showTimes(io: Io, { time, seconds }: RunOutcome): void {
  io.say();
  io.say(`${io.style('bold', 'stage')}        seconds   share   times   ms each`);
  for (const { stage, ms, times } of time) {
    const share = seconds > 0 ? Math.round(ms / 10 / seconds) : 0;
    const cells = [(ms / 1000).toFixed(1).padStart(8), `${share} %`.padStart(8), String(times).padStart(8)];
    io.say(`${stage.padEnd(11)}${cells.join('')}${(ms / Math.max(1, times)).toFixed(1).padStart(10)}`);
  }
  io.say(io.style('dim', 'Stages overlap: pages render side by side, and a page is read while its picture is compressed.'));
}

function showFailed(io: Io, failed: RunOutcome['failed']): void {
  if (failed.length === 0) return;
  io.say(io.style('red', `${count(failed.length, 'view')} could not be captured:`));
  const errors = [...groupBy(failed, ({ error }) => error)];
  for (const [first, ...alike] of errors.slice(0, MOST_FAILED)) {
    if (first === undefined) continue;
    io.say(`  ${first.view.id}${alike.length === 0 ? '' : ` and ${count(alike.length, 'more', 'more')}`}: ${first.error}`);
  }
  const rest = errors.slice(MOST_FAILED).flat();
  if (rest.length > 0) io.say(`  and ${rest.length} more`);
}

function showLeftOut(io: Io, { leftOut, ended }: RunOutcome): void {
  if (leftOut.length === 0 || ended) return;
  io.say(io.style('yellow', `${count(leftOut.length, 'view')} left out, the time was over; gloam run --resume goes on with them:`));
  for (const { id } of leftOut.slice(0, MOST_NAMED)) io.say(`  ${id}`);
  if (leftOut.length > MOST_NAMED) io.say(`  and ${leftOut.length - MOST_NAMED} more`);
}

/** A flake is told, not hidden. */
function showUnsteady(io: Io, unsteady: RunOutcome['unsteady']): void {
  if (unsteady.length === 0) return;
  io.say(io.style('yellow', `${count(unsteady.length, 'view')} did not come at the first try:`));
  for (const { view, note } of unsteady.slice(0, MOST_NAMED)) io.say(`  ${view.id}: ${noteWords(note)}`);
  if (unsteady.length > MOST_NAMED) io.say(`  and ${unsteady.length - MOST_NAMED} more`);
}

/** The gate asks about them; who only looks at a run sees them too. */
function showDoubts(io: Io, doubts: RunOutcome['doubts']): void {
  if (doubts.length === 0) return;
  io.say(io.style('yellow', `${count(doubts.length, 'view')} may not be what ${doubts.length === 1 ? 'it says' : 'they say'}:`));
  for (const doubt of doubts.slice(0, MOST_NAMED)) io.say(`  ${doubt.view.id}: ${doubtWords(doubt)}`);
  if (doubts.length > MOST_NAMED) io.say(`  and ${doubts.length - MOST_NAMED} more`);
}

/** Most often a slip of the pen, or what it was for is gone. */
function showIdle(io: Io, { idle }: RunOutcome): void {
  for (const { at, selector } of idle)
    io.say(`${io.style('yellow', '!')} ${at}: ${selector} matches nothing in any view; correct it or take it out.`);
}

/** `3 new, 9 known, 2 gone since run 20310504T085600-1f2e`. */
function differenceOf({ runs, fresh, unseen, known, gone }: RunDifference): string {
  const [newest = '', ...older] = runs;
  const where = unseen === 0 ? '' : ` (${unseen} of them in views not judged before)`;
  const more =
    older.length === 0
      ? ''
      : ` and, for views it did not capture, ${older.length === 1 ? `run ${older[0] ?? ''}` : `${older.length} before it`}`;
  return `${fresh} new${where}, ${known} known, ${gone} gone since run ${newest}${more}`;
}

/** Causes first: they are few, and each says where to go. The rest is told by `gloam explain` and the report. */
/** @param all findings of the run that count */
export function showCauses(io: Io, causes: readonly Cause[], all: number): void {
  if (causes.length === 0) return;
  io.say();
  io.say(`${io.style('bold', causeWords(causes, all))}, those that explain most first`);
  for (const cause of causes.slice(0, MOST_CAUSES)) {
    io.say(`  ${String(cause.findings).padStart(5)}  ${cause.layer.padEnd(7)} ${io.style('cyan', cause.id)}  ${cause.why}`);
  }
  if (causes.length > MOST_CAUSES)
    io.say(io.style('dim', `         and ${causes.length - MOST_CAUSES} more: gloam explain, gloam serve`));
}

/** How many there are, held against another run; then where. */
function showTable(io: Io, themes: readonly string[], all: readonly CountCell[], against: RunDifference | null): void {
  const { total, fresh, exempt } = countFindings(all);
  const cells = all.filter(isCounted);
  const beside = exempt === 0 ? '' : `; ${exempt} more exempt`;
  io.say();
  if (total === 0) {
    io.say(
      `${io.style('green', 'No findings.')}${against === null ? '' : ` ${differenceOf(against)}.`}${exempt === 0 ? '' : ` ${exempt} exempt.`}`,
    );
    return;
  }
  const difference = against === null ? `${fresh} new; there is no run before` : differenceOf(against);
  io.say(`${io.style('bold', count(total, 'finding'))}, ${difference}${beside}`);
  showCells(io, themes, cells);
}

/** Checks × themes; a dot is zero, so that what is there stands out. */
export function showCells(io: Io, themes: readonly string[], cells: readonly CountCell[]): void {
  const checks = CHECK_IDS.filter((check) => cells.some((cell) => cell.check === check));
  const width = Math.max(...checks.map((check) => check.length));
  const columns = themes.map((theme) => ({ theme, width: Math.max(theme.length, 5) }));
  io.say(`  ${' '.repeat(width)}  ${columns.map((c) => io.style('dim', c.theme.padStart(c.width))).join('  ')}`);
  for (const check of checks) {
    const row = columns.map((c) => {
      const n = sum(cells.filter((cell) => cell.check === check && cell.theme === c.theme));
      return n === 0 ? io.style('dim', '·'.padStart(c.width)) : String(n).padStart(c.width);
    });
    io.say(`  ${check.padEnd(width)}  ${row.join('  ')}`);
  }
}

const sum = (cells: readonly CountCell[]): number => countFindings(cells).total;
