// Which stored run a command works on, and which of its views.
import { wrongUse } from '../errors/command-errors.ts';
import type { RunReader } from '../ledger/ports.ts';
import type { PageRequest, Slice } from '../ledger/records.ts';

const ROWS_AT_ONCE = 1000;

/** @throws GloamError `wrong-use` where no run is finished yet; an unknown id is found out by the ledger */
export async function chooseRun(ledger: RunReader, id: string | undefined): Promise<string> {
  const run = id ?? (await ledger.latestRun())?.id;
  if (run === undefined) throw wrongUse('no finished run is stored yet.', 'Render one first: gloam run.');
  return run;
}

/** Every row of a paged list. */
export async function allOf<T>(read: (request: PageRequest) => Promise<Slice<T>>): Promise<readonly T[]> {
  const items: T[] = [];
  for (let after: string | null = ''; after !== null;) {
    const slice: Slice<T> = await read(after === '' ? { limit: ROWS_AT_ONCE } : { limit: ROWS_AT_ONCE, after });
    items.push(...slice.items);
    after = slice.next;
  }
  return items;
}
