// Errors of the store: its lock, its database, its blobs, and what is asked of it.
import { GloamError } from './gloam-error.ts';

const reasonOf = (cause: unknown): string => (cause instanceof Error ? cause.message : String(cause));

export function storeMissing(folder: string): GloamError {
  return new GloamError({
    code: 'store-missing',
    message: `${folder}: found no store; expected one that a run has made.`,
    hint: 'Run gloam run first, or name the right one with --store.',
    data: { folder },
  });
}

/** Who holds a store, as it wrote itself down; members are absent when the note could not be read. */
export interface StoreHolder {
  readonly pid?: number;
  readonly since?: string;
  readonly doing?: string;
}

export function storeBusy(folder: string, holder: StoreHolder): GloamError {
  const who = holder.pid === undefined ? 'another process' : `process ${String(holder.pid)} (${holder.doing ?? 'gloam'})`;
  const since = holder.since === undefined ? '' : ` since ${holder.since}`;
  return new GloamError({
    code: 'store-busy',
    message: `${folder}: the store is held by ${who}${since}; expected it to be free.`,
    hint: 'Wait for that process to end, or give this one a store of its own with --store FOLDER.',
    data: { folder, holder },
  });
}

export function storeReadOnly(folder: string, cause: unknown): GloamError {
  return new GloamError({
    code: 'store-read-only',
    message: `${folder}: the store cannot be written: ${reasonOf(cause)}`,
    hint: 'Give this user the right to write there, or name another store with --store. What is stored is unharmed.',
    data: { folder },
    cause,
  });
}

export function storeFull(folder: string, cause: unknown): GloamError {
  return new GloamError({
    code: 'store-full',
    message: `${folder}: no room is left for the store: ${reasonOf(cause)}`,
    hint: 'Make room (gloam prune --keep N drops old runs), then go on with gloam run --resume. What is stored is unharmed.',
    data: { folder },
    cause,
  });
}

export function storeUnwell(folder: string, cause: unknown): GloamError {
  return new GloamError({
    code: 'store-unwell',
    message: `${folder}: the store could not be read or written: ${reasonOf(cause)}`,
    hint: 'Look at the disk; gloam doctor says what of the store is still whole.',
    data: { folder },
    cause,
  });
}

export function storeNotEmpty(place: string): GloamError {
  return new GloamError({
    code: 'store-not-empty',
    message: `${place}: found runs or accepted pictures in it; expected an empty store, or none.`,
    hint: 'Name a folder or a schema that nothing is in. gloam join brings the parts of one run together.',
    data: { place },
  });
}

/** @param found in words, without any part that may be secret */
export function storeAddressUnreadable(found: string): GloamError {
  return new GloamError({
    code: 'store-address-unreadable',
    message: `The address of the store: found ${found}; expected postgres://USER@HOST:PORT/DATABASE?schema=NAME, the schema of small letters, digits and _.`,
    hint: 'It is taken from --store, else from GLOAM_STORE, else from "store" of the configuration. gloam help many-machines tells more.',
    data: { found },
  });
}

export function storeUnreachable(place: string, cause: unknown): GloamError {
  return new GloamError({
    code: 'store-unreachable',
    message: `${place}: the database of the store cannot be reached: ${reasonOf(cause)}`,
    hint: 'Look whether it runs and lets this user in (GLOAM_STORE holds the address with its password). What is stored is unharmed; gloam run --resume goes on.',
    data: { place },
    cause,
  });
}

export function ledgerDamaged(folder: string, cause: unknown): GloamError {
  return new GloamError({
    code: 'ledger-damaged',
    message: `${folder}/ledger.sqlite: the database is damaged: ${reasonOf(cause)}`,
    hint: 'gloam doctor --mend saves what can still be read and keeps the damaged file beside it.',
    data: { folder },
    cause,
  });
}

export function ledgerNewer(folder: string, found: string, newest: string): GloamError {
  return new GloamError({
    code: 'ledger-newer',
    message: `${folder}/ledger.sqlite: found format ${found}; expected ${newest} or older.`,
    hint: 'A newer gloam wrote this store: use that version.',
    data: { folder, found, newest },
  });
}

export function blobMissing(hash: string, path: string): GloamError {
  return new GloamError({
    code: 'blob-missing',
    message: `${path}: found no file; expected the blob ${hash}.`,
    hint: 'gloam doctor lists every view that lost its picture or samples; running those views again brings them back.',
    data: { hash, path },
  });
}

export function blobDamaged(hash: string, path: string, found: string): GloamError {
  return new GloamError({
    code: 'blob-damaged',
    message: `${path}: found content with the hash ${found}; expected ${hash}.`,
    hint: 'The file was changed or damaged on disk. gloam doctor --mend sets it aside; running its views again brings it back.',
    data: { hash, path, found },
  });
}

export function samplesUnreadable(hash: string, found: string): GloamError {
  return new GloamError({
    code: 'samples-unreadable',
    message: `blob ${hash}: found ${found}; expected a table of samples this version can read.`,
    hint: 'Run the view again with this version.',
    data: { hash, found },
  });
}

/** @param known newest first, at most a few are shown */
export function runUnknown(id: string, known: readonly string[]): GloamError {
  const list = known.length === 0 ? 'the store has no runs yet' : `expected one of ${known.slice(0, 5).join(', ')}`;
  return new GloamError({
    code: 'run-unknown',
    message: `found the run "${id}"; ${list}.`,
    hint: 'gloam runs lists all runs of the store.',
    data: { id, known },
  });
}

export function runNotOpen(id: string, state: string): GloamError {
  return new GloamError({
    code: 'run-not-open',
    message: `run ${id}: found it ${state}; expected a run under way.`,
    hint: 'Only a run that has not finished takes up views and findings; start a new one.',
    data: { id, state },
  });
}

export function viewUnknown(run: string, view: string): GloamError {
  return new GloamError({
    code: 'view-unknown',
    message: `run ${run}: found no view "${view}" in its plan.`,
    hint: 'gloam export writes the ids of all views of a run into run.json.',
    data: { run, view },
  });
}

export function cursorUnreadable(cursor: string): GloamError {
  return new GloamError({
    code: 'cursor-unreadable',
    message: `found the cursor "${cursor.slice(0, 40)}"; expected one that an earlier page handed out.`,
    hint: 'Start again from the first page.',
    data: { cursor },
  });
}

export function runNotFinished(id: string): GloamError {
  return new GloamError({
    code: 'run-not-finished',
    message: `run ${id}: found it unfinished; expected a finished run.`,
    hint: 'Finish it with gloam run --resume.',
    data: { id },
  });
}

export function runForetold(id: string): GloamError {
  return new GloamError({
    code: 'run-foretold',
    message: `run ${id}: found a forecast; expected a run that was rendered.`,
    hint: 'gloam gate --forecast judges it; for all else name a rendered run: gloam runs lists them.',
    data: { id },
  });
}

export function viewNotCaptured(run: string, view: string): GloamError {
  return new GloamError({
    code: 'view-not-captured',
    message: `run ${run}: found no picture of the view "${view}"; expected a captured view.`,
    hint: 'Only captured views can be accepted; gloam runs shows which views failed.',
    data: { run, view },
  });
}

export function acceptanceUnknown(id: string): GloamError {
  return new GloamError({
    code: 'acceptance-unknown',
    message: `found the acceptance "${id}"; the store has none of that name.`,
    hint: 'gloam accept --list shows all acceptances.',
    data: { id },
  });
}

export function acceptanceUndone(id: string, at: string): GloamError {
  return new GloamError({
    code: 'acceptance-undone',
    message: `acceptance ${id}: was undone already at ${at}.`,
    hint: 'To accept these pictures again, accept the run again.',
    data: { id, at },
  });
}

export function acceptedSetUnreadable(file: string, at: string, found: string, expected: string): GloamError {
  const shown = found.length > 80 ? `${found.slice(0, 80)}…` : found;
  return new GloamError({
    code: 'accepted-set-unreadable',
    message: `${file}: ${at}: found ${shown}; expected ${expected}.`,
    hint: 'Export the set again where it came from; nothing was imported.',
    data: { file, at, found, expected },
  });
}

export function partsDoNotFit(found: string): GloamError {
  return new GloamError({
    code: 'parts-do-not-fit',
    message: `the parts cannot be joined: ${found}.`,
    hint: 'Join all finished parts of one plan, made with the same gloam, browser and configuration; nothing was joined.',
    data: { found },
  });
}

export function runExists(id: string): GloamError {
  return new GloamError({
    code: 'run-exists',
    message: `found a run "${id}" in the store already; expected a name that is free.`,
    hint: 'Give the new run another name, or drop the old one with gloam prune.',
    data: { id },
  });
}
