// Findings of a run by what launch criteria ask of them, counted where they are stored. A run may be held against another one: what
// both have on the same sheet is counted from the index alone, the rest is looked up finding by finding.
import { sql } from 'kysely';
import type { Level } from '../../samples/finding.ts';
import { type Base, baseRows } from './base-views.ts';
import { fromJson, type Json } from '../database/json-column.ts';
import { type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';
import type { ExemptedFindings, FindingKind } from '../records.ts';
import type { FindingTable } from '../database/schema.ts';

/** Findings named of each kind that has no cause. */
const NAMED = 5;

/** In plan order of their first finding. @param against what to compare with; null: nothing @throws run-unknown */
export async function readKinds(context: LedgerContext, runId: string, against: Base | null): Promise<readonly FindingKind[]> {
  const run = await runRow(context, runId);
  const base = against === null ? null : await baseRows(context, run, against);
  const places = await readPlaces(context, run, base);
  const bySheet = new Map<number, Cell[]>();
  for (const cell of [...(await sameCells(context, run, base)), ...(await otherCells(context, run, base))]) {
    const known = bySheet.get(cell.sheet);
    if (known === undefined) bySheet.set(cell.sheet, [cell]);
    else known.push(cell);
  }
  const kinds = new Map<string, { readonly kind: FindingKind; count: number; readonly first: string[] }>();
  for (const { sheet, theme, seen } of places) {
    for (const { check, level, since, exempt, owner, cause, then, count, ids } of bySheet.get(sheet) ?? []) {
      const status = exempt === 1 ? 'exempt' : since === run.n ? 'new' : 'known';
      const key = [theme, check, level, status, owner ?? '', cause ?? '', then ?? '', seen].join('\n');
      const sum = kinds.get(key) ?? {
        kind: { theme, check, level, status, owner, cause, then, seen: seen === 1, count: 0, first: [] },
        count: 0,
        first: [],
      };
      kinds.set(key, sum);
      sum.count += count;
      if (ids !== null && sum.first.length < NAMED) sum.first.push(...[...fromJson(ids)].sort().slice(0, NAMED - sum.first.length));
    }
  }
  return [...kinds.values()].map(({ kind, count, first }) => ({ ...kind, count, first }));
}

/** By reason and check. */
export async function readExempted(context: LedgerContext, runId: string): Promise<readonly ExemptedFindings[]> {
  const run = await runRow(context, runId);
  const rows = await context.db
    .selectFrom('finding')
    .select((eb) => ['why_exempt', 'check', eb.fn.countAll<number>().as('count')])
    .where('sheet', 'in', (eb) => eb.selectFrom('run_view').select('sheet').where('run', '=', run.n).where('sheet', 'is not', null))
    .where('exempt', '=', 1)
    .groupBy(['why_exempt', 'check'])
    .execute();
  return rows.map(({ why_exempt, ...row }) => ({ ...row, why: why_exempt ?? '' }));
}

type Rows = Awaited<ReturnType<typeof baseRows>>;
const NO_ROWS = sql`select cast(null as integer), cast(null as integer), cast(null as integer) where false`;

interface ThemedSheet {
  readonly sheet: number;
  readonly theme: string;
  readonly seen: 0 | 1;
}

async function readPlaces({ db }: LedgerContext, run: RunRow, base: Rows | null): Promise<readonly ThemedSheet[]> {
  const { rows } = await sql<ThemedSheet>`
    with base (view, run, sheet) as materialized (${base ?? NO_ROWS})
    select now.sheet, view.theme, case when base.view is null then 0 else 1 end as seen
    from run_view as now join view on view.n = now.view left join base on base.view = now.view
    where now.run = ${run.n} and now.sheet is not null
    order by now.ord`.execute(db);
  return rows;
}

interface Cell extends Pick<FindingTable, 'sheet' | 'check' | 'level' | 'exempt' | 'owner' | 'cause' | 'since'> {
  readonly then: Level | null;
  readonly count: number;
  /** Where there is no cause. */
  readonly ids: Json<readonly string[]> | null;
}

/** Of sheets that the other run points at too: each finding was there, as it is now. */
async function sameCells({ db }: LedgerContext, run: RunRow, base: Rows | null): Promise<readonly Cell[]> {
  if (base === null) return [];
  const { rows } = await sql<Cell>`
    with base (view, run, sheet) as materialized (${base})
    select sheet, "check", level, since, exempt, owner, cause, case when exempt = 1 then null else level end as "then",
      count(*) as count, null as ids
    from finding
    where sheet in (select sheet from run_view where run = ${run.n} and sheet in (select sheet from base))
    group by sheet, "check", level, since, exempt, owner, cause`.execute(db);
  return rows;
}

async function otherCells({ db, engine }: LedgerContext, run: RunRow, base: Rows | null): Promise<readonly Cell[]> {
  const sheets =
    base === null
      ? sql`select sheet from run_view where run = ${run.n} and sheet is not null`
      : sql`select sheet from run_view where run = ${run.n} and sheet is not null
          and sheet not in (select sheet from base)`;
  // Without another run the index hands the groups out in order; only then are they counted while it is read.
  const then =
    base === null
      ? sql`null`
      : sql`(select old.level from sheet join base on base.view = sheet.view
          join finding as old on old.sheet = base.sheet and old.id = finding.id
          where sheet.n = finding.sheet and old.exempt = 0)`;
  const { rows } = await sql<Cell>`
    with base (view, run, sheet) as materialized (${base ?? NO_ROWS})
    select sheet, "check", level, since, exempt, owner, cause, ${then} as "then", count(*) as count,
      case when cause is null and exempt = 0 then ${engine.dialect.listOf(sql`id`)} end as ids
    from finding
    where sheet in (${sheets})
    group by sheet, "check", level, since, exempt, owner, cause ${base === null ? sql`` : sql`, ${then}`}`.execute(db);
  return rows;
}
