// Rows that can still be read from a damaged database, table by table; what lies on a damaged page is passed over.
import type SqliteFile from 'better-sqlite3';
import { codeOf } from '../database/ledger-fault.ts';

export type SalvagedRow = Readonly<Record<string, unknown>>;

/** Tables in the order they depend on each other; those without a rowid with the number that comes first in their key. */
export const SALVAGED: readonly { readonly table: string; readonly key: string }[] = [
  ...['run', 'view', 'blob', 'sheet', 'finding', 'cause', 'acceptance', 'difference'].map((table) => ({ table, key: 'n' })),
  ...['run_view', 'run_cause', 'coverage', 'comparison'].map((table) => ({ table, key: 'run' })),
  { table: 'accepted_picture', key: 'acceptance' },
];

/** @param key a column of whole numbers, first in the table's order */
export function* salvageRows(file: SqliteFile.Database, table: string, key: string): Generator<SalvagedRow> {
  const last = attempt(() => highest(file, table, key));
  if (last === null) {
    // The end of the table cannot be found: read from both ends as far as they go.
    const seen = new Set<string>();
    for (const order of ['asc', 'desc']) {
      for (const row of readUntilDamaged(file, `select * from "${table}" order by "${key}" ${order}`, [])) {
        const text = JSON.stringify(row);
        if (!seen.has(text)) yield row;
        seen.add(text);
      }
    }
    return;
  }
  if (last.found !== null) yield* rangeOf(file, { table, key }, 0, last.found);
}

/** Halves the range until the damaged part is as small as it gets. */
function* rangeOf(
  file: SqliteFile.Database,
  place: { readonly table: string; readonly key: string },
  low: number,
  high: number,
): Generator<SalvagedRow> {
  const text = `select * from "${place.table}" where "${place.key}" between ? and ?`;
  const rows = attempt(() => file.prepare<[number, number], SalvagedRow>(text).all(low, high));
  if (rows !== null) yield* rows;
  else if (low < high) {
    const middle = Math.floor((low + high) / 2);
    yield* rangeOf(file, place, low, middle);
    yield* rangeOf(file, place, middle + 1, high);
  } else yield* readUntilDamaged(file, text, [low, high]);
}

function* readUntilDamaged(file: SqliteFile.Database, text: string, values: readonly number[]): Generator<SalvagedRow> {
  try {
    yield* file.prepare<unknown[], SalvagedRow>(text).iterate(...values);
  } catch (error) {
    if (!isDamage(error)) throw error;
  }
}

function highest(file: SqliteFile.Database, table: string, key: string): { readonly found: number | null } {
  const row = file.prepare<[], { readonly found: number | null }>(`select max("${key}") as found from "${table}"`).get();
  return { found: row?.found ?? null };
}

/** Null where the pages are damaged. */
function attempt<T>(read: () => T): T | null {
  try {
    return read();
  } catch (error) {
    if (isDamage(error)) return null;
    throw error;
  }
}

/** A damaged schema shows as a missing table or as text that is no SQL. */
function isDamage(error: unknown): boolean {
  return /^SQLITE_(CORRUPT|NOTADB|ERROR|IOERR)/.test(codeOf(error));
}
