// Lists that the ledger hands out page by page, read to their end.
import type { PageRequest, Slice } from '../ledger/records.ts';

/** The most the ledger gives at once. */
const SLICE = 1000;

export async function readAll<T>(read: (page: PageRequest) => Promise<Slice<T>>): Promise<readonly T[]> {
  const items: T[] = [];
  let after: string | undefined;
  do {
    const slice: Slice<T> = await read({ limit: SLICE, ...(after === undefined ? {} : { after }) });
    items.push(...slice.items);
    after = slice.next ?? undefined;
  } while (after !== undefined);
  return items;
}
