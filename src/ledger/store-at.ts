// What a configuration calls a store → the adapter of its engine. The only place that knows which engines there are.
import { folderBlobs } from './blobs/folder-blobs.ts';
import type { Store } from './database/engine.ts';

/** A folder, or a database with what belongs to it. */
export type StorePlace =
  | string
  | {
      /** `postgres://…` */
      readonly address: string;
      readonly schema: string;
      /** On this machine, for what can be made again. */
      readonly folder: string;
      /** Folder that all machines share. */
      readonly blobs: string;
    };

/** Engines are loaded when they are needed: each brings a library. */
export async function storeAt(at: StorePlace): Promise<Store> {
  if (typeof at === 'string') return (await import('./sqlite/sqlite-store.ts')).sqliteStore(at);
  const { postgresStore } = await import('./postgres/postgres-store.ts');
  return postgresStore({ ...at, blobs: folderBlobs(at.blobs) });
}

/** Whether anything was ever stored there; for who does without. */
export async function storeExists(at: StorePlace): Promise<boolean> {
  return (await storeAt(at)).exists();
}
