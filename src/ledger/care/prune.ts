// Old runs are dropped, and with them what neither a kept run nor an accepted picture needs. Rows go first, in one transaction; files
// after it. Others may store groups of a run meanwhile:
// - A transaction that points at rows waits while rows are dropped, and the other way round (`Dialect.pointing`).
// - A file without a row may be one whose row is on its way, so that young ones stay (`graceMs`).
// - A file goes while a row of its hash is held, which is taken back afterwards: whoever wants to enter the hash waits, and then sees for
//   itself that the file is gone (enter-blobs.ts). So a row never points at a file that prune took away, also where it is killed.
import { existsSync } from 'node:fs';
import { readdir, rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { type Kysely, sql } from 'kysely';
import { sideBySide } from '../blobs/side-by-side.ts';
import { batches, type LedgerContext } from '../database/ledger-context.ts';
import type { Engine } from '../database/engine.ts';
import type { LedgerSchema } from '../database/schema.ts';

export interface PruneOptions {
  /** How many of the latest finished runs stay; at least 1, and the last whole one. A run under way stays when it is the latest of all. */
  readonly keep: number;
  /** Files without a row stay so long: a run under way may have written them. Without any, nobody else may share the store. */
  readonly graceMs?: number;
  /** Runs under way that began since then stay, all of them; of others the latest does. ISO 8601 */
  readonly underWaySince?: string;
  /** Only says what would go. */
  readonly tryOnly?: boolean;
}

export interface PruneReceipt {
  /** Ids, newest first. */
  readonly dropped: readonly string[];
  readonly kept: readonly string[];
  readonly blobs: number;
  readonly bytes: number;
}

type Trx = Kysely<LedgerSchema>;

/** Needs the store for itself (`access: 'own'`), or a time of grace. */
export async function prune(context: LedgerContext, options: PruneOptions): Promise<PruneReceipt> {
  const { db, engine } = context;
  const trx = await db.startTransaction().execute();
  let receipt: PruneReceipt;
  try {
    await engine.dialect.pruning?.execute(trx);
    const { dropped, kept } = await sortRuns(trx, options);
    await dropRuns(
      trx,
      dropped.map((run) => run.n),
    );
    await dropSupersededPictures(trx, engine);
    const unused = await dropUnused(trx);
    receipt = {
      dropped: dropped.map((run) => run.id),
      kept: kept.map((run) => run.id),
      blobs: unused.length,
      bytes: unused.reduce((sum, blob) => sum + blob.bytes, 0),
    };
  } catch (error) {
    await trx.rollback().execute();
    throw error;
  }
  if (options.tryOnly === true) {
    await trx.rollback().execute();
    return receipt;
  }
  await trx.commit().execute();
  const files = await removeUnknownBlobs(context, options.graceMs);
  await engine.reclaim();
  return { ...receipt, blobs: files.count, bytes: files.bytes };
}

/** One that never finished goes with all that only it needs. Needs the store for itself. */
export async function dropUnfinishedRun({ db }: LedgerContext, run: number): Promise<void> {
  await db.transaction().execute(async (trx) => {
    await dropRuns(trx, [run]);
    await dropUnused(trx);
  });
}

interface RunName {
  readonly n: number;
  readonly id: string;
}

async function sortRuns(
  trx: Trx,
  options: PruneOptions,
): Promise<{ readonly dropped: readonly RunName[]; readonly kept: readonly RunName[] }> {
  const runs = await trx
    .selectFrom('run')
    .select(['n', 'id', 'state', 'started_at', 'previous', 'foretold_of', 'narrowed', 'part_index', 'cut'])
    .where('state', '!=', 'pruned')
    .orderBy('n', 'desc')
    .execute();
  const keep = Math.max(1, Math.trunc(options.keep));
  const since = Date.parse(options.underWaySince ?? '');
  const finished = runs.filter((run) => run.state === 'finished');
  const stays = new Set(finished.slice(0, keep).map((run) => run.n));
  // Commands speak of the last whole run: however many saw a part since, it stays.
  const whole = finished.find(({ narrowed, part_index, cut }) => narrowed === 0 && part_index === null && cut === 0);
  if (whole !== undefined) stays.add(whole.n);
  for (const [place, { n, state, started_at, previous }] of runs.entries()) {
    if (state !== 'running' || (place > 0 && !(Date.parse(started_at) >= since))) continue;
    stays.add(n);
    // Its views are held against those of the one before.
    if (previous !== null) stays.add(previous);
  }
  // A forecast goes with the run that it was made from.
  for (const { n, state, foretold_of } of runs)
    if (state === 'foretold' && foretold_of !== null && stays.has(foretold_of)) stays.add(n);
  return { dropped: runs.filter((run) => !stays.has(run.n)), kept: runs.filter((run) => stays.has(run.n)) };
}

export async function dropRuns(trx: Trx, runs: readonly number[]): Promise<void> {
  for (const batch of batches(runs)) {
    for (const table of ['run_view', 'run_cause', 'coverage', 'comparison', 'tally'] as const) {
      await trx.deleteFrom(table).where('run', 'in', batch).execute();
    }
    // The name stays, for findings that were first seen in it.
    await trx.updateTable('run').set({ state: 'pruned' }).where('n', 'in', batch).execute();
  }
}

/**
 * An accepted picture stays while it is in force, and as long as undoing a later acceptance could bring it back: until that later
 * one is older than every kept run.
 */
async function dropSupersededPictures(trx: Trx, engine: Engine): Promise<void> {
  await sql`
    with oldest as (select min(started_at) as at from run where state != 'pruned')
    delete from accepted_picture where exists (
      select 1
      from accepted_picture later
      join acceptance newer on newer.n = later.acceptance
      join acceptance mine on mine.n = accepted_picture.acceptance
      where later.view = accepted_picture.view and later.acceptance > accepted_picture.acceptance
        and newer.collection = mine.collection and newer.undone_at is null
        and ${engine.dialect.moment(sql`newer.at`)} < ${engine.dialect.moment(sql`(select at from oldest)`)})`.execute(trx);
  // What was undone before every kept run has no way back either.
  await sql`
    delete from accepted_picture where acceptance in (
      select n from acceptance
      where undone_at is not null
        and ${engine.dialect.moment(sql`undone_at`)} < ${engine.dialect.moment(sql`(select min(started_at) from run where state != 'pruned')`)})`.execute(
    trx,
  );
}

async function dropUnused(trx: Trx): Promise<readonly { readonly bytes: number }[]> {
  await sql`delete from sheet where n not in (select sheet from run_view where sheet is not null)`.execute(trx);
  await sql`delete from finding where sheet not in (select n from sheet)`.execute(trx);
  await sql`delete from cause where n not in (select cause from run_cause)`.execute(trx);
  await sql`delete from difference where n not in (select difference from comparison where difference is not null)`.execute(trx);
  await sql`
    delete from run where state = 'pruned' and n not in (select since from finding)
      and n not in (select previous from run where previous is not null and state != 'pruned')`.execute(trx);
  const { rows } = await sql<{ readonly bytes: number }>`
    delete from blob where n not in (
      select shot from run_view where shot is not null union select samples from run_view where samples is not null
      union select properties from run_view where properties is not null
      union select shot from accepted_picture where shot is not null
      union select samples from accepted_picture where samples is not null
      union select properties from accepted_picture where properties is not null
      union select accepted from difference union select shot from difference
      union select accepted from comparison where accepted is not null)
    returning bytes`.execute(trx);
  return rows;
}

/** Statements that hold a row; connections are few. */
const HELD_AT_ONCE = 4;

/** Blobs that no row names, and the thumbnails made of them. @param graceMs those that are younger stay */
export async function removeUnknownBlobs(
  context: LedgerContext,
  graceMs = 0,
): Promise<{ readonly count: number; readonly bytes: number }> {
  const {
    db,
    store: { folder, blobs },
  } = context;
  // Before the rows are read: a file that is old by then and has no row afterwards was not written for one that came in between.
  const youngMs = graceMs === 0 ? Infinity : (await blobs.nowMs()) - graceMs;
  const known = new Set((await db.selectFrom('blob').select('hash').execute()).map((row) => row.hash));
  let count = 0;
  let bytes = 0;
  await sideBySide(
    blobs.list(),
    async (blob) => {
      if (known.has(blob.hash) || blob.atMs >= youngMs || !(await dropUnnamed(context, blob.hash))) return;
      count += 1;
      bytes += blob.bytes;
    },
    HELD_AT_ONCE,
  );
  const thumbs = join(folder, 'thumbs');
  for (const name of existsSync(thumbs) ? await readdir(thumbs, { recursive: true }) : []) {
    const hash = /^([0-9a-f]{64})-/.exec(basename(name))?.[1];
    if (hash !== undefined && !known.has(hash)) await rm(join(thumbs, name), { force: true });
  }
  return { count, bytes };
}

/** @returns false where a row names it by now */
async function dropUnnamed({ db, store: { blobs } }: LedgerContext, hash: string): Promise<boolean> {
  const trx = await db.startTransaction().execute();
  try {
    const held = await trx
      .insertInto('blob')
      .values({ hash, kind: 'shot', bytes: 0 })
      .onConflict((conflict) => conflict.column('hash').doNothing())
      .returning('n')
      .executeTakeFirst();
    if (held !== undefined) await blobs.drop(hash);
    return held !== undefined;
  } finally {
    await trx.rollback().execute();
  }
}
