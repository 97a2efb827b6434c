// Errors of work that several machines share.
import { GloamError } from './gloam-error.ts';

export function queueNeedsDatabase(folder: string): GloamError {
  return new GloamError({
    code: 'queue-needs-database',
    message: `${folder}: found a store that is a folder; expected a database, since machines share work through it.`,
    hint: 'Name one with --store or GLOAM_STORE (gloam help many-machines), or leave --on-queue out.',
    data: { folder },
  });
}

/** @param differences `what: found …, expected …` */
export function workRefused(run: string, differences: readonly string[]): GloamError {
  return new GloamError({
    code: 'work-refused',
    message: `run ${run}: this machine is not like the one that planned it, and its pictures might differ:\n${differences.map((line) => `  ${line}`).join('\n')}`,
    hint: 'Give all machines the same gloam, browser, fonts, configuration and app; an image for all of them is the surest way.',
    data: { run, differences },
  });
}

/** @param run null: whichever was to be taken up */
export function runLed(run: string): GloamError {
  return new GloamError({
    code: 'run-led',
    message: `run ${run}: found another process that leads it; expected none.`,
    hint: 'It goes on by itself: look at its output, or end it and call gloam run --on-queue --resume once more.',
    data: { run },
  });
}

/** Views of a group that no worker brought to an end. */
export function groupGivenUp(group: string, tries: number, why: string): GloamError {
  return new GloamError({
    code: 'group-given-up',
    message: `${group}: given up after ${tries === 1 ? '1 try' : `${String(tries)} tries`}, the last one: ${why}`,
    hint: 'Render its page alone on one machine (gloam run --page) to see what it does there.',
    data: { group, tries, why },
  });
}
