// Cursors of lists that are read page by page: the sort key of the last row handed out, as opaque text.
import type { PageRequest, Slice } from '../records.ts';
import { cursorUnreadable } from '../../errors/ledger-errors.ts';

/** Rows of a page when nobody says; and the most anyone gets at once. */
export const PAGE_ROWS = 100;
export const MOST_PAGE_ROWS = 1000;

export function pageLimit(limit: number | undefined): number {
  return Math.min(MOST_PAGE_ROWS, Math.max(1, Math.trunc(limit ?? PAGE_ROWS)));
}

export function toCursor(ord: number, id: string): string {
  return Buffer.from(`${String(ord)} ${id}`).toString('base64url');
}

/** @throws cursor-unreadable */
export function parseCursor(cursor: string): { readonly ord: number; readonly id: string } {
  const match = /^(-?\d+) (.*)$/s.exec(Buffer.from(cursor, 'base64url').toString('utf8'));
  if (match?.[1] === undefined || match[2] === undefined) throw cursorUnreadable(cursor);
  return { ord: Number(match[1]), id: match[2] };
}

/** The whole list, read page by page. */
export async function* allOf<T>(read: (request: PageRequest) => Promise<Slice<T>>): AsyncGenerator<T> {
  let after: string | null = null;
  do {
    const slice: Slice<T> = await read({ limit: MOST_PAGE_ROWS, ...(after === null ? {} : { after }) });
    yield* slice.items;
    after = slice.next;
  } while (after !== null);
}
