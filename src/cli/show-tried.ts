// What became of a change that was put on the live pages, beside what was predicted.
import type { TryOutcome } from '../triage/try-out.ts';
import { count } from './io.ts';
import type { Io } from './io.ts';

export function showTried(io: Io, outcome: TryOutcome | null, views: number): void {
  io.say();
  if (outcome === null) {
    io.say('This repair cannot be put on a live page; it has to be made and rendered.');
    return;
  }
  const { predicted, actual, stayed, appeared } = outcome;
  io.say(
    `${io.style('bold', 'Tried')} on ${count(views, 'view')}: mends ${actual.mended} (predicted ${predicted.mended}), breaks ${actual.broken} (predicted ${predicted.broken}).`,
  );
  for (const finding of stayed.slice(0, 5)) io.say(`  still there: ${finding.page} in ${finding.theme}: ${finding.message}`);
  for (const finding of appeared.slice(0, 5)) io.say(`  new: ${finding.page} in ${finding.theme}: ${finding.message}`);
}
