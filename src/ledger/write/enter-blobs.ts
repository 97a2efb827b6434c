// Blobs that were written get their rows, one for each content whatever names it.
import type { Kysely } from 'kysely';
import type { BlobTable, LedgerSchema } from '../database/schema.ts';

/** A blob of a view, on the disk already. */
export interface Kept {
  readonly kind: BlobTable['kind'];
  readonly hash: string;
  readonly bytes: number;
}

/** @returns the row number of each by its kind */
export async function enterBlobs(trx: Kysely<LedgerSchema>, kept: readonly Kept[]): Promise<Partial<Record<Kept['kind'], number>>> {
  const numbers: Partial<Record<Kept['kind'], number>> = {};
  for (const blob of kept) {
    await trx
      .insertInto('blob')
      .values(blob)
      .onConflict((conflict) => conflict.column('hash').doNothing())
      .execute();
    const { n } = await trx.selectFrom('blob').select('n').where('hash', '=', blob.hash).executeTakeFirstOrThrow();
    numbers[blob.kind] = n;
  }
  return numbers;
}
