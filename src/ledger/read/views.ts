// Views of a run, in plan order, and what each yielded.
import { sql } from 'kysely';
import { viewUnknown } from '../../errors/ledger-errors.ts';
import type { KnownView } from '../../samples/captured-view.ts';
import { pageLimit, parseCursor, toCursor } from '../database/cursor.ts';
import { fromJson } from '../database/json-column.ts';
import { type LedgerContext, runRow } from '../database/ledger-context.ts';
import { readFacts } from './facts.ts';
import { readRun } from './runs.ts';
import type { PageRequest, Slice, StoredView, Unfinished, ViewFacts } from '../records.ts';

export interface ViewFilter {
  readonly page?: string;
  readonly theme?: string;
  readonly state?: string;
  readonly viewport?: string;
  readonly status?: StoredView['status'];
}

export async function readViews(
  context: LedgerContext,
  runId: string,
  { limit, after, ...filter }: ViewFilter & PageRequest = {},
): Promise<Slice<StoredView>> {
  const run = await runRow(context, runId);
  const most = pageLimit(limit);
  let query = viewRows(context, run.n).limit(most + 1);
  if (after !== undefined) query = query.where('run_view.ord', '>', parseCursor(after).ord);
  if (filter.page !== undefined) query = query.where('view.page', '=', filter.page);
  if (filter.theme !== undefined) query = query.where('view.theme', '=', filter.theme);
  if (filter.state !== undefined) query = query.where('view.state', '=', filter.state);
  if (filter.viewport !== undefined) query = query.where('view.viewport', '=', filter.viewport);
  if (filter.status !== undefined) query = query.where('run_view.status', '=', filter.status);
  const rows = await query.execute();
  const last = rows.length > most ? rows[most - 1] : undefined;
  return { items: rows.slice(0, most).map(viewOf), next: last === undefined ? null : toCursor(last.ord, '') };
}

/** @throws view-unknown */
export async function readView(context: LedgerContext, runId: string, viewId: string): Promise<StoredView> {
  const run = await runRow(context, runId);
  const row = await viewRows(context, run.n).where('view.id', '=', viewId).executeTakeFirst();
  if (row === undefined) throw viewUnknown(runId, viewId);
  return viewOf(row);
}

/** Empty lists for a view that was not captured. @throws view-unknown, blob-missing, blob-damaged, samples-unreadable */
export async function readViewFacts(context: LedgerContext, runId: string, viewId: string): Promise<ViewFacts> {
  return readFacts(context.store.blobs, await factBlobs(context, runId, viewId));
}

/** @throws view-unknown, blob-missing, blob-damaged, samples-unreadable */
export async function readProperties(context: LedgerContext, runId: string, viewId: string): Promise<ViewFacts['properties']> {
  const { properties } = await factBlobs(context, runId, viewId);
  return (await readFacts(context.store.blobs, { samples: null, properties })).properties;
}

async function factBlobs(
  context: LedgerContext,
  runId: string,
  viewId: string,
): Promise<{ readonly samples: string | null; readonly properties: string | null }> {
  const run = await runRow(context, runId);
  const row = await context.db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .leftJoin('blob as s', 's.n', 'run_view.samples')
    .leftJoin('blob as p', 'p.n', 'run_view.properties')
    .select(['s.hash as samples', 'p.hash as properties'])
    .where('run_view.run', '=', run.n)
    .where('view.id', '=', viewId)
    .executeTakeFirst();
  if (row === undefined) throw viewUnknown(runId, viewId);
  return row;
}

/** What the latest run that captured the view kept of it; undefined where it left no fingerprint. */
export async function readKnownView(context: LedgerContext, viewId: string): Promise<KnownView | undefined> {
  const row = await context.db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .innerJoin('run', 'run.n', 'run_view.run')
    .leftJoin('blob as s', 's.n', 'run_view.samples')
    .leftJoin('blob as p', 'p.n', 'run_view.properties')
    .select(['run_view.title', 'run_view.width', 'run_view.height', 'run_view.scale'])
    .select(['run_view.fingerprint', 'run_view.notes', 's.hash as samples', 'p.hash as properties'])
    .where('view.id', '=', viewId)
    .where('run_view.status', '=', 'captured')
    .where('run.foretold_of', 'is', null)
    .orderBy('run_view.run', 'desc')
    .limit(1)
    .executeTakeFirst();
  if (row === undefined || row.fingerprint === null) return undefined;
  const { title, width, height, scale } = row;
  const page = { title: title ?? '', widthCssPx: width ?? 0, heightCssPx: height ?? 0, scale: scale ?? 1 };
  const notes = row.notes === null ? [] : fromJson(row.notes);
  return {
    fingerprint: row.fingerprint,
    notes,
    read: async () => {
      const { masks, ...facts } = await readFacts(context.store.blobs, row);
      return { page, ...facts, notes, ...(masks.length === 0 ? {} : { masks }) };
    },
  };
}

/** The latest run that did not finish, if any; with `runId` that one. */
export async function readUnfinished(context: LedgerContext, runId?: string): Promise<Unfinished | null> {
  const latest = await context.db
    .selectFrom('run')
    .select('id')
    .where('state', '=', 'running')
    .where('foretold_of', 'is', null)
    .orderBy('n', 'desc')
    .limit(1)
    .executeTakeFirst();
  const id = runId ?? latest?.id;
  if (id === undefined) return null;
  const run = await runRow(context, id);
  const rows = (await viewRows(context, run.n).where('run_view.sheet', 'is', null).execute()).map(viewOf);
  return {
    run: await readRun(context, id),
    missing: rows.filter((view) => view.status === 'planned'),
    unchecked: rows.filter((view) => view.status === 'captured'),
  };
}

function viewRows({ db }: LedgerContext, run: number) {
  return db
    .selectFrom('run_view')
    .innerJoin('view', 'view.n', 'run_view.view')
    .leftJoin('blob', 'blob.n', 'run_view.shot')
    .select(['view.id', 'view.page', 'view.theme', 'view.state', 'view.viewport'])
    .select(['run_view.ord', 'run_view.status', 'run_view.url', 'run_view.ms', 'run_view.code', 'run_view.error'])
    .select(['run_view.sample_count', 'run_view.title', 'run_view.width', 'run_view.height', 'run_view.scale', 'run_view.notes'])
    .select(['run_view.sheet', 'blob.hash as shot'])
    .select(sql<number>`(select count(*) from finding where finding.sheet = run_view.sheet)`.as('findings'))
    .where('run_view.run', '=', run)
    .where('run_view.status', '!=', 'files')
    .orderBy('run_view.ord');
}

type ViewRow = Awaited<ReturnType<ReturnType<typeof viewRows>['execute']>>[number];

function viewOf(row: ViewRow): StoredView {
  return {
    id: row.id,
    page: row.page,
    theme: row.theme,
    state: row.state,
    viewport: row.viewport,
    url: row.url,
    status: row.status === 'files' ? 'planned' : row.status,
    ms: row.ms,
    code: row.code,
    error: row.error,
    shot: row.shot,
    samples: row.sample_count,
    title: row.title,
    widthCssPx: row.width,
    heightCssPx: row.height,
    scale: row.scale,
    notes: row.notes === null ? [] : fromJson(row.notes),
    checked: row.sheet !== null,
    findings: row.findings,
  };
}
