// Samples, masks and properties of a view ↔ compressed bytes. Equal content gives equal bytes, so an unchanged view is one blob for ever.
import { promisify } from 'node:util';
import { brotliCompress, brotliDecompress, constants } from 'node:zlib';
import { samplesUnreadable } from '../errors/ledger-errors.ts';
import type { PageProperty } from '../samples/captured-view.ts';
import { SAMPLE_FORMAT, type Sample } from '../samples/sample.ts';
import type { Rect } from '../samples/view.ts';
import { fromJson, type Json, toJson } from './database/json-column.ts';

/**
 * Brotli's quality, 0–11. Measured on tables of 300, 1,500 and 10,000 samples (0.3, 1.6, 10.4 MB): quality 1 leaves 7.6 % in
 * 1.1, 2.9, 17 ms; gzip needs its level 6 and four times as long for that; quality 5 saves one hundredth more in seven times as long.
 */
const QUALITY = 1;

interface SampleTable {
  readonly format: number;
  readonly samples: readonly Sample[];
  readonly masks: readonly Rect[];
}

/** Format 4 says of no filter where it is written; all else is the same, so runs of then are shown. */
const READABLE: ReadonlySet<number> = new Set([4, SAMPLE_FORMAT]);

const compress = promisify(brotliCompress);
const decompress = promisify(brotliDecompress);

export function packSamples(samples: readonly Sample[], masks: readonly Rect[]): Promise<Buffer> {
  return pack(toJson<SampleTable>({ format: SAMPLE_FORMAT, samples, masks }));
}

/** @param hash of the blob, for messages @throws samples-unreadable */
export async function unpackSamples(hash: string, bytes: Uint8Array): Promise<Pick<SampleTable, 'samples' | 'masks'>> {
  const table = await unpack<SampleTable>(hash, bytes);
  if (!READABLE.has(table.format)) throw samplesUnreadable(hash, `sample format ${String(table.format)}`);
  return { samples: table.samples, masks: table.masks };
}

export function packProperties(properties: readonly PageProperty[]): Promise<Buffer> {
  return pack(toJson(properties));
}

export function unpackProperties(hash: string, bytes: Uint8Array): Promise<readonly PageProperty[]> {
  return unpack<readonly PageProperty[]>(hash, bytes);
}

function pack(json: string): Promise<Buffer> {
  const bytes = Buffer.from(json);
  return compress(bytes, {
    params: { [constants.BROTLI_PARAM_QUALITY]: QUALITY, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.byteLength },
  });
}

async function unpack<T>(hash: string, bytes: Uint8Array): Promise<T> {
  try {
    // The blob's hash was checked on reading, so the text is one that `pack` got from `toJson`.
    return fromJson((await decompress(bytes)).toString('utf8') as Json<T>);
  } catch (error) {
    throw samplesUnreadable(hash, error instanceof Error ? error.message : 'unreadable bytes');
  }
}
