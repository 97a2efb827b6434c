// What a person reads while the run is watched: what a change made go away, what it brought, what stays.
import type { FailedView } from '../../samples/captured-view.ts';
import type { Cause } from '../../samples/finding.ts';
import type { Io, Style } from '../io.ts';
import { count } from '../io.ts';
import type { Standing } from './live-run.ts';

/** Rows of one kind; what is behind them is only counted. */
const MOST_ROWS = 12;

/** @param before null on the first round */
export function showRound(
  io: Io,
  round: { readonly before: Standing | null; readonly after: Standing; readonly failed: readonly FailedView[] },
): void {
  const { before, after, failed } = round;
  for (const { view, error } of failed.slice(0, MOST_ROWS)) io.say(`  ${io.style('red', 'failed')} ${view.id}: ${error}`);
  const then = before?.causes ?? [];
  const now = after.causes;
  if (before === null) {
    rows(io, now, (cause) => row(io, 'cyan', 'cause', cause));
  } else {
    const isIn = (list: readonly Cause[], { id }: Cause): boolean => list.some((other) => other.id === id);
    rows(
      io,
      then.filter((cause) => !isIn(now, cause)),
      (cause) => row(io, 'green', 'gone', cause),
    );
    rows(
      io,
      now.filter((cause) => !isIn(then, cause)),
      (cause) => row(io, 'red', 'new', cause),
    );
    rows(
      io,
      now.filter((cause) => isIn(then, cause)),
      (cause) => row(io, 'dim', 'stays', cause, then.find(({ id }) => id === cause.id)?.findings),
    );
  }
  const were = before === null || before.findings === after.findings ? '' : ` (were ${String(before.findings)})`;
  io.say(after.findings === 0 ? io.style('green', `No findings${were}.`) : `${count(after.findings, 'finding')}${were}.`);
}

function rows(io: Io, causes: readonly Cause[], line: (cause: Cause) => string): void {
  for (const cause of causes.slice(0, MOST_ROWS)) io.say(line(cause));
  if (causes.length > MOST_ROWS) io.say(io.style('dim', `        and ${String(causes.length - MOST_ROWS)} more`));
}

function row(io: Io, style: Style, word: string, { findings, layer, why }: Cause, were = findings): string {
  const change = were === findings ? '' : ` (were ${String(were)})`;
  return `  ${io.style(style, word.padEnd(5))} ${String(findings).padStart(5)}${change}  ${layer.padEnd(6)} ${why}`;
}
