// Where the store is: what the command says, else the environment, else the configuration, else a folder beside the configuration.
// Pure. An address with a password comes from the command or the environment alone; the configuration refuses it.
import path from 'node:path';
import { storeAddressUnreadable } from '../errors/ledger-errors.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import { isStoreAddress } from '../plan/store-address.ts';

export interface StoreChoice {
  /** `--store`, relative to `cwd`. */
  readonly option?: string | undefined;
  /** `GLOAM_STORE` and `GLOAM_BLOBS`, relative to `cwd`. */
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly cwd: string;
  /** Of the configuration, absolute or an address; and its folder. Read only where it is needed. */
  readonly configured: () => Promise<{ readonly folder: string; readonly store?: string; readonly blobs?: string }>;
}

/** @throws store-address-unreadable */
export async function storePlace({ option, env, cwd, configured }: StoreChoice): Promise<StorePlace> {
  const said = option ?? nonEmpty(env['GLOAM_STORE']);
  if (said !== undefined && !isStoreAddress(said)) return path.resolve(cwd, said);
  const { folder, store, blobs } = await configured();
  const beside = path.join(folder, '.gloam');
  const address = said ?? store ?? beside;
  if (!isStoreAddress(address)) return address;
  const shared = nonEmpty(env['GLOAM_BLOBS']);
  const read = readAddress(address);
  // Each schema has blobs of its own: pruning takes what its rows do not name.
  const root = shared === undefined ? (blobs ?? beside) : path.resolve(cwd, shared);
  return { ...read, folder: beside, blobs: path.join(root, read.schema) };
}

/** What nothing that is written may hold. */
export function storeSecrets(place: StorePlace): readonly string[] {
  if (typeof place === 'string') return [];
  const { password } = new URL(place.address);
  return password === '' ? [] : [password, decodeURIComponent(password)];
}

/** For another gloam that is to use the same store. */
export function storeEnv(place: StorePlace): Readonly<Record<string, string>> {
  if (typeof place === 'string') return { GLOAM_STORE: place };
  const url = new URL(place.address);
  url.searchParams.set('schema', place.schema);
  return { GLOAM_STORE: url.href, GLOAM_BLOBS: path.dirname(place.blobs) };
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
