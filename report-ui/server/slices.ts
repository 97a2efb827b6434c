// Lists are answered in parts: cursors that are plain indexes, and parts that stay below a size whatever hostile texts they hold.

/** Bytes of JSON an answer's list may have; contract of the API: no list answer above 200 KB. */
const MOST_BYTES = 180_000;

/** @param after `next` of the part before; anything that is no index starts at 0 */
export function startOf(after: string | undefined): number {
  const start = Number(after ?? '0');
  return Number.isSafeInteger(start) && start > 0 ? start : 0;
}

export interface Part<T> {
  readonly items: readonly T[];
  readonly next: string | null;
}

/** Items from `start` on that fit, at least one. */
export function partOf<T>(all: readonly T[], start: number, most: number): Part<T> {
  const items = fitting(all.slice(start, start + most));
  const end = start + items.length;
  return { items, next: end < all.length ? String(end) : null };
}

/** As many items from the front as fit into an answer, at least one. */
export function fitting<T>(items: readonly T[]): readonly T[] {
  let bytes = 0;
  const end = items.findIndex((item, index) => {
    bytes += Buffer.byteLength(JSON.stringify(item)) + 1;
    return bytes > MOST_BYTES && index > 0;
  });
  return end < 0 ? items : items.slice(0, end);
}

/** A part of a list that the ledger pages itself: asked again for fewer items when it does not fit. */
export async function fittingSlice<T>(
  read: (limit: number) => Promise<{ readonly items: readonly T[]; readonly next: string | null }>,
  most: number,
): Promise<Part<T>> {
  const slice = await read(most);
  if (most === 1 || fitting(slice.items).length === slice.items.length) return slice;
  return fittingSlice(read, Math.max(1, Math.floor(most / 3)));
}
