// The tables of ledger.sqlite as Kysely sees them. What each column holds is said here; how they came about in migrations.ts.
//
// A night without changes must add next to nothing, so what stays the same is stored once and pointed at: pictures and samples as
// blobs, the findings of a view as a `sheet`. Whether a finding is new follows from its `since`, so a sheet serves every later run.
import type { Generated } from 'kysely';
import type { Standard } from '../../plan/standard.ts';
import type { Cause, CheckId, Level, Measures } from '../../samples/finding.ts';
import type { Note } from '../../samples/note.ts';
import type { Rect } from '../../samples/view.ts';
import type { Difference } from '../../samples/difference.ts';
import type { Json } from './json-column.ts';
import type { ComparisonVerdict, ForecastNote, RunTheme, RunTotals } from '../records.ts';

export interface RunTable {
  readonly n: Generated<number>;
  readonly id: string;
  /** `foretold`: a forecast, finished; no run is ever held against it. `pruned`: nothing is left of it but its name, for the `since` of findings. */
  readonly state: 'running' | 'finished' | 'foretold' | 'pruned';
  readonly started_at: string;
  readonly finished_at: string | null;
  readonly gloam: string;
  readonly browser: string;
  readonly reference: string;
  readonly themes: Json<readonly RunTheme[]>;
  readonly label: string | null;
  /** Whether the plan was narrowed by `--page`, `--theme` …; then absent views have not vanished. */
  readonly narrowed: 0 | 1;
  readonly part_index: number | null;
  readonly part_of: number | null;
  /** Hash over the view ids of the undivided plan, in order. */
  readonly plan: string;
  /** Ended by hand before its plan was done. */
  readonly cut: 0 | 1;
  /** The finished run before this that has most in common with it, of the same label if there is one (begin-run.ts). */
  readonly previous: number | null;
  readonly totals: Json<RunTotals> | null;
  /** Hash over all that its causes and coverage follow from; null until they are stored. */
  readonly explained: string | null;
  /** What it judged by; null for runs of before this was kept. */
  readonly standard: Json<Standard> | null;
  /** A forecast: the run whose samples were recoloured, and what was changed. Null for what was rendered. */
  readonly foretold_of: number | null;
  readonly foretold: Json<ForecastNote> | null;
  /** Hash over the row (seals.ts); null while it may change, and for rows of before this was kept. */
  readonly seal: Generated<string | null>;
}

export interface ViewTable {
  readonly n: Generated<number>;
  readonly id: string;
  readonly page: string;
  readonly theme: string;
  readonly state: string;
  readonly viewport: string;
  /** Hash over the row (seals.ts); null while it may change, and for rows of before this was kept. */
  readonly seal: Generated<string | null>;
}

export interface BlobTable {
  readonly n: Generated<number>;
  /** SHA-256 of the file, lower-case hex. */
  readonly hash: string;
  readonly kind: 'shot' | 'samples' | 'properties';
  readonly bytes: number;
}

export interface RunViewTable {
  readonly run: number;
  readonly view: number;
  /** Place in the undivided plan. */
  readonly ord: number;
  /** `files`: no view, holds findings of token files. */
  readonly status: 'planned' | 'captured' | 'failed' | 'files';
  readonly url: string;
  readonly ms: number | null;
  readonly code: string | null;
  readonly error: string | null;
  readonly shot: number | null;
  readonly samples: number | null;
  readonly properties: number | null;
  readonly sample_count: number;
  readonly title: string | null;
  readonly width: number | null;
  readonly height: number | null;
  readonly scale: number | null;
  readonly notes: Json<readonly Note[]> | null;
  /** Null until its findings are stored. */
  readonly sheet: number | null;
  /** Hash over all that its samples follow from; null where a view may differ though this is the same. */
  readonly fingerprint: string | null;
  /** Hash over the row (seals.ts); null while it may change, and for rows of before this was kept. */
  readonly seal: Generated<string | null>;
}

/** The findings of one view, the same for every run that points here. */
export interface SheetTable {
  readonly n: Generated<number>;
  readonly view: number;
  /** SHA-256 over its findings without their causes. */
  readonly hash: string;
}

export interface FindingTable {
  readonly n: Generated<number>;
  readonly sheet: number;
  readonly id: string;
  readonly check: CheckId;
  readonly level: Level;
  /** Run in which it was first seen, without a gap since. */
  readonly since: number;
  readonly exempt: 0 | 1;
  readonly why_exempt: string | null;
  readonly owner: string | null;
  readonly cause: string | null;
  readonly key: string;
  readonly selector: string;
  readonly rect: Json<Rect>;
  readonly message: string;
  readonly measured: Json<Measures>;
  readonly expected: Json<Measures>;
}

export interface CauseTable {
  readonly n: Generated<number>;
  readonly id: string;
  readonly hash: string;
  readonly body: Json<Cause>;
}

export interface RunCauseTable {
  readonly run: number;
  readonly ord: number;
  readonly cause: number;
}

/** Painted colour uses of one page and theme, by owner ('' for nobody). */
export interface CoverageTable {
  readonly run: number;
  readonly page: string;
  readonly theme: string;
  readonly owner: string;
  readonly uses: number;
  readonly through_tokens: number;
}

/** One act of accepting. An undone one is passed over, so what was accepted before is in force again. */
export interface AcceptanceTable {
  readonly n: Generated<number>;
  readonly id: string;
  /** Name of the accepted set: a branch, a label. (`set` is a word of SQL.) */
  readonly collection: string;
  readonly who: string;
  readonly note: string;
  readonly at: string;
  /** Id of the run the pictures are of; null for imported ones. */
  readonly run: string | null;
  readonly undone_at: string | null;
  readonly undone_by: string | null;
  /** Hash over the row (seals.ts); null while it may change, and for rows of before this was kept. */
  readonly seal: Generated<string | null>;
}

/** `shot` null: from this acceptance on the view is no longer expected. */
export interface AcceptedPictureTable {
  readonly acceptance: number;
  readonly view: number;
  readonly shot: number | null;
  readonly samples: number | null;
  readonly properties: number | null;
  /** Hash over the row (seals.ts); null while it may change, and for rows of before this was kept. */
  readonly seal: Generated<string | null>;
}

/** What comparing two pictures yielded; kept, so that the same two are not compared every night. */
export interface DifferenceTable {
  readonly n: Generated<number>;
  readonly accepted: number;
  readonly shot: number;
  /** Whatever else the result depends on, hashed by the caller. */
  readonly settings: string;
  readonly body: Json<Difference>;
  /** Hash over the row (seals.ts); null while it may change, and for rows of before this was kept. */
  readonly seal: Generated<string | null>;
}

export interface ComparisonTable {
  readonly run: number;
  readonly view: number;
  readonly verdict: ComparisonVerdict;
  readonly accepted: number | null;
  readonly difference: number | null;
  /** Hash over the row (seals.ts); null while it may change, and for rows of before this was kept. */
  readonly seal: Generated<string | null>;
}

/** What a finished run came to (tally.ts): follows from its findings, and is counted anew where it is missing. */
export interface TallyTable {
  readonly run: number;
  /** SHA-256 of `body`. */
  readonly hash: string;
  /** Numbers of the runs that what is gone was counted against; it holds while all of them are there. */
  readonly bases: Json<readonly number[]>;
  /** Packed (packed-tally.ts). */
  readonly body: Buffer;
}

export interface LedgerSchema {
  readonly tally: TallyTable;
  readonly acceptance: AcceptanceTable;
  readonly accepted_picture: AcceptedPictureTable;
  readonly difference: DifferenceTable;
  readonly comparison: ComparisonTable;
  readonly run: RunTable;
  readonly view: ViewTable;
  readonly blob: BlobTable;
  readonly run_view: RunViewTable;
  readonly sheet: SheetTable;
  readonly finding: FindingTable;
  readonly cause: CauseTable;
  readonly run_cause: RunCauseTable;
  readonly coverage: CoverageTable;
}
