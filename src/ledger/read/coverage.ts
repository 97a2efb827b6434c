// Coverage of a run: the share of painted colour uses that go through tokens.
import { type LedgerContext, runRow } from '../database/ledger-context.ts';
import type { CoverageFact } from '../records.ts';

export async function readCoverage(context: LedgerContext, runId: string): Promise<readonly CoverageFact[]> {
  const run = await runRow(context, runId);
  const rows = await context.db
    .selectFrom('coverage')
    .selectAll()
    .where('run', '=', run.n)
    .orderBy('theme')
    .orderBy('page')
    .orderBy('owner')
    .execute();
  return rows.map(({ page, theme, owner, uses, through_tokens }) => ({
    page,
    theme,
    ...(owner === '' ? {} : { owner }),
    uses,
    throughTokens: through_tokens,
  }));
}

/** Who owns painted colours of the run. */
export async function readOwners(context: LedgerContext, runId: string): Promise<readonly string[]> {
  const run = await runRow(context, runId);
  const rows = await context.db
    .selectFrom('coverage')
    .select('owner')
    .distinct()
    .where('run', '=', run.n)
    .where('owner', '!=', '')
    .orderBy('owner')
    .execute();
  return rows.map(({ owner }) => owner);
}

/** Theme → share, 0–1; a theme that paints no colour at all has none. */
export async function coverageShares({ db }: Pick<LedgerContext, 'db'>, run: number): Promise<Readonly<Record<string, number>>> {
  const rows = await db
    .selectFrom('coverage')
    .select((eb) => ['theme', eb.fn.sum<number>('uses').as('uses'), eb.fn.sum<number>('through_tokens').as('through')])
    .where('run', '=', run)
    .groupBy('theme')
    .orderBy('theme')
    .execute();
  return Object.fromEntries(rows.filter((row) => row.uses > 0).map((row) => [row.theme, row.through / row.uses]));
}
