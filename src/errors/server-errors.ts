// Errors of the report server: what it will not do, told to whoever starts it or asks it.
import { GloamError } from './gloam-error.ts';

export function beyondLoopback(host: string): GloamError {
  return new GloamError({
    code: 'beyond-loopback',
    message: `host "${host}" can be reached from other machines; expected a loopback address unless that is asked for.`,
    hint: 'Leave the host at 127.0.0.1, or allow other machines explicitly and set a secret.',
    data: { host },
  });
}

/** @param least number of characters a secret must have */
export function secretTooShort(least: number, found: number): GloamError {
  return new GloamError({
    code: 'secret-too-short',
    message: `the secret has ${String(found)} characters; expected at least ${String(least)}.`,
    hint: 'Use a long random text; whoever knows it can read every picture in the store.',
    data: { least, found },
  });
}

export function portTaken(host: string, port: number, cause: unknown): GloamError {
  const reason = cause instanceof Error ? cause.message : String(cause);
  return new GloamError({
    code: 'port-taken',
    message: `cannot listen on ${host}, port ${String(port)}: ${reason}`,
    hint: 'End the other program or choose another port (0: any free one).',
    data: { host, port },
    cause,
  });
}

export function pageNotBuilt(folder: string): GloamError {
  return new GloamError({
    code: 'page-not-built',
    message: `${folder}: found no index.html; expected the built report page.`,
    hint: 'Run npm run build:web once.',
    data: { folder },
  });
}

/** A report would be written over files of something else. @param found one of them */
export function folderTaken(folder: string, found: string): GloamError {
  return new GloamError({
    code: 'folder-taken',
    message: `${folder}: found ${found}, which is no part of a report; expected a new or empty folder, or an earlier report.`,
    hint: 'Name another folder; nothing was written.',
    data: { folder, found },
  });
}

/** A request that does not fit its schema. @param at path inside the request, e.g. `query.after` */
export function requestUnreadable(at: string, found: string, expected: string): GloamError {
  return new GloamError({
    code: 'request-unreadable',
    message: `${at}: found ${found}; expected ${expected}.`,
    hint: 'The API document (#/api) says what each request takes.',
    data: { at },
  });
}

export function requestRefused(why: string, hint: string): GloamError {
  return new GloamError({ code: 'request-refused', message: why, hint });
}

export function readOnlyReport(): GloamError {
  return new GloamError({
    code: 'read-only-report',
    message: 'This report was started read-only; nothing can be changed.',
    hint: 'Start it without the read-only option.',
  });
}

export function answersUnreadable(path: string, cause: unknown): GloamError {
  return new GloamError({
    code: 'answers-unreadable',
    message: `${path}: found no list of answers of the format gloam-answers/1.`,
    hint: 'Put the file back as it was, or move it away: answers given so far are then forgotten, accepted pictures and exemptions are not.',
    data: { path },
    cause,
  });
}

export function answerUnknown(id: string): GloamError {
  return new GloamError({
    code: 'answer-unknown',
    message: `answer "${id.slice(0, 200)}": found none of that id; expected one that was given and not taken back.`,
    hint: 'Reload the queue: somebody else may have taken it back.',
    data: { id },
  });
}

export function nothingHere(path: string): GloamError {
  return new GloamError({
    code: 'nothing-here',
    message: `found nothing at ${path.slice(0, 200)}.`,
    hint: 'The API document (#/api) lists what there is.',
  });
}

export function nothingToAccept(): GloamError {
  return new GloamError({
    code: 'nothing-to-accept',
    message: 'None of the pictures asked for differs from the accepted one.',
    hint: 'Reload the page; somebody may have accepted them already.',
  });
}

/** @param answer what came instead */
export function siteUnanswered(address: string, answer: string): GloamError {
  return new GloamError({
    code: 'site-unanswered',
    message: `${address.slice(0, 200)}: the report gave no answer to file: ${answer.slice(0, 300)}`,
    hint: 'gloam doctor says what of the store is still whole.',
    data: { address },
  });
}

/** @param what is under way, in words */
export function benchBusy(what: string): GloamError {
  return new GloamError({
    code: 'bench-busy',
    message: `the bench is busy: ${what}; expected to be asked one thing at a time.`,
    hint: 'Wait until it is done, or end it.',
  });
}

/** @param why in words */
export function benchUnable(why: string): GloamError {
  return new GloamError({
    code: 'bench-unable',
    message: `the bench cannot do that: ${why.slice(0, 600)}`,
    hint: 'Mends, breaks and recoloured pictures are shown without it.',
  });
}
