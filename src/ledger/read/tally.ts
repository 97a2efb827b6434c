// All findings of a run counted: as it was stored when the run ended, else from the findings.
import { sql } from 'kysely';
import { hashOf } from '../blobs/blobs.ts';
import { fromJson } from '../database/json-column.ts';
import { type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';
import { type StoredTally, unpackTally } from '../database/packed-tally.ts';
import type { GoneCount, KindCount, PlaceCount, RunTally } from '../records.ts';
import { countGone } from './count-gone.ts';

/** @throws run-unknown */
export async function readTally(context: LedgerContext, runId: string): Promise<RunTally> {
  const run = await runRow(context, runId);
  return (await storedTally(context, run)) ?? (await countTally(context, run));
}

/** Of views that were judged again, each against the newest run that judged it before; exempt ones were not open. @throws run-unknown */
export async function readGoneCounts(context: LedgerContext, runId: string): Promise<readonly GoneCount[]> {
  const run = await runRow(context, runId);
  const stored = await storedTally(context, run);
  return stored?.basesThere === true ? stored.gone : countGone(context, run);
}

interface KnownTally extends StoredTally {
  /** Whether every run it was held against is there still. */
  readonly basesThere: boolean;
}

/** Undefined where there is none, or where its bytes are not those that were stored. */
async function storedTally({ db }: LedgerContext, run: RunRow): Promise<KnownTally | undefined> {
  const row = await db.selectFrom('tally').selectAll().where('run', '=', run.n).executeTakeFirst();
  if (row === undefined || hashOf(row.body) !== row.hash) return undefined;
  const bases = fromJson(row.bases);
  const { there } = await db
    .selectFrom('run')
    .select((eb) => eb.fn.countAll<number>().as('there'))
    .where('n', 'in', bases)
    .where('state', '=', 'finished')
    .executeTakeFirstOrThrow();
  return { ...unpackTally(row.body), basesThere: there === bases.length };
}

export async function countTally({ db, engine }: LedgerContext, run: RunRow): Promise<RunTally> {
  const { joinNext } = engine.dialect;
  const status = sql`case when finding.exempt = 1 then 'exempt' when finding.since = ${sql.lit(run.n)} then 'new' else 'known' end`;
  const from = sql`from run_view
    ${joinNext} view on view.n = run_view.view
    ${joinNext} finding on finding.sheet = run_view.sheet
    where run_view.run = ${run.n}`;
  const { rows: places } = await sql<PlaceCount>`
    select view.page, view.theme, finding.level, ${status} as status, count(*) as count ${from}
    group by view.page, view.theme, finding.level, ${status} order by min(run_view.ord)`.execute(db);
  const { rows: kinds } = await sql<KindCount>`
    select view.theme, finding."check", finding.level, ${status} as status, finding.owner, finding.cause, count(*) as count ${from}
    group by view.theme, finding."check", finding.level, ${status}, finding.owner, finding.cause`.execute(db);
  return { places, kinds };
}
