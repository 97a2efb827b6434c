// What an engine and the file system report → an error that says what to do about the store.
import { GloamError } from '../../errors/gloam-error.ts';
import { storeFull, storeReadOnly, storeUnwell } from '../../errors/ledger-errors.ts';

/** Codes of an engine by what is to be done about them; a code stands for those that go on with `_` too. */
export interface FaultCodes {
  readonly full: readonly string[];
  readonly readOnly: readonly string[];
  readonly damaged: readonly string[];
  readonly unwell: readonly string[];
}

/** What an engine says of rows that cannot be read back. */
export type DamagedError = (place: string, cause: unknown) => GloamError;

/** Those of the file system: blobs are files with every engine. */
const FILES: FaultCodes = {
  full: ['ENOSPC', 'EDQUOT', 'EFBIG'],
  readOnly: ['EROFS', 'EACCES', 'EPERM'],
  damaged: [],
  unwell: ['EIO', 'EMFILE', 'ENFILE', 'ENOTDIR', 'EISDIR', 'EEXIST'],
};

/** The `code` of an error of an engine or of Node, extended codes included; '' where there is none. */
export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

/** @returns an error of the catalogue; anything that is no trouble of the store comes back as it was */
export function ledgerFault(
  place: string,
  error: unknown,
  { codes: engine, damaged }: { readonly codes: FaultCodes; readonly damaged: DamagedError },
): unknown {
  if (error instanceof GloamError) return error;
  const code = codeOf(error);
  const among = (kind: keyof FaultCodes): boolean =>
    [...engine[kind], ...FILES[kind]].some((known) => code === known || code.startsWith(`${known}_`));
  if (among('full')) return storeFull(place, error);
  if (among('readOnly')) return storeReadOnly(place, error);
  // Columns hold JSON that the ledger wrote: what cannot be read back was damaged.
  if (among('damaged') || error instanceof SyntaxError) return damaged(place, error);
  if (among('unwell')) return storeUnwell(place, error);
  return error;
}
