// The store and its queue as those see them who share a run: opened when they are wanted, opened again where the database went away.
import { hostname } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import { GloamError } from '../../errors/gloam-error.ts';
import { openLedger } from '../../ledger/ledger.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import { storeAt } from '../../ledger/store-at.ts';
import type { StorePlace } from '../../ledger/store-at.ts';
import { queueAt } from '../../queue/queue-at.ts';
import type { WorkQueue } from '../../queue/work-queue.ts';

/** A database that is away for longer ends a run; it can be resumed. */
export const AWAY_MS = 10 * 60_000;
/** To begin with, a database that does not answer is waited for no longer: its address may be wrong. */
export const START_MS = 60_000;
/** Between tries while the database is away. */
const AGAIN_MS = 1_000;

export interface SharedStore extends AsyncDisposable {
  /** @param doing as others that want the store are told */
  ledger(): Promise<Ledger>;
  /** Nobody needs to wait for us any more; the next call of `ledger` opens it again. */
  leave(): Promise<void>;
}

/** @throws queue-needs-database, store-unreachable */
export async function openQueue(place: StorePlace): Promise<WorkQueue> {
  const { place: name, folder } = await storeAt(place);
  const who = `${hostname()}, process ${String(process.pid)}`;
  return queueAt(typeof place === 'string' ? null : { address: place.address, schema: place.schema, place: name, who }, folder);
}

export function sharedStore(
  place: StorePlace,
  how: { readonly doing: string; readonly waitMs: number; readonly signal: AbortSignal; readonly onWait: (who: string) => void },
): SharedStore {
  let open: Promise<Ledger> | null = null;
  const leave = async (): Promise<void> => {
    const leaving = open;
    open = null;
    await (await leaving?.catch(() => null))?.close().catch(() => undefined);
  };
  return {
    ledger: () => {
      open ??= openLedger(place, {
        access: 'share',
        doing: how.doing,
        waitMs: how.waitMs,
        signal: how.signal,
        onWait: ({ doing, pid }) => {
          how.onWait(pid === undefined ? 'another process' : `process ${String(pid)} (${doing ?? 'gloam'})`);
        },
      });
      open.catch(() => {
        open = null;
      });
      return open;
    },
    leave,
    [Symbol.asyncDispose]: leave,
  };
}

/** The database or the bucket does not answer: what was asked may be asked again later. */
export function isAway(error: unknown): boolean {
  return isDatabaseAway(error) || (error instanceof GloamError && error.code === 'bucket-unreachable');
}

/** Then the store is to be opened anew. */
export function isDatabaseAway(error: unknown): boolean {
  return error instanceof GloamError && error.code === 'store-unreachable';
}

/**
 * @param away told once, when it begins @param mostMs after so long it is an error
 * @throws what `work` throws, the reason of an abort
 */
export async function whileAway<T>(
  work: () => Promise<T>,
  how: { readonly signal: AbortSignal; readonly mostMs: number; readonly away: (error: unknown) => Promise<void> | void },
): Promise<T> {
  const end = performance.now() + how.mostMs;
  for (let told = false; ; told = true) {
    try {
      return await work();
    } catch (error) {
      if (!isAway(error) || performance.now() > end) throw error;
      if (!told) await how.away(error);
      await pause(AGAIN_MS, undefined, { signal: how.signal });
    }
  }
}
