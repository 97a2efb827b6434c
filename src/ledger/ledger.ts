// The ledger of a store folder, opened ready for use: one method per thing it can do, each told in the file it calls.
// The one door to a store, hence the length.
import { statSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { ledgerDamaged, storeMissing, type StoreHolder } from '../errors/ledger-errors.ts';
import type { KnownView, ViewResult } from '../samples/captured-view.ts';
import type { Cause, Finding } from '../samples/finding.ts';
import type { Difference } from '../samples/difference.ts';
import type { View } from '../samples/view.ts';
import { accept, undoAcceptance } from './write/accept.ts';
import { exportAccepted, importAccepted } from './write/carry-accepted.ts';
import { joinRuns } from './write/join-runs.ts';
import { countComparisons, knownDifference, readChangeGroups, readComparisons, storeComparisons } from './read/comparisons.ts';
import { prune, type PruneOptions, type PruneReceipt } from './care/prune.ts';
import { readAccepted, readAcceptances } from './read/accepted.ts';
import { readFacts } from './read/facts.ts';
import { beginRun } from './write/begin-run.ts';
import { type Base, readBases } from './read/base-views.ts';
import { carryExplanation } from './write/carry-explanation.ts';
import { blobPath, readBlob, sweepUnderWay } from './blobs.ts';
import { finishRun, storeCoverage } from './write/finish-run.ts';
import type { LedgerContext } from './database/ledger-context.ts';
import { ledgerFault } from './database/ledger-fault.ts';
import { BACKUP } from './database/mend-database.ts';
import { migrate, type OpenDatabase, openDatabase, openToRead, pendingMigrations, refuseNewer } from './database/open-database.ts';
import { compareRuns } from './read/compare-runs.ts';
import { countAgainst } from './read/count-against.ts';
import { readCause, readCauses } from './read/causes.ts';
import { readCoverage, readOwners } from './read/coverage.ts';
import { countFindings, countMatrix, readFinding, readFindings, readGone } from './read/findings.ts';
import { readExempted, readKinds } from './read/kinds.ts';
import { type FindingWords, type LeanFinding, readLean, readNumbered, readWords } from './read/lean.ts';
import { readRun, readRuns, type RunFilter } from './read/runs.ts';
import { readStandings } from './read/standings.ts';
import { readSums } from './read/sums.ts';
import { readGoneCounts, readTally } from './read/tally.ts';
import { reopenRun } from './write/reopen-run.ts';
import {
  readKnownView,
  readProperties,
  readUnfinished,
  readView,
  readViewFacts,
  readViews,
  type ViewFilter,
} from './read/views.ts';
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
  RunTally,
  RunTotals,
  Slice,
  StoredView,
  Unfinished,
  ViewFacts,
  ViewFindings,
  ViewReceipt,
  ViewStanding,
} from './records.ts';
import { storeCauses } from './write/store-causes.ts';
import { carryFindings, storeFindings } from './write/store-findings.ts';
import { type ForetoldFacts, storeForetold } from './write/store-foretold.ts';
import { storeView } from './write/store-view.ts';
import { type StoreLock, takeStoreLock } from './database/store-lock.ts';

export interface LedgerOptions {
  /**
   * `read` writes nothing; `edit` may make short changes (accept) while a run is under way; `own` holds the store alone among those
   * that own it: for runs and whatever removes things. The last two make the store when it is missing.
   */
  readonly access: 'read' | 'edit' | 'own';
  /** What for, as others are told while they wait; `run` when absent. */
  readonly doing?: string;
  /** How long to wait for another owner; 0 (the default) refuses at once. */
  readonly waitMs?: number;
  readonly onWait?: (holder: StoreHolder) => void;
  readonly signal?: AbortSignal;
}

/** @param folder the store @throws store-missing, store-busy, store-read-only, ledger-newer, ledger-damaged … */
export async function openLedger(folder: string, options: LedgerOptions): Promise<Ledger> {
  const { access } = options;
  const lock = (): Promise<StoreLock> =>
    takeStoreLock(folder, { doing: options.doing ?? 'run', waitMs: options.waitMs ?? 0, ...options });
  const closing: (() => Promise<void>)[] = [];
  try {
    const fresh = isEmpty(join(folder, 'ledger.sqlite'));
    if (fresh && !isEmpty(join(folder, BACKUP))) throw ledgerDamaged(folder, 'found it empty, though a finished run left a copy');
    if (access === 'read' && fresh) throw storeMissing(folder);
    if (access !== 'read') await mkdir(join(folder, 'blobs'), { recursive: true });
    if (access === 'own') {
      const held = await lock();
      closing.push(() => held.release());
      await sweepUnderWay(folder);
    }
    const opened = access === 'read' ? await openToRead(folder) : openDatabase(folder);
    closing.push(() => opened.close());
    await bringUpToDate(folder, opened, access === 'own' ? undefined : lock);
    return new Ledger({ folder, db: opened.db }, access, closing);
  } catch (error) {
    for (const close of closing.reverse()) await close();
    throw ledgerFault(folder, error);
  }
}

/** Missing, or without content, as a process leaves it that is killed while making it. */
function isEmpty(path: string): boolean {
  return (statSync(path, { throwIfNoEntry: false })?.size ?? 0) === 0;
}

/** @param lock takes the store's lock where it is not held yet: two processes must not bring the tables up to date at once */
async function bringUpToDate(folder: string, { db }: OpenDatabase, lock: (() => Promise<StoreLock>) | undefined): Promise<void> {
  await refuseNewer(folder, db);
  if ((await pendingMigrations(db)).length === 0) return;
  const held = await lock?.();
  try {
    await migrate(folder, db);
  } finally {
    await held?.release();
  }
}

export class Ledger implements AsyncDisposable {
  readonly folder: string;
  readonly #access: LedgerOptions['access'];
  readonly #context: LedgerContext;
  #closing: (() => Promise<void>)[];

  /** Made by `openLedger`. @param closing what is to be closed, last first */
  constructor(context: LedgerContext, access: LedgerOptions['access'], closing: readonly (() => Promise<void>)[]) {
    this.folder = context.folder;
    this.#access = access;
    this.#context = context;
    this.#closing = [...closing];
  }

  async close(): Promise<void> {
    const closing = this.#closing.reverse();
    this.#closing = [];
    for (const close of closing) await close();
  }

  [Symbol.asyncDispose](): Promise<void> {
    return this.close();
  }

  // Writing a run

  beginRun(run: NewRun): Promise<string> {
    return this.#do((context) => beginRun(context, run));
  }
  storeView(run: string, result: ViewResult): Promise<ViewReceipt> {
    return this.#do((context) => storeView(context, run, result));
  }
  /** A view of the run that the forecast is made from, with other colours. */
  storeForetold(run: string, view: View, facts: ForetoldFacts): Promise<void> {
    return this.#do((context) => storeForetold(context, run, view, facts));
  }
  storeFindings(run: string, list: readonly ViewFindings[]): Promise<void> {
    return this.#do((context) => storeFindings(context, run, list));
  }
  carryFindings(run: string, views: readonly string[]): Promise<readonly string[]> {
    return this.#do((context) => carryFindings(context, run, views));
  }
  storeCauses(run: string, causes: readonly CauseEntry[]): Promise<void> {
    return this.#do((context) => storeCauses(context, run, causes));
  }
  storeCoverage(run: string, facts: readonly CoverageFact[]): Promise<void> {
    return this.#do((context) => storeCoverage(context, run, facts));
  }
  /** Causes and coverage of the previous run hold for this one too. @returns whether they do */
  carryExplanation(run: string, basis: string): Promise<boolean> {
    return this.#do((context) => carryExplanation(context, run, basis));
  }
  /** Takes up the latest run again where it was finished without all its views. @returns its id, else null */
  reopenRun(): Promise<string | null> {
    return this.#do((context) => reopenRun(context));
  }
  /** @param cut it was ended by hand before its plan was done */
  finishRun(run: string, finishedAt: string, cut = false): Promise<RunTotals> {
    return this.#do((context) => finishRun(context, run, finishedAt, cut));
  }

  storeComparisons(run: string, entries: readonly ComparisonEntry[]): Promise<void> {
    return this.#do((context) => storeComparisons(context, run, entries));
  }

  // Accepting, and dropping what is old

  accept(run: string, request: NewAcceptance): Promise<Acceptance> {
    return this.#do((context) => accept(context, run, request));
  }
  undoAcceptance(id: string, undo: { readonly by: string; readonly at: string }): Promise<Acceptance> {
    return this.#do((context) => undoAcceptance(context, id, undo));
  }
  /** @returns how many pictures were written */
  exportAccepted(set: string, folder: string): Promise<number> {
    return this.#do((context) => exportAccepted(context, set, folder));
  }
  /** Only with `access: 'own'`. */
  importAccepted(folder: string, act: Parameters<typeof importAccepted>[2]): Promise<Acceptance> {
    this.#needOwn('importAccepted');
    return this.#do((context) => importAccepted(context, folder, act));
  }
  /** Parts of a divided run become the run `id`, left under way for its causes. Only with `access: 'own'`. */
  join(parts: readonly { readonly ledger: Ledger; readonly run: string }[], id: string): Promise<void> {
    this.#needOwn('join');
    const runs = parts.map(({ ledger, run }) => ({ context: ledger.#context, run }));
    return this.#do((context) => joinRuns(context, runs, id));
  }
  /** Only with `access: 'own'`. */
  prune(options: PruneOptions): Promise<PruneReceipt> {
    this.#needOwn('prune');
    return this.#do((context) => prune(context, options));
  }

  // Reading

  /** Pictures in force; the first of the sets that has a view decides. */
  accepted(sets: readonly string[]): Promise<readonly AcceptedPicture[]> {
    return this.#do((context) => readAccepted(context, sets));
  }
  /** Of the accepted capture. */
  acceptedFacts(picture: AcceptedPicture): Promise<ViewFacts> {
    return this.#do((context) => readFacts(context.folder, picture));
  }
  /** Newest first. */
  acceptances(set?: string): Promise<readonly Acceptance[]> {
    return this.#do((context) => readAcceptances(context, set));
  }
  knownDifference(pair: Parameters<typeof knownDifference>[1]): Promise<Difference | undefined> {
    return this.#do((context) => knownDifference(context, pair));
  }
  comparisons(run: string, request: { readonly verdict?: ComparisonVerdict } & PageRequest = {}): Promise<Slice<Comparison>> {
    return this.#do((context) => readComparisons(context, run, request));
  }
  countComparisons(run: string): Promise<Readonly<Record<ComparisonVerdict, number>>> {
    return this.#do((context) => countComparisons(context, run));
  }
  /** Changes of a run over all its views, those of most views first. */
  changeGroups(run: string): Promise<readonly ChangeGroup[]> {
    return this.#do((context) => readChangeGroups(context, run));
  }
  runs(filter: RunFilter = {}): Promise<readonly RunSummary[]> {
    return this.#do((context) => readRuns(context, filter));
  }
  run(id: string): Promise<RunSummary> {
    return this.#do((context) => readRun(context, id));
  }
  /** The latest finished run, of a label if one is given. */
  async latestRun(label?: string): Promise<RunSummary | undefined> {
    const runs = await this.runs({ state: 'finished', limit: 1, ...(label === undefined ? {} : { label }) });
    return runs[0];
  }
  unfinished(run?: string): Promise<Unfinished | null> {
    return this.#do((context) => readUnfinished(context, run));
  }
  views(run: string, request: ViewFilter & PageRequest = {}): Promise<Slice<StoredView>> {
    return this.#do((context) => readViews(context, run, request));
  }
  view(run: string, view: string): Promise<StoredView> {
    return this.#do((context) => readView(context, run, view));
  }
  /** What the latest run kept of a view. */
  knownView(view: string): Promise<KnownView | undefined> {
    return this.#do((context) => readKnownView(context, view));
  }
  /** Samples and custom properties of a view. */
  samplesOf(run: string, view: string): Promise<ViewFacts> {
    return this.#do((context) => readViewFacts(context, run, view));
  }
  /** The custom properties alone, for who does not need the samples. */
  propertiesOf(run: string, view: string): Promise<ViewFacts['properties']> {
    return this.#do((context) => readProperties(context, run, view));
  }
  findings(run: string, request: FindingFilter & PageRequest = {}): Promise<Slice<Finding>> {
    return this.#do((context) => readFindings(context, run, request));
  }
  /** All of a run, part by part, with what lists are sorted and filtered by. */
  leanFindings(run: string, take: (part: readonly LeanFinding[]) => Promise<void>): Promise<void> {
    return this.#do((context) => readLean(context, run, take));
  }
  /** Of all of a run, part by part: what they are searched by. */
  findingWords(run: string, take: (part: readonly FindingWords[]) => Promise<void>): Promise<void> {
    return this.#do((context) => readWords(context, run, take));
  }
  /** @param numbers of lean ones */
  numberedFindings(run: string, numbers: readonly number[]): Promise<readonly Finding[]> {
    return this.#do((context) => readNumbered(context, run, numbers));
  }
  finding(run: string, id: string): Promise<Finding | undefined> {
    return this.#do((context) => readFinding(context, run, id));
  }
  countFindings(run: string, filter: FindingFilter = {}): Promise<number> {
    return this.#do((context) => countFindings(context, run, filter));
  }
  /** Findings per page × theme × check × level × status; cells without any are left out. */
  counts(run: string, filter: FindingFilter = {}): Promise<readonly CountCell[]> {
    return this.#do((context) => countMatrix(context, run, filter));
  }
  /** Every finding counted once in each of the two; of a finished run it was counted when that ended. */
  tally(run: string): Promise<RunTally> {
    return this.#do((context) => readTally(context, run));
  }
  /** What several runs came to. */
  sums(runs: readonly string[]): Promise<ReadonlyMap<string, readonly RunSum[]>> {
    return this.#do((context) => readSums(context, runs));
  }
  /** @param base what to compare with; null: nothing */
  kinds(run: string, base: Base | null): Promise<readonly FindingKind[]> {
    return this.#do((context) => readKinds(context, run, base));
  }
  exempted(run: string): Promise<readonly ExemptedFindings[]> {
    return this.#do((context) => readExempted(context, run));
  }
  /** Ids of the runs that its views are counted against, each the newest that judged the view; newest first. */
  bases(run: string): Promise<readonly string[]> {
    return this.#do((context) => readBases(context, run));
  }
  countAgainst(run: string, base: Base): Promise<RunDifference | null> {
    return this.#do((context) => countAgainst(context, run, base));
  }
  /** By view id. */
  standings(): Promise<ReadonlyMap<string, ViewStanding>> {
    return this.#do((context) => readStandings(context));
  }
  gone(run: string, limit?: number): Promise<readonly GoneFinding[]> {
    return this.#do((context) => readGone(context, run, limit));
  }
  /** All that are gone, where `gone` lists the first. */
  countGone(run: string): Promise<readonly GoneCount[]> {
    return this.#do((context) => readGoneCounts(context, run));
  }
  /** @param most findings listed of each side */
  compareRuns(a: string, b: string, most: number): Promise<ComparedRuns> {
    return this.#do((context) => compareRuns(context, a, b, most));
  }
  causes(run: string): Promise<readonly Cause[]> {
    return this.#do((context) => readCauses(context, run));
  }
  cause(run: string, id: string): Promise<Cause | undefined> {
    return this.#do((context) => readCause(context, run, id));
  }
  coverage(run: string): Promise<readonly CoverageFact[]> {
    return this.#do((context) => readCoverage(context, run));
  }
  /** Owners of painted colours. */
  owners(run: string): Promise<readonly string[]> {
    return this.#do((context) => readOwners(context, run));
  }
  /** Where the file of a blob lies. Says nothing about whether it is there. */
  blobPath(hash: string): string {
    return blobPath(this.folder, hash);
  }
  /** Checked against its hash. */
  blob(hash: string): Promise<Buffer> {
    return this.#do((context) => readBlob(context.folder, hash));
  }

  #needOwn(what: string): void {
    if (this.#access !== 'own') throw new TypeError(`${what}: found access "${this.#access}"; expected "own"`);
  }

  async #do<T>(work: (context: LedgerContext) => Promise<T>): Promise<T> {
    try {
      return await work(this.#context);
    } catch (error) {
      throw ledgerFault(this.folder, error);
    }
  }
}
