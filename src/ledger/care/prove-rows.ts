// Findings and causes carry a hash over their content since they were stored. A byte that flipped in the file without harm to its
// structure, which SQLite does not notice, shows here.
import { hashOf } from '../blobs/blobs.ts';
import type { LedgerContext } from '../database/ledger-context.ts';
import { FINDING_COLUMNS, sheetHash } from '../database/sheet-hash.ts';
import type { StoreFault } from './store-fault.ts';

/** What does not prove is taken out when mending: the next run finds it again. */
export async function lookAtContents({ db }: LedgerContext, { mend }: { readonly mend: boolean }): Promise<readonly StoreFault[]> {
  const faults: StoreFault[] = [];
  const places = await db
    .selectFrom('sheet')
    .innerJoin('view', 'view.n', 'sheet.view')
    .select(['sheet.n', 'sheet.hash', 'view.id as view'])
    .orderBy('sheet.n')
    .execute();
  for (const { n, hash, view } of places) {
    const rows = await db.selectFrom('finding').select(FINDING_COLUMNS).where('sheet', '=', n).orderBy('id').execute();
    if (sheetHash(rows) === hash) continue;
    if (mend) {
      await db.updateTable('run_view').set({ sheet: null }).where('sheet', '=', n).execute();
      await db.deleteFrom('finding').where('sheet', '=', n).execute();
      await db.deleteFrom('sheet').where('n', '=', n).execute();
    }
    faults.push(changed('finding', `findings of ${view} are not as they were stored`, mend));
  }
  for (const { n, id, hash, body } of await db.selectFrom('cause').select(['n', 'id', 'hash', 'body']).orderBy('n').execute()) {
    if (hashOf(body) === hash) continue;
    if (mend) {
      await db.deleteFrom('run_cause').where('cause', '=', n).execute();
      await db.deleteFrom('cause').where('n', '=', n).execute();
    }
    faults.push(changed('cause', `cause ${id} is not as it was stored`, mend));
  }
  return faults;
}

function changed(where: string, message: string, mend: boolean): StoreFault {
  return {
    kind: 'content',
    where,
    message: `${message}: bytes of the file changed; a new run finds it again`,
    mended: mend ? 'taken out' : null,
  };
}
