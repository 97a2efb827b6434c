// What a run came to is stored with it: the report's first screen then counts nothing.
import { hashOf } from '../blobs/blobs.ts';
import { toJson } from '../database/json-column.ts';
import { type LedgerContext, runRow } from '../database/ledger-context.ts';
import { packTally } from '../database/packed-tally.ts';
import { baseNumbers } from '../read/base-views.ts';
import { countGone } from '../read/count-gone.ts';
import { countTally } from '../read/tally.ts';

/** Replaces what was stored of the run before. @throws run-unknown */
export async function storeTally(context: LedgerContext, runId: string): Promise<void> {
  const run = await runRow(context, runId);
  const body = packTally({ ...(await countTally(context, run)), gone: await countGone(context, run) });
  const row = { hash: hashOf(body), bases: toJson(await baseNumbers(context, run)), body };
  await context.db
    .insertInto('tally')
    .values({ run: run.n, ...row })
    .onConflict((conflict) => conflict.column('run').doUpdateSet(row))
    .execute();
}
