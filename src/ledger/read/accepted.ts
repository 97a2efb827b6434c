// What is accepted: the picture in force for each view, and the acts that made it so.
import type { ViewRef } from '../../samples/view.ts';
import type { LedgerContext } from '../database/ledger-context.ts';
import type { Acceptance, AcceptedPicture } from '../records.ts';

/** @param sets the first one that has a view decides, e.g. a branch before the main line */
export async function readAccepted(context: LedgerContext, sets: readonly string[]): Promise<readonly AcceptedPicture[]> {
  const found = new Map<string, AcceptedPicture | null>();
  for (const set of sets) {
    for (const row of await acceptedRows(context, set)) {
      if (!found.has(row.id)) found.set(row.id, pictureOf(row, set));
    }
  }
  return [...found.values()].filter((picture) => picture !== null).sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** Newest first. */
export async function readAcceptances({ db }: LedgerContext, set?: string): Promise<readonly Acceptance[]> {
  let query = acceptanceRows({ db }).orderBy('acceptance.n', 'desc');
  if (set !== undefined) query = query.where('acceptance.collection', '=', set);
  return (await query.execute()).map(acceptanceOf);
}

export async function readAcceptance({ db }: LedgerContext, id: string): Promise<Acceptance | undefined> {
  const row = await acceptanceRows({ db }).where('acceptance.id', '=', id).executeTakeFirst();
  return row === undefined ? undefined : acceptanceOf(row);
}

export interface AcceptedRow extends ViewRef {
  readonly acceptance: string;
  readonly view: number;
  readonly shot_n: number | null;
  readonly samples_n: number | null;
  readonly properties_n: number | null;
  /** Hashes. */
  readonly shot: string | null;
  readonly samples: string | null;
  readonly properties: string | null;
}

/** Another text after every act of accepting or undoing, whoever did it. */
export async function readAcceptanceMark({ db }: LedgerContext): Promise<string> {
  const { acts, undone } = await db
    .selectFrom('acceptance')
    .select((eb) => [eb.fn.countAll<number>().as('acts'), eb.fn.count<number>('undone_at').as('undone')])
    .executeTakeFirstOrThrow();
  return `${String(acts)} ${String(undone)}`;
}

/** The rows in force in one set; `shot` is null where a view is no longer expected. */
export function acceptedRows({ db }: Pick<LedgerContext, 'db'>, set: string): Promise<readonly AcceptedRow[]> {
  return db
    .with('latest', (cte) =>
      cte
        .selectFrom('accepted_picture')
        .innerJoin('acceptance', 'acceptance.n', 'accepted_picture.acceptance')
        .select((eb) => ['accepted_picture.view', eb.fn.max('accepted_picture.acceptance').as('acceptance')])
        .where('acceptance.collection', '=', set)
        .where('acceptance.undone_at', 'is', null)
        .groupBy('accepted_picture.view'),
    )
    .selectFrom('latest')
    .innerJoin('accepted_picture as picture', (join) =>
      join.onRef('picture.view', '=', 'latest.view').onRef('picture.acceptance', '=', 'latest.acceptance'),
    )
    .innerJoin('acceptance', 'acceptance.n', 'picture.acceptance')
    .innerJoin('view', 'view.n', 'picture.view')
    .leftJoin('blob as shot', 'shot.n', 'picture.shot')
    .leftJoin('blob as samples', 'samples.n', 'picture.samples')
    .leftJoin('blob as properties', 'properties.n', 'picture.properties')
    .select(['view.id', 'view.page', 'view.theme', 'view.state', 'view.viewport', 'acceptance.id as acceptance'])
    .select(['picture.view', 'picture.shot as shot_n', 'picture.samples as samples_n', 'picture.properties as properties_n'])
    .select(['shot.hash as shot', 'samples.hash as samples', 'properties.hash as properties'])
    .execute();
}

function pictureOf(row: AcceptedRow, set: string): AcceptedPicture | null {
  const { id, page, theme, state, viewport, acceptance, shot, samples, properties } = row;
  return shot === null ? null : { id, page, theme, state, viewport, set, acceptance, shot, samples, properties };
}

function acceptanceRows({ db }: Pick<LedgerContext, 'db'>) {
  return db
    .selectFrom('acceptance')
    .selectAll('acceptance')
    .select((eb) =>
      eb
        .selectFrom('accepted_picture')
        .select((inner) => inner.fn.countAll<number>().as('views'))
        .whereRef('accepted_picture.acceptance', '=', 'acceptance.n')
        .as('views'),
    );
}

type AcceptanceRow = Awaited<ReturnType<ReturnType<typeof acceptanceRows>['execute']>>[number];

function acceptanceOf(row: AcceptanceRow): Acceptance {
  return {
    id: row.id,
    set: row.collection,
    who: row.who,
    note: row.note,
    at: row.at,
    run: row.run,
    undone: row.undone_at === null ? null : { at: row.undone_at, by: row.undone_by ?? '' },
    views: row.views ?? 0,
  };
}
