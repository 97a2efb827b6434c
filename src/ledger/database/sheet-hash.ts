// The findings of one view as a hash: equal findings are one sheet, and a sheet is held against it (prove-rows.ts).
import { hashOf } from '../blobs/blobs.ts';

/** As they enter the hash, in this order. */
export const FINDING_COLUMNS = [
  'id',
  'check',
  'level',
  'since',
  'exempt',
  'why_exempt',
  'owner',
  'key',
  'selector',
  'rect',
  'message',
  'measured',
  'expected',
] as const;

/** Hash of the findings of one view, sorted by id; which has which cause is left out, since that is told later. */
export function sheetHash(rows: readonly Readonly<Record<(typeof FINDING_COLUMNS)[number], unknown>>[]): string {
  return hashOf(JSON.stringify(rows.map((row) => Object.fromEntries(FINDING_COLUMNS.map((name) => [name, row[name]])))));
}
