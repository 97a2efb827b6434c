// What SQLite and the file system report → an error that says what to do about the store.
import { GloamError } from '../../errors/gloam-error.ts';
import { ledgerDamaged, storeFull, storeReadOnly, storeUnwell } from '../../errors/ledger-errors.ts';

const FULL = ['SQLITE_FULL', 'ENOSPC', 'EDQUOT', 'EFBIG'];
const READ_ONLY = ['SQLITE_READONLY', 'SQLITE_CANTOPEN', 'EROFS', 'EACCES', 'EPERM'];
const DAMAGED = ['SQLITE_CORRUPT', 'SQLITE_NOTADB'];
const UNWELL = ['SQLITE_IOERR', 'SQLITE_BUSY', 'EIO', 'EMFILE', 'ENFILE', 'ENOTDIR', 'EISDIR', 'EEXIST'];

/** The `code` of an error of SQLite or Node, extended codes included; '' where there is none. */
export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}

/** @returns an error of the catalogue; anything that is no trouble of the store comes back as it was */
export function ledgerFault(folder: string, error: unknown): unknown {
  if (error instanceof GloamError) return error;
  const code = codeOf(error);
  const among = (codes: readonly string[]): boolean => codes.some((c) => code === c || code.startsWith(`${c}_`));
  if (among(FULL)) return storeFull(folder, error);
  if (among(READ_ONLY)) return storeReadOnly(folder, error);
  // Columns hold JSON that the ledger wrote: what cannot be read back was damaged.
  if (among(DAMAGED) || error instanceof SyntaxError) return ledgerDamaged(folder, error);
  if (among(UNWELL)) return storeUnwell(folder, error);
  return error;
}
