// Where the store is: what the command says, else the environment, else the configuration, else a folder beside the configuration.
// Pure. An address with a password comes from the command or the environment alone; the configuration refuses it.
import path from 'node:path';
import { bucketAddressUnreadable } from '../errors/bucket-errors.ts';
import { storeAddressUnreadable } from '../errors/ledger-errors.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import { insideBucket, isBucketAddress, readBucketAddress } from '../plan/bucket-address.ts';
import { isStoreAddress } from '../plan/store-address.ts';

export interface StoreChoice {
  /** `--store`, relative to `cwd`. */
  readonly option?: string | undefined;
  /** Where files go, in place of what the environment says; relative to `cwd`, or a bucket. */
  readonly blobs?: string | undefined;
  /** `GLOAM_STORE` and `GLOAM_BLOBS`, relative to `cwd`. */
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly cwd: string;
  /** Of the configuration, absolute or an address; and its folder. Read only where it is needed. */
  readonly configured: () => Promise<{ readonly folder: string; readonly store?: string; readonly blobs?: string }>;
}

/** @throws store-address-unreadable, bucket-address-unreadable */
export async function storePlace({ option, blobs: saidBlobs, env, cwd, configured }: StoreChoice): Promise<StorePlace> {
  const said = option ?? nonEmpty(env['GLOAM_STORE']);
  if (said !== undefined && !isStoreAddress(said)) return path.resolve(cwd, said);
  const { folder, store, blobs } = await configured();
  const beside = path.join(folder, '.gloam');
  const address = said ?? store ?? beside;
  if (!isStoreAddress(address)) return address;
  const shared = saidBlobs ?? nonEmpty(env['GLOAM_BLOBS']);
  const read = readAddress(address);
  // Each schema has blobs of its own: pruning takes what its rows do not name.
  const root = shared ?? blobs ?? beside;
  return {
    ...read,
    folder: beside,
    blobs: isBucketAddress(root) ? inBucket(root, read.schema) : path.resolve(cwd, root, read.schema),
  };
}

/** What nothing that is written may hold. @param env of the library that talks to buckets */
export function storeSecrets(place: StorePlace, env: StoreChoice['env'] = {}): readonly string[] {
  if (typeof place === 'string') return [];
  const keys = ['AWS_SECRET_ACCESS_KEY', 'AWS_SESSION_TOKEN'].flatMap((name) => nonEmpty(env[name]) ?? []);
  const { password } = new URL(place.address);
  return [...(password === '' ? [] : [password, decodeURIComponent(password)]), ...(isBucketAddress(place.blobs) ? keys : [])];
}

/** For another gloam that is to use the same store. */
export function storeEnv(place: StorePlace): Readonly<Record<string, string>> {
  if (typeof place === 'string') return { GLOAM_STORE: place };
  const url = new URL(place.address);
  url.searchParams.set('schema', place.schema);
  const { blobs, schema } = place;
  return { GLOAM_STORE: url.href, GLOAM_BLOBS: isBucketAddress(blobs) ? blobs.slice(0, -schema.length - 1) : path.dirname(blobs) };
}

/** Nothing but names is in it: keys come by the library's own environment. @throws bucket-address-unreadable */
function inBucket(address: string, schema: string): string {
  if (readBucketAddress(address) === null)
    throw bucketAddressUnreadable(/[@?:]/u.test(address.slice('s3:'.length)) ? 'more than names in it' : `"${address}"`);
  return insideBucket(address, schema);
}

/** The schema is a part of the address of ours alone: `?schema=harbour`. */
function readAddress(text: string): { readonly address: string; readonly schema: string } {
  if (!URL.canParse(text)) throw storeAddressUnreadable('what cannot be read as an address');
  const url = new URL(text);
  const schema = url.searchParams.get('schema') ?? 'gloam';
  if (!/^[a-z_][a-z0-9_]{0,62}$/.test(schema)) throw storeAddressUnreadable(`schema "${schema}"`);
  url.searchParams.delete('schema');
  return { address: url.href, schema };
}

function nonEmpty(text: string | undefined): string | undefined {
  return text === '' ? undefined : text;
}
