// Findings of a whole run with what lists are sorted and filtered by, and nothing more; their words; and full ones by their numbers.
import { sql } from 'kysely';
import type { CheckId, Finding, FindingStatus, Level } from '../../samples/finding.ts';
import { fromJson, type Json } from '../database/json-column.ts';
import { type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';
import { findingsByNumber } from './findings.ts';

export interface LeanView {
  readonly page: string;
  readonly theme: string;
  readonly state: string;
  readonly viewport: string;
}

export interface LeanFinding {
  /** Of the row; asked for again by `readNumbered`. */
  readonly n: number;
  readonly view: LeanView;
  readonly check: CheckId;
  readonly level: Level;
  readonly status: FindingStatus;
  readonly owner: string | null;
  readonly cause: string | null;
  /** What a fault of token files is about; null for all others. */
  readonly token: string | null;
}

export interface FindingWords {
  readonly n: number;
  readonly selector: string;
  /** Message, and JSON of what was measured. */
  readonly words: string;
}

/** Views read in one go; between two whoever else waits has a turn. */
const VIEWS_AT_ONCE = 100;

/** @param take gets them part by part: in plan order, down each page @throws run-unknown */
export async function readLean(
  context: LedgerContext,
  runId: string,
  take: (part: readonly LeanFinding[]) => Promise<void>,
): Promise<void> {
  const run = await runRow(context, runId);
  // Names of views come from here, not with each finding: half the time went into making them 160,000 times over.
  const views = new Map<number, LeanView>(
    (
      await context.db
        .selectFrom('view')
        .select(['n', 'page', 'theme', 'state', 'viewport'])
        .where('n', 'in', (eb) => eb.selectFrom('run_view').select('view').where('run', '=', run.n))
        .execute()
    ).map(({ n, ...view }) => [n, view]),
  );
  const { listOf, numberAt } = context.engine.dialect;
  const top = numberAt(sql`finding.rect`, 1);
  for await (const [from, end] of parts(context, run)) {
    // One row for each view, a list for each column: a third of the time that a row for each finding takes. Token files are views
    // outside of the plan, all at one place of it.
    const { rows } = await sql<LeanLists>`
      select run_view.view, ${listOf(sql`finding.n`)} as n, ${listOf(sql`finding."check"`)} as "check",
        ${listOf(sql`finding.level`)} as level, ${listOf(sql`finding.exempt`)} as exempt,
        ${listOf(sql`finding.since`)} as since, ${listOf(sql`finding.owner`)} as owner,
        ${listOf(sql`finding.cause`)} as cause, ${listOf(top)} as top,
        ${listOf(sql`case when finding."check" = 'token-fault' then finding.selector end`)} as token
      from run_view join finding on finding.sheet = run_view.sheet
      where run_view.run = ${run.n} and run_view.ord >= ${from} and run_view.ord < ${end}
      group by run_view.ord, run_view.view order by run_view.ord`.execute(context.db);
    await take(rows.flatMap((row) => leanOf(row, views.get(row.view) ?? NOWHERE, run)));
  }
}

/** Lists of equal length, a finding at each place. */
interface LeanLists {
  readonly view: number;
  readonly n: Json<readonly number[]>;
  readonly check: Json<readonly CheckId[]>;
  readonly level: Json<readonly Level[]>;
  readonly exempt: Json<readonly (0 | 1)[]>;
  readonly since: Json<readonly number[]>;
  readonly owner: Json<readonly (string | null)[]>;
  readonly cause: Json<readonly (string | null)[]>;
  readonly top: Json<readonly number[]>;
  readonly token: Json<readonly (string | null)[]>;
}

const NOWHERE: LeanView = { page: '-', theme: '-', state: '-', viewport: '-' };

function leanOf(row: LeanLists, view: LeanView, run: RunRow): readonly LeanFinding[] {
  const numbers = fromJson(row.n);
  const [check, level, exempt, since] = [fromJson(row.check), fromJson(row.level), fromJson(row.exempt), fromJson(row.since)];
  const [owner, cause, top, token] = [fromJson(row.owner), fromJson(row.cause), fromJson(row.top), fromJson(row.token)];
  // Findings of a sheet have numbers in the order of their ids.
  const order = numbers.map((_, at) => at).sort((a, b) => (top[a] ?? 0) - (top[b] ?? 0) || (numbers[a] ?? 0) - (numbers[b] ?? 0));
  return order.map((at) => ({
    n: numbers[at] ?? -1,
    view,
    check: check[at] ?? '',
    level: level[at] ?? 'note',
    status: exempt[at] === 1 ? 'exempt' : since[at] === run.n ? 'new' : 'known',
    owner: owner[at] ?? null,
    cause: cause[at] ?? null,
    token: token[at] ?? null,
  }));
}

/** @param take gets them part by part, in no order @throws run-unknown */
export async function readWords(
  context: LedgerContext,
  runId: string,
  take: (part: readonly FindingWords[]) => Promise<void>,
): Promise<void> {
  const run = await runRow(context, runId);
  const { listOf } = context.engine.dialect;
  for await (const [from, end] of parts(context, run)) {
    const { rows } = await sql<Record<'selectors' | 'words', Json<readonly string[]>> & { readonly n: Json<readonly number[]> }>`
      select ${listOf(sql`finding.n`)} as n, ${listOf(sql`finding.selector`)} as selectors,
        ${listOf(sql`finding.message || ${sql.lit('\n')} || finding.measured`)} as words
      from run_view join finding on finding.sheet = run_view.sheet
      where run_view.run = ${run.n} and run_view.ord >= ${from} and run_view.ord < ${end}
      group by run_view.ord, run_view.view`.execute(context.db);
    await take(
      rows.flatMap((row) => {
        const [selectors, words] = [fromJson(row.selectors), fromJson(row.words)];
        return fromJson(row.n).map((n, at) => ({ n, selector: selectors[at] ?? '', words: words[at] ?? '' }));
      }),
    );
  }
}

/** Spans of places in the plan. */
async function* parts({ db }: LedgerContext, run: RunRow): AsyncGenerator<readonly [number, number]> {
  const { last } = await db
    .selectFrom('run_view')
    .select((eb) => eb.fn.coalesce(eb.fn.max<number>('ord'), eb.lit(-1)).as('last'))
    .where('run', '=', run.n)
    .executeTakeFirstOrThrow();
  for (let from = -1; from <= last; from += VIEWS_AT_ONCE) yield [from, from + VIEWS_AT_ONCE];
}

/** In the order asked for; numbers that are none of the run's are left out. @throws run-unknown */
export async function readNumbered(context: LedgerContext, runId: string, numbers: readonly number[]): Promise<readonly Finding[]> {
  return findingsByNumber(context, await runRow(context, runId), numbers);
}
