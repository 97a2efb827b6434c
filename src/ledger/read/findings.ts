// Findings of a run: listed page by page, one by id, those that are gone, and counted.
import type { Expression, ExpressionBuilder, SqlBool } from 'kysely';
import { sql } from 'kysely';
import type { Finding, FindingStatus } from '../../samples/finding.ts';
import { BEFORE, baseRows, baseRunOf } from './base-views.ts';
import { pageLimit, parseCursor, toCursor } from '../database/cursor.ts';
import { fromJson } from '../database/json-column.ts';
import { type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';
import type { CountCell, FindingFilter, GoneFinding, PageRequest, Slice } from '../records.ts';
import type { FindingTable, LedgerSchema, RunTable, RunViewTable, ViewTable } from '../database/schema.ts';

/** In plan order of their views, by id within a view. */
export async function readFindings(
  context: LedgerContext,
  runId: string,
  { limit, after, ...filter }: FindingFilter & PageRequest = {},
): Promise<Slice<Finding>> {
  const run = await runRow(context, runId);
  const most = pageLimit(limit);
  let query = findingRows(context, run)
    .select('run_view.ord')
    .where((eb) => matches(eb, run, filter))
    .orderBy('run_view.ord')
    .orderBy('finding.id')
    .limit(most + 1);
  if (after !== undefined) {
    const { ord, id } = parseCursor(after);
    query = query.where((eb) =>
      eb.and([eb('run_view.ord', '>=', ord), eb.or([eb('run_view.ord', '>', ord), eb('finding.id', '>', id)])]),
    );
  }
  const rows = await query.execute();
  const last = rows.length > most ? rows[most - 1] : undefined;
  return {
    items: rows.slice(0, most).map((row) => findingOf(row, run)),
    next: last === undefined ? null : toCursor(last.ord, last.id),
  };
}

/** Undefined where the run has no such finding. */
export async function readFinding(context: LedgerContext, runId: string, id: string): Promise<Finding | undefined> {
  const run = await runRow(context, runId);
  const row = await findingRows(context, run).where('finding.id', '=', id).executeTakeFirst();
  return row === undefined ? undefined : findingOf(row, run);
}

/** In the order asked for; numbers that are none of the run's rows are left out. */
export async function findingsByNumber(
  context: LedgerContext,
  run: RunRow,
  numbers: readonly number[],
): Promise<readonly Finding[]> {
  if (numbers.length === 0) return [];
  // From the rows asked for outward: in any other order all findings of the run would be gone through.
  const { rows } = await sql<JoinedFinding>`
    select finding.*, view.id as view, view.page, view.theme, view.state, view.viewport, first.id as since_id
    from finding
      ${context.engine.dialect.joinNext} sheet on sheet.n = finding.sheet
      ${context.engine.dialect.joinNext} run_view on run_view.run = ${run.n} and run_view.view = sheet.view and run_view.sheet = finding.sheet
      join view on view.n = run_view.view
      join run as first on first.n = finding.since
    where finding.n in (${sql.join(numbers)})`.execute(context.db);
  const found = new Map(rows.map((row) => [row.n, findingOf(row, run)]));
  return numbers.flatMap((n) => found.get(n) ?? []);
}

export async function countFindings(context: LedgerContext, runId: string, filter: FindingFilter = {}): Promise<number> {
  const run = await runRow(context, runId);
  const row = await places(context, run.n)
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where((eb) => matches(eb, run, filter))
    .executeTakeFirstOrThrow();
  return row.count;
}

/** Cells with at least one finding. */
export async function countMatrix(
  context: LedgerContext,
  runId: string,
  filter: FindingFilter = {},
): Promise<readonly CountCell[]> {
  const run = await runRow(context, runId);
  const rows = await places(context, run.n)
    .select(['view.page', 'view.theme', 'finding.check', 'finding.level'])
    .select(statusIn(run).as('status'))
    .select((eb) => eb.fn.countAll<number>().as('count'))
    .where((eb) => matches(eb, run, filter))
    .groupBy(['view.page', 'view.theme', 'finding.check', 'finding.level'])
    // By the expression: the bare name would mean the view's own status.
    .groupBy(statusIn(run))
    .execute();
  return rows;
}

/** Findings that are not there any more, of views that were judged again: view by view, against the newest run that judged it before. */
export async function readGone(context: LedgerContext, runId: string, limit?: number): Promise<readonly GoneFinding[]> {
  const run = await runRow(context, runId);
  const { rows: bases } = await sql<{ readonly n: number }>`
    select distinct run as n from (${await baseRows(context, run, BEFORE)}) as found`.execute(context.db);
  const gone: GoneFinding[] = [];
  for (const { n } of bases) {
    const before = await context.db.selectFrom('run').selectAll().where('n', '=', n).executeTakeFirstOrThrow();
    gone.push(...(await goneSince(context, run, before, limit ?? 1000)));
  }
  return gone.slice(0, limit ?? 1000);
}

/** Of views whose newest earlier run is this one. */
async function goneSince(context: LedgerContext, run: RunRow, before: RunRow, limit: number): Promise<readonly GoneFinding[]> {
  const rows = await findingRows(context, before)
    .innerJoin('run_view as now', (join) => join.onRef('now.view', '=', 'run_view.view').on('now.run', '=', run.n))
    .where('now.sheet', 'is not', null)
    .where(baseRunOf(run, sql`run_view.view`), '=', before.n)
    .whereRef('now.sheet', '!=', 'run_view.sheet')
    .where('finding.exempt', '=', 0)
    .where((eb) =>
      eb.not(
        eb.exists(
          eb
            .selectFrom('finding as still')
            .select('still.n')
            .whereRef('still.sheet', '=', 'now.sheet')
            .whereRef('still.id', '=', 'finding.id'),
        ),
      ),
    )
    .orderBy('run_view.ord')
    .orderBy('finding.id')
    .limit(limit)
    .execute();
  return rows.map((row) => ({ ...findingOf(row, before), lastSeen: before.id }));
}

function places({ db }: Pick<LedgerContext, 'db'>, run: number) {
  return db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .innerJoin('finding', 'finding.sheet', 'run_view.sheet')
    .where('run_view.run', '=', run);
}

function findingRows(context: Pick<LedgerContext, 'db'>, run: RunRow) {
  return places(context, run.n)
    .innerJoin('run as first', 'first.n', 'finding.since')
    .select(['view.id as view', 'view.page', 'view.theme', 'view.state', 'view.viewport', 'first.id as since_id'])
    .selectAll('finding');
}

type Places = LedgerSchema & {
  readonly run_view: RunViewTable;
  readonly view: ViewTable;
  readonly finding: FindingTable;
  readonly first: RunTable;
};
type JoinedFinding = Awaited<ReturnType<ReturnType<typeof findingRows>['execute']>>[number];

function matches(
  eb: ExpressionBuilder<Places, 'run_view' | 'view' | 'finding'>,
  run: RunRow,
  filter: FindingFilter,
): Expression<SqlBool> {
  const parts: Expression<SqlBool>[] = [];
  if (filter.view !== undefined) parts.push(eb('view.id', 'in', list(filter.view)));
  if (filter.page !== undefined) parts.push(eb('view.page', 'in', list(filter.page)));
  if (filter.theme !== undefined) parts.push(eb('view.theme', 'in', list(filter.theme)));
  if (filter.state !== undefined) parts.push(eb('view.state', 'in', list(filter.state)));
  if (filter.viewport !== undefined) parts.push(eb('view.viewport', 'in', list(filter.viewport)));
  if (filter.check !== undefined) parts.push(eb('finding.check', 'in', list(filter.check)));
  if (filter.level !== undefined) parts.push(eb('finding.level', 'in', list(filter.level)));
  if (filter.owner !== undefined) parts.push(eb('finding.owner', 'in', list(filter.owner)));
  if (filter.cause === null) parts.push(eb('finding.cause', 'is', null));
  else if (filter.cause !== undefined) parts.push(eb('finding.cause', 'in', list(filter.cause)));
  if (filter.status !== undefined) parts.push(eb(statusIn(run), 'in', list(filter.status)));
  return eb.and(parts);
}

function list<T extends string>(choice: T | readonly T[]): readonly T[] {
  return typeof choice === 'string' ? [choice] : choice;
}

/** Exempt ones stay exempt; else new where this run is the first that saw them. */
function statusIn(run: RunRow) {
  return sql<FindingStatus>`case when finding.exempt = 1 then 'exempt' when finding.since = ${sql.lit(run.n)} then 'new' else 'known' end`;
}

function findingOf(row: JoinedFinding, run: RunRow): Finding {
  return {
    id: row.id,
    check: row.check,
    level: row.level,
    view: row.view,
    page: row.page,
    theme: row.theme,
    state: row.state,
    viewport: row.viewport,
    key: row.key,
    selector: row.selector,
    rect: fromJson(row.rect),
    message: row.message,
    measured: fromJson(row.measured),
    expected: fromJson(row.expected),
    since: row.since_id,
    status: row.exempt === 1 ? 'exempt' : row.since === run.n ? 'new' : 'known',
    ...(row.owner === null ? {} : { owner: row.owner }),
    ...(row.why_exempt === null ? {} : { exemption: row.why_exempt }),
    cause: row.cause,
  };
}
