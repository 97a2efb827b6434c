// Findings of a whole run with what lists are sorted, filtered and searched by, and nothing more; and full ones by their numbers.
import { sql } from 'kysely';
import type { CheckId, Finding, FindingStatus, Level } from '../../samples/finding.ts';
import { type LedgerContext, runRow } from '../database/ledger-context.ts';
import { findingsByNumber } from './findings.ts';

export interface LeanFinding {
  /** Of the row; asked for again by `readNumbered`. */
  readonly n: number;
  readonly view: string;
  readonly page: string;
  readonly theme: string;
  readonly state: string;
  readonly viewport: string;
  readonly check: CheckId;
  readonly level: Level;
  readonly status: FindingStatus;
  readonly owner: string | null;
  readonly cause: string | null;
  readonly selector: string;
  readonly message: string;
  /** JSON of what was measured. */
  readonly measured: string;
}

/** Views read in one go; between two whoever else waits has a turn. */
const VIEWS_AT_ONCE = 100;

/** @param take gets them part by part: in plan order, down each page @throws run-unknown */
export async function readLean(
  context: LedgerContext,
  runId: string,
  take: (part: readonly LeanFinding[]) => Promise<void>,
): Promise<void> {
  const { db } = context;
  const run = await runRow(context, runId);
  const { last } = await db
    .selectFrom('run_view')
    .select((eb) => eb.fn.coalesce(eb.fn.max<number>('ord'), eb.lit(-1)).as('last'))
    .where('run', '=', run.n)
    .executeTakeFirstOrThrow();
  for (let from = -1; from <= last; from += VIEWS_AT_ONCE) {
    const { rows } = await sql<LeanFinding>`
      select finding.n, view.id as view, view.page, view.theme, view.state, view.viewport, finding."check", finding.level,
        case when finding.exempt then 'exempt' when finding.since = ${run.n} then 'new' else 'known' end as status,
        finding.owner, finding.cause, finding.selector, finding.message, finding.measured
      from run_view
        join view on view.n = run_view.view
        join finding on finding.sheet = run_view.sheet
      where run_view.run = ${run.n} and run_view.ord >= ${from} and run_view.ord < ${from + VIEWS_AT_ONCE}
      order by run_view.ord, json_extract(finding.rect, '$[1]'), finding.id`.execute(db);
    await take(rows);
  }
}

/** In the order asked for; numbers that are none of the run's are left out. @throws run-unknown */
export async function readNumbered(context: LedgerContext, runId: string, numbers: readonly number[]): Promise<readonly Finding[]> {
  return findingsByNumber(context, await runRow(context, runId), numbers);
}
