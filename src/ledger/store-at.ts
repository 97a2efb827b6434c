// What a configuration calls a store → the adapters of its engine and of its files. The only place that knows which there are.
import { isBucketAddress } from '../plan/bucket-address.ts';
import type { Blobs } from './blobs/blobs.ts';
import { bucketBlobs } from './blobs/bucket-blobs.ts';
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
      /** Folder that all machines share, or `s3://BUCKET/PREFIX`. */
      readonly blobs: string;
    };

/** Engines are loaded when they are needed: each brings a library. */
export async function storeAt(at: StorePlace): Promise<Store> {
  if (typeof at === 'string') return (await import('./sqlite/sqlite-store.ts')).sqliteStore(at);
  const { postgresStore } = await import('./postgres/postgres-store.ts');
  return postgresStore({ ...at, blobs: blobsAt(at.blobs) });
}

function blobsAt(place: string): Blobs {
  return isBucketAddress(place) ? bucketBlobs(place) : folderBlobs(place);
}

/** Whether anything was ever stored there; for who does without. */
export async function storeExists(at: StorePlace): Promise<boolean> {
  return (await storeAt(at)).exists();
}
