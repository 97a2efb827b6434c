// The blobs of one capture → its samples, masks and custom properties.
import type { Blobs } from '../blobs/blobs.ts';
import type { ViewFacts } from '../records.ts';
import { unpackProperties, unpackSamples } from '../sample-table.ts';

/** @param facts hashes; null where the view was not captured @throws blob-missing, blob-damaged, samples-unreadable */
export async function readFacts(
  blobs: Blobs,
  { samples, properties }: { readonly samples: string | null; readonly properties: string | null },
): Promise<ViewFacts> {
  const table = samples === null ? { samples: [], masks: [] } : await unpackSamples(samples, await blobs.get(samples));
  return {
    ...table,
    properties: properties === null ? [] : await unpackProperties(properties, await blobs.get(properties)),
  };
}
