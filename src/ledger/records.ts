// What the ledger takes and what it gives back. Types only; all of them, hence the length.
import type { Standard } from '../plan/standard.ts';
import type { Cause, CheckId, Finding, FindingDraft, FindingStatus, Level } from '../samples/finding.ts';
import type { Difference, Explanation } from '../samples/difference.ts';
import type { PageProperty } from '../samples/captured-view.ts';
import type { Note } from '../samples/note.ts';
import type { Sample } from '../samples/sample.ts';
import type { Rect, Tone, View, ViewRef } from '../samples/view.ts';

/** A theme as a run knew it. */
export interface RunTheme {
  readonly name: string;
  readonly tone: Tone;
}

/** Which of how many parts of a plan a run renders; 1 to `of`. */
export interface RunPart {
  readonly index: number;
  readonly of: number;
  /** Ids of the views that belong to it. */
  readonly views: readonly string[];
}

export interface NewRun {
  /** Made from `startedAt` when absent. */
  readonly id?: string;
  /** ISO 8601 with zone. */
  readonly startedAt: string;
  readonly gloam: string;
  readonly browser: string;
  readonly reference: string;
  readonly themes: readonly RunTheme[];
  /** The whole plan, in order; also when this run renders a part of it only. */
  readonly views: readonly View[];
  /** Branch name or whatever tells lines of history apart. */
  readonly label?: string;
  /** The plan was narrowed on the command line. */
  readonly narrowed?: boolean;
  readonly part?: RunPart;
  readonly standard?: Standard;
  /** A forecast from the samples of another run. */
  readonly foretold?: ForecastNote & { readonly of: string };
}

/** What a forecast was made with. */
export interface ForecastNote {
  /** Token files that stood in, relative to the configuration's folder; empty: those that were configured. */
  readonly files: readonly string[];
  /** A theme that no page has yet, and the one that its pages look like. */
  readonly as?: string;
  readonly like?: string;
}

/** As in `run.json`. */
export interface RunTotals {
  readonly views: number;
  readonly failed: number;
  readonly samples: number;
  /** New and known findings by check; runs of before counted the exempt ones among them. */
  readonly findings: Readonly<Record<CheckId, number>>;
  /** Absent in runs of before. */
  readonly exempt?: number;
  /** Theme → share of painted colour uses through tokens, 0–1. */
  readonly coverage: Readonly<Record<string, number>>;
}

export interface RunSummary {
  readonly id: string;
  readonly state: 'running' | 'finished';
  readonly startedAt: string;
  readonly finishedAt: string | null;
  readonly gloam: string;
  readonly browser: string;
  readonly reference: string;
  readonly themes: readonly RunTheme[];
  readonly label: string | null;
  readonly narrowed: boolean;
  /** Ended by hand before its plan was done. */
  readonly cut: boolean;
  readonly part: { readonly index: number; readonly of: number } | null;
  /** The run before that has most in common with it: the same plan, else a whole one. Findings are compared view by view. */
  readonly previous: string | null;
  /** Absent until finished. */
  readonly totals: RunTotals | null;
  /** What it judged by; null where that was not kept. */
  readonly standard: Standard | null;
  /** Nothing was rendered: the samples of the run `of` with other colours. Null for what was. */
  readonly foretold: (ForecastNote & { readonly of: string }) | null;
}

/** A view as a run left it. Hashes name blobs. */
export interface StoredView extends ViewRef {
  readonly url: string;
  readonly status: 'planned' | 'captured' | 'failed';
  readonly ms: number | null;
  /** Of a failed view. */
  readonly code: string | null;
  readonly error: string | null;
  readonly shot: string | null;
  readonly samples: number;
  readonly title: string | null;
  readonly widthCssPx: number | null;
  readonly heightCssPx: number | null;
  readonly scale: number | null;
  readonly notes: readonly Note[];
  /** Its findings are stored. */
  readonly checked: boolean;
  readonly findings: number;
}

/** What `storeView` found out. */
export interface ViewReceipt {
  readonly shot: string | null;
  /** Picture, samples and properties are those of the previous run, whose findings may then be carried over. */
  readonly unchanged: boolean;
}

/** What a view yielded besides its picture. */
export interface ViewFacts {
  readonly samples: readonly Sample[];
  readonly properties: readonly PageProperty[];
  /** CSS px: left out of picture comparison. */
  readonly masks: readonly Rect[];
}

/** A finding as the checks made it, with what the configuration says about its place. */
export interface FindingEntry {
  /** Stays the same from night to night; unique within its view. */
  readonly id: string;
  readonly draft: FindingDraft;
  readonly owner?: string;
  /** Why it is exempt (the exemption's own words). */
  readonly exempt?: string;
}

/** All findings of one view. `view` may be no view of the plan: findings of token files stand under a place of their own. */
export interface ViewFindings {
  readonly view: ViewRef;
  readonly findings: readonly FindingEntry[];
  /** Said of the view when it was judged; added to its notes. */
  readonly note?: Note;
}

/** A cause and the ids of its findings. */
export interface CauseEntry {
  readonly cause: Cause;
  readonly findings: readonly string[];
}

/** Painted colour uses, counted. */
export interface CoverageFact {
  readonly page: string;
  readonly theme: string;
  /** Absent where nobody owns the place. */
  readonly owner?: string;
  readonly uses: number;
  readonly throughTokens: number;
}

type Choice<T extends string> = T | readonly T[];

/** Members are joined by *and*, the values of one member by *or*. */
export interface FindingFilter {
  readonly view?: Choice<string>;
  readonly page?: Choice<string>;
  readonly theme?: Choice<string>;
  readonly state?: Choice<string>;
  readonly viewport?: Choice<string>;
  readonly check?: Choice<CheckId>;
  readonly level?: Choice<Level>;
  readonly status?: Choice<FindingStatus>;
  readonly owner?: Choice<string>;
  /** `null`: findings without a cause. */
  readonly cause?: Choice<string> | null;
}

export interface PageRequest {
  /** 1–1000; 100 when absent. */
  readonly limit?: number;
  /** `next` of the page before. */
  readonly after?: string;
}

/** One page of a list; `next` is null on the last one. */
export interface Slice<T> {
  readonly items: readonly T[];
  readonly next: string | null;
}

/** How many findings lie in one cell. */
export interface CountCell {
  readonly page: string;
  readonly theme: string;
  readonly check: CheckId;
  readonly level: Level;
  readonly status: FindingStatus;
  readonly count: number;
}

/** Findings of one page in one theme, whatever their checks. */
export type PlaceCount = Omit<CountCell, 'check'>;

/** Findings of a run, whatever their pages. */
export interface RunSum extends Omit<CountCell, 'page'> {
  readonly owner: string | null;
}

/** … and by cause. */
export interface KindCount extends RunSum {
  readonly cause: string | null;
}

/** All findings of a run, counted in the two ways that screens ask for. */
export interface RunTally {
  /** In plan order. */
  readonly places: readonly PlaceCount[];
  readonly kinds: readonly KindCount[];
}

/** Findings of a run that no launch criterion tells apart. */
export interface FindingKind {
  readonly theme: string;
  readonly check: CheckId;
  readonly level: Level;
  readonly status: FindingStatus;
  readonly owner: string | null;
  readonly cause: string | null;
  /** Level in what is compared with; null where it was not there or exempt. */
  readonly then: Level | null;
  /** Whether the view was judged then. */
  readonly seen: boolean;
  readonly count: number;
  /** Ids of the first few in plan order, where they have no cause. */
  readonly first: readonly string[];
}

/** How many findings of a check were exempt for one reason. */
export interface ExemptedFindings {
  readonly why: string;
  readonly check: CheckId;
  readonly count: number;
}

/** A finding of the newest earlier run that judged its view, and that is no longer there. */
export interface GoneFinding extends Finding {
  /** Run in which it was last seen. */
  readonly lastSeen: string;
}

/** Findings that are gone, counted. */
export interface GoneCount {
  readonly theme: string;
  readonly check: CheckId;
  readonly owner: string | null;
  readonly count: number;
}

/** Open findings of two runs, of the views that both judged. */
export interface ComparedRuns {
  readonly rows: readonly {
    readonly check: CheckId;
    readonly theme: string;
    readonly before: number;
    readonly after: number;
    readonly fresh: number;
    readonly gone: number;
  }[];
  /** The first of each side, in plan order. */
  readonly fresh: readonly Finding[];
  readonly gone: readonly Finding[];
  /** Views both judged, and views of either that not both did. */
  readonly viewsInBoth: number;
  readonly viewsInOne: number;
}

/** What a killed run still owes. */
export interface Unfinished {
  readonly run: RunSummary;
  /** Planned, never stored. */
  readonly missing: readonly StoredView[];
  /** Stored, findings not yet. */
  readonly unchecked: readonly StoredView[];
}

/** What makes pictures the accepted ones. */
export interface NewAcceptance {
  /** Accepted set: a branch name or a label. */
  readonly set: string;
  readonly who: string;
  readonly note: string;
  /** ISO 8601 with zone. */
  readonly at: string;
  /** Ids of views of the run; `all` takes every captured one. */
  readonly views: 'all' | readonly string[];
  /** Ids of views that are no longer expected. */
  readonly dropped?: readonly string[];
}

export interface Acceptance {
  readonly id: string;
  readonly set: string;
  readonly who: string;
  readonly note: string;
  readonly at: string;
  readonly run: string | null;
  readonly undone: { readonly at: string; readonly by: string } | null;
  /** Views whose accepted picture it changed. */
  readonly views: number;
}

/** The picture of a view that is in force. Hashes name blobs. */
export interface AcceptedPicture extends ViewRef {
  readonly set: string;
  readonly acceptance: string;
  readonly shot: string;
  readonly samples: string | null;
  readonly properties: string | null;
}

/** `new`: nothing is accepted for the view yet; `vanished`: something is, but the plan has no such view any more. */
export type ComparisonVerdict = 'same' | 'changed' | 'new' | 'vanished';

export interface ComparisonEntry {
  readonly view: ViewRef;
  readonly verdict: ComparisonVerdict;
  /** Hash of the accepted picture. */
  readonly accepted?: string;
  /** With `settings`: hash over whatever besides the two pictures the difference depends on. */
  readonly difference?: { readonly found: Difference; readonly settings: string };
}

export interface Comparison extends ViewRef {
  readonly verdict: ComparisonVerdict;
  readonly accepted: string | null;
  /** Hash of the current picture; null for a vanished view. */
  readonly shot: string | null;
  readonly widthCssPx: number | null;
  readonly heightCssPx: number | null;
  /** Of a changed view. */
  readonly difference: Difference | null;
}

/** One change, wherever it shows. */
export interface ChangeGroup {
  readonly group: string;
  readonly change: Explanation['change'];
  readonly views: readonly string[];
  readonly pages: number;
  readonly themes: readonly string[];
  /** Changed pixels it accounts for, and all changed pixels of its views. */
  readonly pixels: number;
  readonly ofPixels: number;
}

/** How a view fared so far. */
export interface ViewStanding {
  /** In the latest finished run that planned it; `planned`: it was left out. */
  readonly status: 'planned' | 'captured' | 'failed';
  /** Its picture was another than the time before. */
  readonly changed: boolean;
  /** It had findings that were not there before. */
  readonly fresh: boolean;
  /** Grows from run to run; 0: never. */
  readonly capturedIn: number;
}

/** Open findings of a run against those of others. */
export interface RunDifference {
  /** Those others, newest first; one at least. */
  readonly runs: readonly string[];
  readonly fresh: number;
  /** Those of them in views that no other run judged. */
  readonly unseen: number;
  readonly known: number;
  /** In views that were judged again. */
  readonly gone: number;
}
