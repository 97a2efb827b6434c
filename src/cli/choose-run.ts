// Which stored run a command works on, and which of its views.
import { wrongUse } from '../errors/command-errors.ts';
import type { RunReader } from '../ledger/ports.ts';
import type { PageRequest, RunSummary, Slice } from '../ledger/records.ts';
import type { Io } from './io.ts';

const ROWS_AT_ONCE = 1000;

export interface LastRun {
  /** The last that was asked for as a whole; while there is none, the last that finished. */
  readonly run: RunSummary;
  /** A later one that saw a part only. */
  readonly newer: RunSummary | null;
}

/** What is known of the app is what a whole run saw: one that was narrowed, divided or ended by hand says nothing of the rest. */
export async function lastRun(ledger: Pick<RunReader, 'runs' | 'latestRun'>): Promise<LastRun | null> {
  const newest = await ledger.latestRun();
  if (newest === undefined) return null;
  const [whole] = await ledger.runs({ state: 'finished', whole: true, limit: 1 });
  return whole === undefined || whole.id === newest.id ? { run: newest, newer: null } : { run: whole, newer: newest };
}

/**
 * The run named, else the last whole one; where a newer one saw a part only, a line says so.
 * @throws GloamError `wrong-use` where no run is finished yet; an unknown id is found out by the ledger
 */
export async function chooseRun(
  { ledger, io }: { readonly ledger: Pick<RunReader, 'run' | 'runs' | 'latestRun'>; readonly io: Io },
  id: string | undefined,
): Promise<RunSummary> {
  if (id !== undefined) return ledger.run(id);
  const last = needRun(await lastRun(ledger));
  sayNewer(io, last);
  return last.run;
}

/**
 * The run that has the finding or the cause: the one named, else the last whole one, else the newer one in part, since what a run
 * has just told is to be found.
 */
export async function runWith(
  { ledger, io }: { readonly ledger: Pick<RunReader, 'run' | 'runs' | 'latestRun'>; readonly io: Io },
  id: string | undefined,
  has: (run: string) => Promise<boolean>,
): Promise<RunSummary> {
  if (id !== undefined) return ledger.run(id);
  const last = needRun(await lastRun(ledger));
  if (last.newer === null || (await has(last.run.id)) || !(await has(last.newer.id))) return last.run;
  io.note(`It is of run ${last.newer.id}, which ${partWords(last.newer)}; the last whole run, ${last.run.id}, does not have it.`);
  return last.newer;
}

/** One line, where a newer run saw a part only. */
export function sayNewer(io: Io, { run, newer }: LastRun): void {
  if (newer === null) return;
  io.note(`Of run ${run.id}, the last whole one. Run ${newer.id} is newer but ${partWords(newer)}: --run ${newer.id} asks for it.`);
}

/** How it came that it is no whole run. */
export function partWords({ narrowed, part }: Pick<RunSummary, 'narrowed' | 'part'>): string {
  if (narrowed) return 'was narrowed to some views';
  return part === null ? 'was ended by hand' : `is part ${String(part.index)} of ${String(part.of)}`;
}

/** @throws GloamError `wrong-use` */
export function needRun<T>(found: T | null | undefined): T {
  if (found === null || found === undefined) throw wrongUse('no finished run is stored yet.', 'Render one first: gloam run.');
  return found;
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
