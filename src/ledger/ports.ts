// The ports to the rows of a store, by what one wants of them. Who uses a store names the smallest that does; the ledger is all of them,
// with every engine.
import type { KnownView, ViewResult } from '../samples/captured-view.ts';
import type { Difference } from '../samples/difference.ts';
import type { Cause, Finding } from '../samples/finding.ts';
import type { View } from '../samples/view.ts';
import type { Base } from './read/base-views.ts';
import type { knownDifference } from './read/comparisons.ts';
import type { ExplanationBasis } from './write/carry-explanation.ts';
import type { FindingWords, LeanFinding } from './read/lean.ts';
import type { RunFilter } from './read/runs.ts';
import type { ViewFilter } from './read/views.ts';
import type {
  Acceptance,
  AcceptedPicture,
  CauseEntry,
  ChangeGroup,
  ComparedRuns,
  Comparison,
  ComparisonEntry,
  ComparisonVerdict,
  CountCell,
  CoverageFact,
  ExemptedFindings,
  FindingFilter,
  FindingKind,
  GoneCount,
  GoneFinding,
  NewAcceptance,
  NewRun,
  PageRequest,
  RunDifference,
  RunSum,
  RunSummary,
  RunTotals,
  Slice,
  StoredView,
  RunTally,
  Unfinished,
  ViewFacts,
  ViewFindings,
  ViewReceipt,
  ViewStanding,
} from './records.ts';
import type { importAccepted } from './write/carry-accepted.ts';
import type { GroupYield, Statement } from './write/store-group.ts';
import type { ForetoldFacts } from './write/store-foretold.ts';
import type { KeptView } from './write/store-view.ts';

/** A run from its beginning to its end. */
export interface RunWriter {
  beginRun(run: NewRun): Promise<string>;
  storeView(run: string, result: ViewResult): Promise<ViewReceipt>;
  /** A view of the run that the forecast is made from, with other colours. */
  storeForetold(run: string, view: View, facts: ForetoldFacts): Promise<void>;
  storeFindings(run: string, list: readonly ViewFindings[]): Promise<void>;
  carryFindings(run: string, views: readonly string[]): Promise<readonly string[]>;
  storeCauses(run: string, causes: readonly CauseEntry[]): Promise<void>;
  storeCoverage(run: string, facts: readonly CoverageFact[]): Promise<void>;
  /** Causes and coverage of the previous run hold for this one too. @returns whether they do */
  carryExplanation(run: string, from: ExplanationBasis): Promise<boolean>;
  /** Takes up the latest run again where it was finished without all its views. @returns its id, else null */
  reopenRun(): Promise<string | null>;
  /** @param cut it was ended by hand before its plan was done */
  finishRun(run: string, finishedAt: string, cut?: boolean): Promise<RunTotals>;
  storeComparisons(run: string, entries: readonly ComparisonEntry[]): Promise<void>;
}

/** A part of a run that others work on as well. */
export interface GroupWriter {
  /** Its blobs are stored, its row is not: that comes with the group's. */
  keepView(result: ViewResult): Promise<KeptView>;
  /** In one transaction. @param settle says there that the group is done; false: nothing is stored @returns whether it was */
  storeGroup(run: string, found: GroupYield, settle: (statement: Statement) => Promise<boolean>): Promise<boolean>;
}

/** What is stored of runs, views and findings. */
export interface RunReader {
  comparisons(run: string, request?: { readonly verdict?: ComparisonVerdict } & PageRequest): Promise<Slice<Comparison>>;
  countComparisons(run: string): Promise<Readonly<Record<ComparisonVerdict, number>>>;
  /** Changes of a run over all its views, those of most views first. */
  changeGroups(run: string): Promise<readonly ChangeGroup[]>;
  runs(filter?: RunFilter): Promise<readonly RunSummary[]>;
  run(id: string): Promise<RunSummary>;
  /** The latest finished run, of a label if one is given. */
  latestRun(label?: string): Promise<RunSummary | undefined>;
  unfinished(run?: string): Promise<Unfinished | null>;
  views(run: string, request?: ViewFilter & PageRequest): Promise<Slice<StoredView>>;
  view(run: string, view: string): Promise<StoredView>;
  /** What the latest run kept of a view. */
  knownView(view: string): Promise<KnownView | undefined>;
  /** Samples and custom properties of a view. */
  samplesOf(run: string, view: string): Promise<ViewFacts>;
  /** The custom properties alone, for who does not need the samples. */
  propertiesOf(run: string, view: string): Promise<ViewFacts['properties']>;
  findings(run: string, request?: FindingFilter & PageRequest): Promise<Slice<Finding>>;
  /** All of a run, part by part, with what lists are sorted and filtered by. */
  leanFindings(run: string, take: (part: readonly LeanFinding[]) => Promise<void>): Promise<void>;
  /** Of all of a run, part by part: what they are searched by. */
  findingWords(run: string, take: (part: readonly FindingWords[]) => Promise<void>): Promise<void>;
  /** @param numbers of lean ones */
  numberedFindings(run: string, numbers: readonly number[]): Promise<readonly Finding[]>;
  finding(run: string, id: string): Promise<Finding | undefined>;
  /** Ids of findings and causes of a run that begin so, in order. @param start letters and digits alone @param most of each */
  idsFrom(run: string, start: string, most: number): Promise<readonly string[]>;
  countFindings(run: string, filter?: FindingFilter): Promise<number>;
  /** Findings per page × theme × check × level × status; cells without any are left out. */
  counts(run: string, filter?: FindingFilter): Promise<readonly CountCell[]>;
  /** Every finding counted once in each of the two; of a finished run it was counted when that ended. */
  tally(run: string): Promise<RunTally>;
  /** What several runs came to. */
  sums(runs: readonly string[]): Promise<ReadonlyMap<string, readonly RunSum[]>>;
  /** @param base what to compare with; null: nothing */
  kinds(run: string, base: Base | null): Promise<readonly FindingKind[]>;
  exempted(run: string): Promise<readonly ExemptedFindings[]>;
  /** Ids of the runs that its views are counted against, each the newest that judged the view; newest first. */
  bases(run: string): Promise<readonly string[]>;
  countAgainst(run: string, base: Base): Promise<RunDifference | null>;
  /** By view id. */
  standings(): Promise<ReadonlyMap<string, ViewStanding>>;
  gone(run: string, limit?: number): Promise<readonly GoneFinding[]>;
  /** All that are gone, where `gone` lists the first. */
  countGone(run: string): Promise<readonly GoneCount[]>;
  /** @param most findings listed of each side */
  compareRuns(a: string, b: string, most: number): Promise<ComparedRuns>;
  causes(run: string): Promise<readonly Cause[]>;
  cause(run: string, id: string): Promise<Cause | undefined>;
  coverage(run: string): Promise<readonly CoverageFact[]>;
  /** Owners of painted colours. */
  owners(run: string): Promise<readonly string[]>;
  /** Checked against its hash. */
  blob(hash: string): Promise<Buffer>;
}

/** Accepted pictures, and what two pictures were found to differ in. */
export interface Baselines {
  accept(run: string, request: NewAcceptance): Promise<Acceptance>;
  undoAcceptance(id: string, undo: { readonly by: string; readonly at: string }): Promise<Acceptance>;
  /** @returns how many pictures were written */
  exportAccepted(set: string, folder: string): Promise<number>;
  /** Only with `access: 'own'`. */
  importAccepted(folder: string, act: Parameters<typeof importAccepted>[2]): Promise<Acceptance>;
  /** Pictures in force; the first of the sets that has a view decides. */
  accepted(sets: readonly string[]): Promise<readonly AcceptedPicture[]>;
  /** Of the accepted capture. */
  acceptedFacts(picture: AcceptedPicture): Promise<ViewFacts>;
  /** Newest first. */
  acceptances(set?: string): Promise<readonly Acceptance[]>;
  /** Another text after every act of accepting or undoing, whoever did it. */
  acceptanceMark(): Promise<string>;
  knownDifference(pair: Parameters<typeof knownDifference>[1]): Promise<Difference | undefined>;
}
