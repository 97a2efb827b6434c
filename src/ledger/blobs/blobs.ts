// The port to what is stored by content: bytes go in, and come out by the hash of what they are. Nothing beyond this folder knows where
// they lie.
import { createHash } from 'node:crypto';

export interface BlobReceipt {
  readonly hash: string;
  readonly bytes: number;
}

export interface BlobEntry extends BlobReceipt {
  /** When it was written, ms, by the clock of where it lies. */
  readonly atMs: number;
}

/** A blob is whole or absent. Writing the same bytes again changes nothing. */
export interface Blobs {
  /** All of them, as messages name it: a folder, an address. */
  readonly place: string;
  /** One of them, as messages name it. Says nothing about whether it is there. */
  placeOf(hash: string): string;
  put(bytes: Uint8Array): Promise<BlobReceipt>;
  /** Checked against its hash. @throws blob-missing, blob-damaged */
  get(hash: string): Promise<Buffer>;
  /** Bytes; undefined where it is not there. */
  size(hash: string): Promise<number | undefined>;
  drop(hash: string): Promise<void>;
  /** A damaged one is taken out of use and kept elsewhere. @returns where */
  setAside(hash: string): Promise<string>;
  /** All that are there. */
  list(): AsyncIterable<BlobEntry>;
  /** By the clock that `atMs` is from: this machine's may go otherwise. */
  nowMs(): Promise<number>;
  /** Removes what killed processes left half written. Only for the holder of the store's lock. */
  sweep(): Promise<void>;
}

/** SHA-256, lower-case hex. */
export function hashOf(bytes: Uint8Array | string): string {
  return createHash('sha256').update(bytes).digest('hex');
}

export function isHash(text: string): boolean {
  return /^[0-9a-f]{64}$/.test(text);
}
