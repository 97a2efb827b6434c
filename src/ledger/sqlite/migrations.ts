// How the tables of ledger.sqlite came about, step by step. A step that has been released is never edited: the next one changes it.
import { type Kysely, type Migration, type MigrationProvider, sql } from 'kysely';
import { hashOf } from '../blobs/blobs.ts';
import { codedNotes } from './told-notes.ts';
import { partedCause } from './told-repairs.ts';

async function run(db: Kysely<unknown>, statements: readonly string[]): Promise<void> {
  for (const statement of statements) await sql.raw(statement).execute(db);
}

/** Runs, views, blobs, findings, causes, coverage. */
const RUNS: Migration = {
  up: (db) =>
    run(db, [
      `create table run (
        n integer primary key, id text not null unique, state text not null, started_at text not null, finished_at text,
        gloam text not null, browser text not null, reference text not null, themes text not null, label text,
        narrowed integer not null, part_index integer, part_of integer, plan text not null, previous integer, totals text)`,
      `create table view (
        n integer primary key, id text not null unique,
        page text not null, theme text not null, state text not null, viewport text not null)`,
      `create table blob (n integer primary key, hash text not null unique, kind text not null, bytes integer not null)`,
      `create table run_view (
        run integer not null, view integer not null, ord integer not null, status text not null, url text not null, ms real,
        code text, error text, shot integer, samples integer, properties integer, sample_count integer not null default 0,
        title text, width real, height real, scale real, notes text, sheet integer,
        primary key (run, view)) without rowid`,
      // In plan order, for lists; by view, for its history.
      `create index run_view_order on run_view (run, ord)`,
      `create index run_view_history on run_view (view, run)`,
      `create table sheet (n integer primary key, view integer not null, hash text not null)`,
      `create table finding (
        n integer primary key, sheet integer not null, id text not null, "check" text not null, level text not null,
        since integer not null, exempt integer not null, why_exempt text, owner text, cause text, key text not null, selector text not null, rect text not null,
        message text not null, measured text not null, expected text not null)`,
      `create unique index finding_place on finding (sheet, id)`,
      // Holds all that is counted, so that counting reads the index alone.
      `create index finding_count on finding (sheet, "check", level, since, exempt)`,
      `create index finding_since on finding (since)`,
      `create index finding_cause on finding (cause, sheet) where cause is not null`,
      `create index finding_id on finding (id)`,
      `create table cause (n integer primary key, id text not null, hash text not null unique, body text not null)`,
      `create table run_cause (run integer not null, ord integer not null, cause integer not null, primary key (run, ord)) without rowid`,
      `create table coverage (
        run integer not null, page text not null, theme text not null, owner text not null,
        uses integer not null, through_tokens integer not null, primary key (run, theme, page, owner)) without rowid`,
    ]),
};

/** Accepted pictures, and how the pictures of a run compare with them. */
const ACCEPTED: Migration = {
  up: (db) =>
    run(db, [
      `create table acceptance (
        n integer primary key, id text not null unique, collection text not null, who text not null, note text not null,
        at text not null, run text, undone_at text, undone_by text)`,
      `create table accepted_picture (
        acceptance integer not null, view integer not null, shot integer, samples integer, properties integer,
        primary key (acceptance, view)) without rowid`,
      // The latest acceptance of a view is the one in force.
      `create index accepted_picture_view on accepted_picture (view, acceptance)`,
      `create table difference (
        n integer primary key, accepted integer not null, shot integer not null, settings text not null, body text not null,
        unique (accepted, shot, settings))`,
      `create table comparison (
        run integer not null, view integer not null, verdict text not null, accepted integer, difference integer,
        primary key (run, view)) without rowid`,
    ]),
};

/** What tells that a night is as the last one, so that nothing is worked out twice. */
const UNCHANGED: Migration = {
  up: (db) => run(db, [`alter table run_view add column fingerprint text`, `alter table run add column explained text`]),
};

/** Counting asks for owners and causes too; they come from the index like the rest. */
const TALLY: Migration = {
  up: (db) =>
    run(db, [
      `drop index finding_count`,
      `create index finding_count on finding (sheet, "check", level, since, exempt, owner, cause)`,
    ]),
};

/** Notes of views were sentences; they are codes. */
const NOTE_CODES: Migration = {
  up: async (db) => {
    const { rows } = await sql<{ readonly notes: string }>`select distinct notes from run_view where notes is not null`.execute(db);
    for (const { notes } of rows) {
      await sql`update run_view set notes = ${codedNotes(notes)} where notes = ${notes}`.execute(db);
    }
  },
};

/** Which runs were ended by hand: they are no night of their own. */
const CUT: Migration = {
  up: (db) => run(db, [`alter table run add column cut integer not null default 0`]),
};

/** What a run judged by: samples are facts, their verdicts follow from it, and an exemption written later is not called idle. */
const STANDARD: Migration = { up: (db) => run(db, [`alter table run add column standard text`]) };

/** Forecasts stand beside the runs: of which run, and what was changed. */
const FORETOLD: Migration = {
  up: (db) => run(db, [`alter table run add column foretold_of integer`, `alter table run add column foretold text`]),
};

/** Rows that matter carry a hash over what they say; what is there already has none. */
const SEALS: Migration = {
  up: (db) =>
    run(
      db,
      ['run', 'view', 'run_view', 'comparison', 'acceptance', 'accepted_picture', 'difference'].map(
        (table) => `alter table ${table} add column seal text`,
      ),
    ),
};

/** What the first screen of the report counts, stored once when a run ends; a run that has none is counted when it is asked for. */
const TALLIES: Migration = {
  up: (db) =>
    run(db, [`create table tally (run integer primary key, hash text not null, bases text not null, body blob not null)`]),
};

/** Kinds of repairs have members of their own. What does not prove by its hash is left for `doctor` to find. */
const REPAIR_PARTS: Migration = {
  up: async (db) => {
    const { rows } = await sql<{ readonly n: number; readonly hash: string; readonly body: string }>`
      select n, hash, body from cause`.execute(db);
    for (const { n, hash, body } of rows) {
      if (hashOf(body) !== hash) continue;
      const parted = partedCause(body);
      await sql`update cause set body = ${parted}, hash = ${hashOf(parted)} where n = ${n}`.execute(db);
    }
  },
};

/** By name, which is also their order. */
export const MIGRATIONS: Readonly<Record<string, Migration>> = {
  '001-runs': RUNS,
  '002-accepted': ACCEPTED,
  '003-unchanged': UNCHANGED,
  '004-tally': TALLY,
  '005-note-codes': NOTE_CODES,
  '006-cut': CUT,
  '007-standard': STANDARD,
  '008-foretold': FORETOLD,
  '009-seals': SEALS,
  '010-tallies': TALLIES,
  '011-repair-parts': REPAIR_PARTS,
};

export const MIGRATION_PROVIDER: MigrationProvider = { getMigrations: () => Promise.resolve({ ...MIGRATIONS }) };
