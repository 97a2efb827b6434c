// Blobs that were written get their rows, one for each content whatever names it.
import { blobMissing } from '../../errors/ledger-errors.ts';
import type { LedgerContext } from '../database/ledger-context.ts';
import type { BlobTable } from '../database/schema.ts';

/** A blob of a view, on the disk already. */
export interface Kept {
  readonly kind: BlobTable['kind'];
  readonly hash: string;
  readonly bytes: number;
}

/**
 * Inside a transaction. A file that lay there without a row may have been pruned since it was found there: whoever prunes holds the row
 * meanwhile, so that by now it is there for good, or gone.
 * @returns the row number of each by its kind @throws blob-missing: then all is to be done anew
 */
export async function enterBlobs(
  { db: trx, store: { blobs } }: LedgerContext,
  kept: readonly Kept[],
): Promise<Partial<Record<Kept['kind'], number>>> {
  const numbers: Partial<Record<Kept['kind'], number>> = {};
  for (const blob of kept) {
    const entered = await trx
      .insertInto('blob')
      .values(blob)
      .onConflict((conflict) => conflict.column('hash').doNothing())
      .returning('n')
      .executeTakeFirst();
    if (entered !== undefined && (await blobs.size(blob.hash)) !== blob.bytes)
      throw blobMissing(blob.hash, blobs.placeOf(blob.hash));
    const { n } = entered ?? (await trx.selectFrom('blob').select('n').where('hash', '=', blob.hash).executeTakeFirstOrThrow());
    numbers[blob.kind] = n;
  }
  return numbers;
}
