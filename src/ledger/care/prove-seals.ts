// Rows with a seal (seals.ts) are held against it. What does not prove is taken out when mending, no more than that: a view counts as
// not rendered, a picture as not accepted.
import { sql } from 'kysely';
import type { LedgerContext } from '../database/ledger-context.ts';
import { seal, sealedRows, sealOf, whereKey } from '../database/seals.ts';
import type { SealedRow, SealedTable } from '../database/seals.ts';
import { dropRuns } from './prune.ts';
import type { StoreFault } from './store-fault.ts';

const TABLES = [
  'run',
  'view',
  'run_view',
  'comparison',
  'acceptance',
  'accepted_picture',
  'difference',
] as const satisfies readonly SealedTable[];

export async function lookAtSeals(context: LedgerContext, { mend }: { readonly mend: boolean }): Promise<readonly StoreFault[]> {
  const faults: StoreFault[] = [];
  for (const table of TABLES) {
    for (const row of await sealedRows(context.db, table)) {
      const { seal: mark } = row;
      // A run that goes on, or one of an older store.
      if (typeof mark !== 'string' || (table === 'run' && row['state'] === 'pruned') || mark === sealOf(table, row)) continue;
      const what = await nameOf(context, table, row);
      if (mend) await takeOut(context, table, row);
      faults.push({
        kind: 'content',
        where: table,
        message: `${what} not as stored: bytes of the file changed; ${OUTCOME[table]}`,
        mended: mend ? 'taken out' : null,
      });
    }
  }
  return faults;
}

/** After mending: what is there now is what holds. */
export async function sealAnew({ db }: LedgerContext): Promise<void> {
  const ended = await db.selectFrom('run').select('n').where('state', '=', 'finished').where('seal', 'is not', null).execute();
  for (const { n } of ended) {
    await seal(db, 'run_view', { run: n });
    await seal(db, 'comparison', { run: n });
  }
}

const OUTCOME: Readonly<Record<SealedTable, string>> = {
  run: 'a new run takes its place',
  view: 'a new run enters the view again',
  run_view: 'the view counts as not rendered in that run',
  comparison: 'the next run compares again',
  acceptance: 'its views are new until they are accepted again',
  accepted_picture: 'the view is new until it is accepted again',
  difference: 'the next run compares again',
};

async function nameOf({ db }: LedgerContext, table: SealedTable, row: SealedRow): Promise<string> {
  const viewName = async (): Promise<string> =>
    (await db.selectFrom('view').select('id').where('n', '=', Number(row['view'])).executeTakeFirst())?.id ?? 'a view';
  const runName = async (): Promise<string> =>
    (await db.selectFrom('run').select('id').where('n', '=', Number(row['run'])).executeTakeFirst())?.id ?? 'a run';
  switch (table) {
    case 'run':
      return `run ${String(row['id'])} is`;
    case 'view':
      return `the name of view ${String(row['id'])} is`;
    case 'run_view':
      return `${await viewName()} in run ${await runName()} is`;
    case 'comparison':
      return `the comparison of ${await viewName()} in run ${await runName()} is`;
    case 'acceptance':
      return `acceptance ${String(row['id'])} is`;
    case 'accepted_picture':
      return `the accepted picture of ${await viewName()} is`;
    case 'difference':
      return 'the difference of two pictures is';
  }
}

async function takeOut({ db }: LedgerContext, table: SealedTable, row: SealedRow): Promise<void> {
  if (table === 'run') await db.transaction().execute((trx) => dropRuns(trx, [Number(row['n'])]));
  else if (table === 'run_view') await countAsNotRendered(db, row);
  else {
    const tests = Object.entries(whereKey(table, row)).map(([column, value]) => sql`${sql.ref(column)} = ${value}`);
    await sql`delete from ${sql.table(table)} where ${sql.join(tests, sql` and `)}`.execute(db);
  }
}

/** Where even the numbers that say whose it is changed, the row belongs to nothing and goes with what points nowhere. */
async function countAsNotRendered(db: LedgerContext['db'], row: SealedRow): Promise<void> {
  const nothing = { ms: null, code: null, error: null, shot: null, samples: null, properties: null, title: null, notes: null };
  await db
    .updateTable('run_view')
    .set({ status: 'planned', ...nothing, width: null, height: null, scale: null, sheet: null, fingerprint: null, sample_count: 0 })
    .where('run', '=', Number(row['run']))
    .where('view', '=', Number(row['view']))
    .execute();
  await seal(db, 'run_view', { run: row['run'], view: row['view'] });
}
