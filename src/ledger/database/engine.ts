// The port to a store: what a database engine does for the ledger besides answering the statements of `read`, `write` and `care`. Those
// are SQL that all engines understand; whatever one of them says in its own way stands behind this. One folder beside this for each.
import type { Kysely, RawBuilder } from 'kysely';
import type { StoreHolder } from '../../errors/ledger-errors.ts';
import type { Blobs } from '../blobs/blobs.ts';
import type { StoreFault } from '../care/store-fault.ts';
import type { LedgerSchema } from './schema.ts';

/**
 * `read` writes nothing; `edit` makes short changes beside a run; `own` holds the store alone among those that own it; `share` holds
 * it together with others that share it, so that nobody owns it meanwhile.
 */
export type Access = 'read' | 'edit' | 'share' | 'own';

/** A store that may be opened. */
export interface Store {
  /** As messages name it. */
  readonly place: string;
  /** Folder on this machine for what can be made again: small pictures. */
  readonly folder: string;
  readonly blobs: Blobs;
  /** Whether anything was ever stored. */
  exists(): Promise<boolean>;
  /** Makes the store where it is missing. */
  lock(options: LockOptions): Promise<StoreLock>;
  /**
   * The rows, their tables brought up to date.
   * @param lock takes the store's lock; undefined when it is held already @throws store-missing, ledger-newer, ledger-damaged …
   */
  open(access: Access, lock: (() => Promise<StoreLock>) | undefined): Promise<Engine>;
  /** What the engine itself finds wrong, mended where that is asked. For the holder of the lock. */
  examine(options: { readonly mend: boolean; readonly now: string }): Promise<readonly StoreFault[]>;
  /** @returns an error of the catalogue where it is trouble of the store, else the error as it was */
  faultOf(error: unknown): unknown;
}

/** An open one. */
export interface Engine {
  readonly db: Kysely<LedgerSchema>;
  readonly dialect: Dialect;
  /** After a run was finished: statistics for its planner, and what a damaged store is mended from. */
  settle(): Promise<void>;
  /** After many rows went: gives their room back. */
  reclaim(): Promise<void>;
  /** After rows came in with numbers of their own: the next number is beyond them. */
  numbersTaken(): Promise<void>;
  /** May be called twice. */
  close(): Promise<void>;
}

/** What engines say in SQL of their own. */
export interface Dialect {
  /**
   * First statement of a transaction that may point at rows which it did not make: none of them is pruned before it ends. Undefined
   * where one process alone writes such.
   */
  readonly pointing?: RawBuilder<unknown>;
  /** First statement of the transaction that prunes: waits for those, and makes others wait. */
  readonly pruning?: RawBuilder<unknown>;
  /** ISO 8601 text with its zone → a moment that can be compared. */
  readonly moment: (time: RawBuilder<unknown>) => RawBuilder<unknown>;
  /** Values of a group → their list as JSON text. */
  readonly listOf: (value: RawBuilder<unknown>) => RawBuilder<unknown>;
  /** Member of a list of numbers that is JSON text. @param place from 0 */
  readonly numberAt: (list: RawBuilder<unknown>, place: number) => RawBuilder<unknown>;
  /** A join that goes through its left side first, where the engine lets us say so. */
  readonly joinNext: RawBuilder<unknown>;
}

export interface LockOptions {
  /** What the holder does, for the message others get: `run`, `prune` … */
  readonly doing: string;
  /** How long to wait for it; 0 refuses at once. */
  readonly waitMs: number;
  /** Called once when it has to wait. */
  readonly onWait?: (holder: StoreHolder) => void;
  /** Together with others that share it, where the engine knows more than one machine. */
  readonly shared?: boolean;
  readonly signal?: AbortSignal;
}

/** The right to own a store. Ends with its holder, however that ends. */
export interface StoreLock {
  /** It ended though nobody released it: someone else may own the store by now. */
  readonly isLost: () => boolean;
  /** May be called twice. */
  release(): Promise<void>;
}
