// Causes of a run, and which finding has which. Sheets that other runs point at are left as they are: a changed one becomes a new sheet.
import { sql, type Transaction } from 'kysely';
import { hashOf } from '../blobs/blobs.ts';
import { toJson } from '../database/json-column.ts';
import { FINDING_COLUMNS } from '../database/sheet-hash.ts';
import { batches, type LedgerContext, openRunRow, type RunRow } from '../database/ledger-context.ts';
import type { CauseEntry } from '../records.ts';
import type { LedgerSchema } from '../database/schema.ts';
import { together } from '../database/together.ts';

type Trx = Transaction<LedgerSchema>;

/** The causes of the whole run, best first; findings that no cause names end up without one. @throws run-not-open */
export async function storeCauses(context: LedgerContext, runId: string, entries: readonly CauseEntry[]): Promise<void> {
  const run = await openRunRow(context, runId);
  await together(context, async (trx) => {
    await trx.deleteFrom('run_cause').where('run', '=', run.n).execute();
    for (const [ord, { cause }] of entries.entries()) {
      const body = toJson(cause);
      const hash = hashOf(body);
      await trx
        .insertInto('cause')
        .values({ id: cause.id, hash, body })
        .onConflict((c) => c.column('hash').doNothing())
        .execute();
      const { n } = await trx.selectFrom('cause').select('n').where('hash', '=', hash).executeTakeFirstOrThrow();
      await trx.insertInto('run_cause').values({ run: run.n, ord, cause: n }).execute();
    }
    await noteAssignments(trx, entries);
    for (const place of await placesThatChange(trx, run)) await makeOwn(trx, run, place);
    await sql`
      update finding set cause = (select assigned.cause from assigned where assigned.finding = finding.id)
      where sheet in (select sheet from run_view where run = ${run.n})
        and cause is distinct from (select assigned.cause from assigned where assigned.finding = finding.id)`.execute(trx);
    await sql`drop table assigned`.execute(trx);
  });
}

/** Finding → cause in a table of this connection alone, so that one statement assigns all. */
async function noteAssignments(trx: Trx, entries: readonly CauseEntry[]): Promise<void> {
  await sql`create temp table assigned (finding text primary key, cause text not null)`.execute(trx);
  // Of two that name the same finding the later one has it.
  const causes = new Map(entries.flatMap(({ cause, findings }) => findings.map((finding) => [finding, cause.id] as const)));
  for (const batch of batches([...causes].map(([finding, cause]) => sql`(${finding}, ${cause})`))) {
    await sql`insert into assigned (finding, cause) values ${sql.join(batch)}`.execute(trx);
  }
  // Else a planner that knows nothing of it may read all of it for each finding.
  await sql`analyze assigned`.execute(trx);
}

interface SheetOfView {
  readonly view: number;
  readonly sheet: number;
}

async function placesThatChange(trx: Trx, run: RunRow): Promise<readonly SheetOfView[]> {
  const { rows } = await sql<SheetOfView>`
    select distinct run_view.view, run_view.sheet
    from run_view join finding on finding.sheet = run_view.sheet left join assigned on assigned.finding = finding.id
    where run_view.run = ${run.n} and finding.cause is distinct from assigned.cause`.execute(trx);
  return rows;
}

/** Where other runs point at the sheet too, this run points at a copy from now on. */
async function makeOwn(trx: Trx, run: RunRow, { view, sheet }: SheetOfView): Promise<void> {
  const other = await trx
    .selectFrom('run_view')
    .select('run')
    .where('view', '=', view)
    .where('sheet', '=', sheet)
    .where('run', '!=', run.n)
    .limit(1)
    .executeTakeFirst();
  if (other === undefined) return;
  const { hash } = await trx.selectFrom('sheet').select('hash').where('n', '=', sheet).executeTakeFirstOrThrow();
  const { n } = await trx.insertInto('sheet').values({ view, hash }).returning('n').executeTakeFirstOrThrow();
  await trx
    .insertInto('finding')
    .columns([...COPIED, 'sheet'])
    .expression((eb) =>
      eb
        .selectFrom('finding')
        .select([...COPIED, eb.lit(n).as('sheet')])
        .where('sheet', '=', sheet),
    )
    .execute();
  await trx.updateTable('run_view').set({ sheet: n }).where('run', '=', run.n).where('view', '=', view).execute();
}

const COPIED = [...FINDING_COLUMNS, 'cause'] as const;
