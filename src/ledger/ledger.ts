// The ledger of a store, opened ready for use: one method per thing it can do, each told in ports.ts and done in the file it calls.
// The one door to a store, hence the length.
import { type StoreHolder, storeUnreachable } from '../errors/ledger-errors.ts';
import type { KnownView, ViewResult } from '../samples/captured-view.ts';
import type { Cause, Finding } from '../samples/finding.ts';
import type { Difference } from '../samples/difference.ts';
import type { View } from '../samples/view.ts';
import { accept, undoAcceptance } from './write/accept.ts';
import { exportAccepted, importAccepted } from './write/carry-accepted.ts';
import { joinRuns } from './write/join-runs.ts';
import { countComparisons, knownDifference, readChangeGroups, readComparisons, storeComparisons } from './read/comparisons.ts';
import { prune, type PruneOptions, type PruneReceipt } from './care/prune.ts';
import { readAcceptanceMark, readAccepted, readAcceptances } from './read/accepted.ts';
import { readFacts } from './read/facts.ts';
import { beginRun } from './write/begin-run.ts';
import { type Base, readBases } from './read/base-views.ts';
import { carryExplanation, type ExplanationBasis } from './write/carry-explanation.ts';
import { finishRun, storeCoverage } from './write/finish-run.ts';
import type { Access, StoreLock } from './database/engine.ts';
import type { LedgerContext } from './database/ledger-context.ts';
import type { Baselines, GroupWriter, RunReader, RunWriter } from './ports.ts';
import { storeAt, type StorePlace } from './store-at.ts';
import { compareRuns } from './read/compare-runs.ts';
import { countAgainst } from './read/count-against.ts';
import { readCause, readCauses } from './read/causes.ts';
import { readCoverage, readOwners } from './read/coverage.ts';
import { countFindings, countMatrix, readFinding, readFindings, readGone } from './read/findings.ts';
import { readIdsFrom } from './read/ids.ts';
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
import { type GroupYield, type Statement, storeGroup } from './write/store-group.ts';
import { keepView, type KeptView, storeView } from './write/store-view.ts';

export interface LedgerOptions {
  /**
   * `read` writes nothing; `edit` may make short changes (accept) while a run is under way; `own` holds the store alone among those
   * that own it: for runs and whatever removes things; `share` holds it together with others that share it: for runs whose work is
   * handed out. All but the first make the store when it is missing.
   */
  readonly access: Access;
  /** What for, as others are told while they wait; `run` when absent. */
  readonly doing?: string;
  /** How long to wait for another owner; 0 (the default) refuses at once. */
  readonly waitMs?: number;
  readonly onWait?: (holder: StoreHolder) => void;
  readonly signal?: AbortSignal;
}

/** @throws store-missing, store-unreachable, store-busy, store-read-only, ledger-newer, ledger-damaged … */
export async function openLedger(at: StorePlace, options: LedgerOptions): Promise<Ledger> {
  const store = await storeAt(at);
  const { access } = options;
  const lock = (): Promise<StoreLock> =>
    store.lock({ doing: options.doing ?? 'run', waitMs: options.waitMs ?? 0, shared: access === 'share', ...options });
  const closing: (() => Promise<void>)[] = [];
  try {
    const held = access === 'own' || access === 'share' ? await lock() : undefined;
    if (held !== undefined) closing.push(() => held.release());
    // Who shares the store must not take what others write.
    if (access === 'own') await store.blobs.sweep();
    const engine = await store.open(access, held === undefined ? lock : undefined);
    closing.push(() => engine.close());
    return new Ledger({ store, engine, db: engine.db }, access, { lock: held, closing });
  } catch (error) {
    for (const close of closing.reverse()) await close();
    throw store.faultOf(error);
  }
}

/** All ports to one open store. */
export class Ledger implements RunWriter, GroupWriter, RunReader, Baselines, AsyncDisposable {
  /** For what this machine can make again. */
  readonly folder: string;
  readonly #access: Access;
  readonly #context: LedgerContext;
  readonly #lock: StoreLock | undefined;
  #closing: (() => Promise<void>)[];

  /** Made by `openLedger`. @param closing what is to be closed, last first */
  constructor(
    context: LedgerContext,
    access: Access,
    { lock, closing }: { readonly lock: StoreLock | undefined; readonly closing: readonly (() => Promise<void>)[] },
  ) {
    this.folder = context.store.folder;
    this.#access = access;
    this.#context = context;
    this.#lock = lock;
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

  // RunWriter

  beginRun(run: NewRun): Promise<string> {
    return this.#do((context) => beginRun(context, run));
  }
  storeView(run: string, result: ViewResult): Promise<ViewReceipt> {
    return this.#do((context) => storeView(context, run, result));
  }
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
  carryExplanation(run: string, from: ExplanationBasis): Promise<boolean> {
    return this.#do((context) => carryExplanation(context, run, from));
  }
  reopenRun(): Promise<string | null> {
    return this.#do((context) => reopenRun(context));
  }
  finishRun(run: string, finishedAt: string, cut = false): Promise<RunTotals> {
    return this.#do((context) => finishRun(context, run, finishedAt, cut));
  }
  storeComparisons(run: string, entries: readonly ComparisonEntry[]): Promise<void> {
    return this.#do((context) => storeComparisons(context, run, entries));
  }

  // GroupWriter

  keepView(result: ViewResult): Promise<KeptView> {
    return this.#do((context) => keepView(context, result));
  }
  storeGroup(run: string, found: GroupYield, settle: (statement: Statement) => Promise<boolean>): Promise<boolean> {
    return this.#do((context) => storeGroup(context, run, found, settle));
  }

  // RunReader

  comparisons(run: string, request: { readonly verdict?: ComparisonVerdict } & PageRequest = {}): Promise<Slice<Comparison>> {
    return this.#do((context) => readComparisons(context, run, request));
  }
  countComparisons(run: string): Promise<Readonly<Record<ComparisonVerdict, number>>> {
    return this.#do((context) => countComparisons(context, run));
  }
  changeGroups(run: string): Promise<readonly ChangeGroup[]> {
    return this.#do((context) => readChangeGroups(context, run));
  }
  runs(filter: RunFilter = {}): Promise<readonly RunSummary[]> {
    return this.#do((context) => readRuns(context, filter));
  }
  run(id: string): Promise<RunSummary> {
    return this.#do((context) => readRun(context, id));
  }
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
  knownView(view: string): Promise<KnownView | undefined> {
    return this.#do((context) => readKnownView(context, view));
  }
  samplesOf(run: string, view: string): Promise<ViewFacts> {
    return this.#do((context) => readViewFacts(context, run, view));
  }
  propertiesOf(run: string, view: string): Promise<ViewFacts['properties']> {
    return this.#do((context) => readProperties(context, run, view));
  }
  findings(run: string, request: FindingFilter & PageRequest = {}): Promise<Slice<Finding>> {
    return this.#do((context) => readFindings(context, run, request));
  }
  leanFindings(run: string, take: (part: readonly LeanFinding[]) => Promise<void>): Promise<void> {
    return this.#do((context) => readLean(context, run, take));
  }
  findingWords(run: string, take: (part: readonly FindingWords[]) => Promise<void>): Promise<void> {
    return this.#do((context) => readWords(context, run, take));
  }
  numberedFindings(run: string, numbers: readonly number[]): Promise<readonly Finding[]> {
    return this.#do((context) => readNumbered(context, run, numbers));
  }
  finding(run: string, id: string): Promise<Finding | undefined> {
    return this.#do((context) => readFinding(context, run, id));
  }
  idsFrom(run: string, start: string, most: number): Promise<readonly string[]> {
    return this.#do((context) => readIdsFrom(context, run, start, most));
  }
  countFindings(run: string, filter: FindingFilter = {}): Promise<number> {
    return this.#do((context) => countFindings(context, run, filter));
  }
  counts(run: string, filter: FindingFilter = {}): Promise<readonly CountCell[]> {
    return this.#do((context) => countMatrix(context, run, filter));
  }
  tally(run: string): Promise<RunTally> {
    return this.#do((context) => readTally(context, run));
  }
  sums(runs: readonly string[]): Promise<ReadonlyMap<string, readonly RunSum[]>> {
    return this.#do((context) => readSums(context, runs));
  }
  kinds(run: string, base: Base | null): Promise<readonly FindingKind[]> {
    return this.#do((context) => readKinds(context, run, base));
  }
  exempted(run: string): Promise<readonly ExemptedFindings[]> {
    return this.#do((context) => readExempted(context, run));
  }
  bases(run: string): Promise<readonly string[]> {
    return this.#do((context) => readBases(context, run));
  }
  countAgainst(run: string, base: Base): Promise<RunDifference | null> {
    return this.#do((context) => countAgainst(context, run, base));
  }
  standings(): Promise<ReadonlyMap<string, ViewStanding>> {
    return this.#do((context) => readStandings(context));
  }
  gone(run: string, limit?: number): Promise<readonly GoneFinding[]> {
    return this.#do((context) => readGone(context, run, limit));
  }
  countGone(run: string): Promise<readonly GoneCount[]> {
    return this.#do((context) => readGoneCounts(context, run));
  }
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
  owners(run: string): Promise<readonly string[]> {
    return this.#do((context) => readOwners(context, run));
  }
  blob(hash: string): Promise<Buffer> {
    return this.#do((context) => context.store.blobs.get(hash));
  }

  // Baselines

  accept(run: string, request: NewAcceptance): Promise<Acceptance> {
    return this.#do((context) => accept(context, run, request));
  }
  undoAcceptance(id: string, undo: { readonly by: string; readonly at: string }): Promise<Acceptance> {
    return this.#do((context) => undoAcceptance(context, id, undo));
  }
  exportAccepted(set: string, folder: string): Promise<number> {
    return this.#do((context) => exportAccepted(context, set, folder));
  }
  importAccepted(folder: string, act: Parameters<typeof importAccepted>[2]): Promise<Acceptance> {
    this.#needOwn('importAccepted');
    return this.#do((context) => importAccepted(context, folder, act));
  }
  accepted(sets: readonly string[]): Promise<readonly AcceptedPicture[]> {
    return this.#do((context) => readAccepted(context, sets));
  }
  acceptedFacts(picture: AcceptedPicture): Promise<ViewFacts> {
    return this.#do((context) => readFacts(context.store.blobs, picture));
  }
  acceptances(set?: string): Promise<readonly Acceptance[]> {
    return this.#do((context) => readAcceptances(context, set));
  }
  acceptanceMark(): Promise<string> {
    return this.#do((context) => readAcceptanceMark(context));
  }
  knownDifference(pair: Parameters<typeof knownDifference>[1]): Promise<Difference | undefined> {
    return this.#do((context) => knownDifference(context, pair));
  }

  // The store as a whole

  join(parts: readonly { readonly ledger: Ledger; readonly run: string }[], id: string): Promise<void> {
    this.#needOwn('join');
    const runs = parts.map(({ ledger, run }) => ({ context: ledger.#context, run }));
    return this.#do((context) => joinRuns(context, runs, id));
  }
  prune(options: PruneOptions): Promise<PruneReceipt> {
    if ((options.graceMs ?? 0) === 0 || this.#access !== 'share') this.#needOwn('prune');
    return this.#do((context) => prune(context, options));
  }

  #needOwn(what: string): void {
    if (this.#access !== 'own') throw new TypeError(`${what}: found access "${this.#access}"; expected "own"`);
  }

  async #do<T>(work: (context: LedgerContext) => Promise<T>): Promise<T> {
    if (this.#lock?.isLost() === true) throw storeUnreachable(this.#context.store.place, 'the connection that held its lock ended');
    try {
      return await work(this.#context);
    } catch (error) {
      throw this.#context.store.faultOf(error);
    }
  }
}
