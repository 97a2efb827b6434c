// Parts of one plan, each rendered into a store of its own, become one run, as if nothing had been divided.
import { partsDoNotFit } from '../../errors/ledger-errors.ts';
import type { View, ViewRef } from '../../samples/view.ts';
import { beginRun } from './begin-run.ts';
import { allOf } from '../database/cursor.ts';
import { storeCoverage } from './finish-run.ts';
import { fromJson } from '../database/json-column.ts';
import { type LedgerContext, type RunRow, runRow } from '../database/ledger-context.ts';
import { readComparisons, storeComparisons } from '../read/comparisons.ts';
import { dropUnfinishedRun } from '../care/prune.ts';
import { readCoverage } from '../read/coverage.ts';
import { readViewFacts, readViews } from '../read/views.ts';
import type { CoverageFact, FindingEntry, StoredView, ViewFindings } from '../records.ts';
import { storeFindings } from './store-findings.ts';
import { storeView } from './store-view.ts';

export interface RunInStore {
  readonly context: LedgerContext;
  readonly run: string;
}

interface Part extends RunInStore {
  readonly row: RunRow;
  /** With their place in the undivided plan. */
  readonly views: readonly (StoredView & { readonly ord: number })[];
}

/**
 * The joined run is left under way in the target store, with views, findings, comparisons and coverage: causes need all samples
 * together, so they are for the caller to find before it finishes the run. Needs the target store for itself.
 * @param id of the joined run @throws parts-do-not-fit
 */
export async function joinRuns(target: LedgerContext, runs: readonly RunInStore[], id: string): Promise<void> {
  const parts = await Promise.all(runs.map(readPart));
  const first = refuseMisfits(parts);
  const plan = parts.flatMap((part) => part.views).sort((a, b) => a.ord - b.ord);
  const { gloam, browser, reference, label, narrowed } = first;
  await dropHalfJoined(target, id);
  await beginRun(target, {
    ...{ id, gloam, browser, reference, themes: fromJson(first.themes), narrowed: narrowed === 1 },
    ...(label === null ? {} : { label }),
    ...(first.standard === null ? {} : { standard: fromJson(first.standard) }),
    startedAt: parts.map(({ row }) => row.started_at).sort()[0] ?? first.started_at,
    views: plan.map(viewOf),
  });
  for (const part of parts) {
    for (const view of part.views) await copyView(part, view, target, id);
    await storeFindings(target, id, await findingsOf(part));
    await copyComparisons(part, target, id);
  }
  await storeCoverage(target, id, await summedCoverage(parts));
}

/** What a killed join left: a run under way of that name that is no part of a divided one. Nobody works on it, since the store is ours. */
async function dropHalfJoined(target: LedgerContext, id: string): Promise<void> {
  const half = await target.db
    .selectFrom('run')
    .select('n')
    .where('id', '=', id)
    .where('state', '=', 'running')
    .where('part_index', 'is', null)
    .executeTakeFirst();
  if (half !== undefined) await dropUnfinishedRun(target, half.n);
}

async function readPart({ context, run }: RunInStore): Promise<Part> {
  const row = await runRow(context, run);
  const places = await context.db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .select(['view.id', 'run_view.ord'])
    .where('run_view.run', '=', row.n)
    .execute();
  const ord = new Map(places.map((place) => [place.id, place.ord]));
  const views = [];
  for await (const view of allOf((request) => readViews(context, run, request)))
    views.push({ ...view, ord: ord.get(view.id) ?? 0 });
  return { context, run, row, views };
}

function refuseMisfits(parts: readonly Part[]): RunRow {
  const first = parts[0]?.row;
  if (first === undefined) throw partsDoNotFit('no part is given');
  for (const { row } of parts) {
    if (row.state !== 'finished') throw partsDoNotFit(`run ${row.id} has not finished`);
    if (row.part_index === null) throw partsDoNotFit(`run ${row.id} is no part of a divided run`);
    for (const member of ['plan', 'part_of', 'gloam', 'browser', 'reference', 'themes', 'label'] as const) {
      if (row[member] !== first[member]) throw partsDoNotFit(`runs ${first.id} and ${row.id} differ in "${member}"`);
    }
  }
  const given = parts.map(({ row }) => row.part_index ?? 0).sort((a, b) => a - b);
  const wanted = Array.from({ length: first.part_of ?? 0 }, (_, index) => index + 1);
  if (given.join() !== wanted.join())
    throw partsDoNotFit(`found part ${given.join(', ')}; expected each of ${wanted.join(', ')} once`);
  const seen = new Set<string>();
  for (const { id } of parts.flatMap((part) => part.views)) {
    if (seen.has(id)) throw partsDoNotFit(`view "${id}" is in two parts`);
    seen.add(id);
  }
  return first;
}

function viewOf({ id, page, theme, state, viewport, url }: View): View {
  return { id, page, theme, state, viewport, url };
}

async function copyView(part: Part, view: StoredView, target: LedgerContext, run: string): Promise<void> {
  if (view.status === 'planned') return;
  if (view.status === 'failed' || view.shot === null) {
    const { code, error, ms } = view;
    await storeView(target, run, { view: viewOf(view), status: 'failed', ms: ms ?? 0, code: code ?? '', error: error ?? '' });
    return;
  }
  await storeView(target, run, {
    view: viewOf(view),
    status: 'captured',
    ms: view.ms ?? 0,
    page: {
      ...{ title: view.title ?? '', scale: view.scale ?? 1 },
      ...{ widthCssPx: view.widthCssPx ?? 0, heightCssPx: view.heightCssPx ?? 0 },
    },
    shot: await part.context.store.blobs.get(view.shot),
    ...(await readViewFacts(part.context, part.run, view.id)),
    notes: view.notes,
  });
}

/** Findings as they were stored, view by view; views that were checked and had none are among them. */
async function findingsOf({ context, row }: Part): Promise<readonly ViewFindings[]> {
  const places = await context.db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .select(['view.id', 'view.page', 'view.theme', 'view.state', 'view.viewport', 'run_view.sheet'])
    .where('run_view.run', '=', row.n)
    .where('run_view.sheet', 'is not', null)
    .execute();
  const list: { readonly view: ViewRef; readonly findings: readonly FindingEntry[] }[] = [];
  for (const { sheet, ...view } of places) {
    const rows = await context.db.selectFrom('finding').selectAll().where('sheet', '=', sheet).orderBy('id').execute();
    const findings = rows.map(
      ({ id, check, level, key, selector, rect, message, measured, expected, owner, why_exempt }): FindingEntry => ({
        id,
        draft: {
          ...{ check, level, key, selector, message },
          ...{ rect: fromJson(rect), measured: fromJson(measured), expected: fromJson(expected) },
        },
        ...(owner === null ? {} : { owner }),
        ...(why_exempt === null ? {} : { exempt: why_exempt }),
      }),
    );
    list.push({ view, findings });
  }
  return list;
}

/** The accepted pictures they were held against come along. */
async function copyComparisons({ context, run, row }: Part, target: LedgerContext, joined: string): Promise<void> {
  const settings = new Map(
    (
      await context.db
        .selectFrom('comparison')
        .innerJoin('view', 'view.n', 'comparison.view')
        .innerJoin('difference', 'difference.n', 'comparison.difference')
        .select(['view.id', 'difference.settings'])
        .where('comparison.run', '=', row.n)
        .execute()
    ).map((found) => [found.id, found.settings]),
  );
  for await (const { verdict, accepted, difference, id, page, theme, state, viewport } of allOf((request) =>
    readComparisons(context, run, request),
  )) {
    if (accepted !== null) {
      const { bytes } = await target.store.blobs.put(await context.store.blobs.get(accepted));
      const blob = { hash: accepted, kind: 'shot', bytes } as const;
      await target.db
        .insertInto('blob')
        .values(blob)
        .onConflict((conflict) => conflict.column('hash').doNothing())
        .execute();
    }
    await storeComparisons(target, joined, [
      {
        view: { id, page, theme, state, viewport },
        verdict,
        ...(accepted === null ? {} : { accepted }),
        ...(difference === null ? {} : { difference: { found: difference, settings: settings.get(id) ?? '' } }),
      },
    ]);
  }
}

/** A page whose states lie in different parts has uses in several. */
async function summedCoverage(parts: readonly Part[]): Promise<readonly CoverageFact[]> {
  const sums = new Map<string, CoverageFact>();
  for (const { context, run } of parts) {
    for (const fact of await readCoverage(context, run)) {
      const place = JSON.stringify([fact.page, fact.theme, fact.owner ?? '']);
      const { uses, throughTokens } = sums.get(place) ?? { uses: 0, throughTokens: 0 };
      sums.set(place, { ...fact, uses: fact.uses + uses, throughTokens: fact.throughTokens + throughTokens });
    }
  }
  return [...sums.values()];
}
