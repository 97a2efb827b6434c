// gloam run: renders the plan and stores what it finds.
import path from 'node:path';
import type { Command } from 'commander';
import { wrongUse } from '../../errors/command-errors.ts';
import { LEVELS } from '../../samples/finding.ts';
import type { Level } from '../../samples/finding.ts';
import { doubtWords } from '../../gate/doubt-words.ts';
import { BEFORE } from '../../ledger/read/base-views.ts';
import { noteWords } from '../../samples/note-words.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import { loadExecuteRun, loadExportRun, loadLeadRun, loadLedger, loadShowSummary, loadWatch } from '../load.ts';
import { asDuration, asLevel, asPart, wholeFromOne } from '../option-values.ts';
import type { PartOf } from '../run/open-run.ts';
import { takesSelection } from '../selection.ts';
import type { Selection } from '../selection.ts';

export interface RunOptions extends CommonOptions, Selection {
  readonly export?: string;
  readonly samples?: boolean;
  readonly workers?: number;
  readonly label?: string;
  readonly set?: string;
  readonly resume?: boolean;
  readonly part?: PartOf;
  readonly failOn?: Level;
  /** ms */
  readonly within?: number;
  readonly since?: string;
  readonly time?: boolean;
  readonly anew?: boolean;
  readonly watch?: boolean;
  readonly onQueue?: boolean;
}

export function runCommand(run: Run): Command {
  const made = command<RunOptions>('run', 'render every view, find what is wrong, store the run', run, async (session, options) => {
    if (options.watch === true) return watch(session, options);
    return (await runOnce(session, options)).code;
  });
  return takesSelection(made)
    .option('--export <folder>', 'write the run as files too')
    .option('--samples', 'with --export: write samples.ndjson too')
    .option('--workers <n>', 'pages side by side; one more than there are cores unless set', wholeFromOne)
    .option('--within <time>', 'start no new view after 30m, 90s, 1h …; the most valuable ones come first', asDuration)
    .option(
      '--since <run>',
      'count new, known and gone against this run; unless set, each view against the newest run that captured it',
    )
    .option('--anew', 'read every view anew, also those whose page and picture are as they were, and work out causes anew')
    .option('--time', 'say where the time went, by stage')
    .option('--watch', 'then wait, and render again what a saved file touches; nothing is stored (gloam help watch)')
    .option('--on-queue', 'let gloam work render it, on any number of machines; needs a database (gloam help many-machines)')
    .option('--resume', 'finish the run that was cut off or left views out, instead of starting one')
    .option('--part <k/n>', 'render only the k-th of n parts of the plan; gloam join makes one run of them', asPart)
    .option('--set <name>', 'accepted set to compare with; where it lacks a view, and unless set: main')
    .option('--label <name>', 'branch or whatever tells lines of history apart')
    .option('--fail-on <level>', `exit with 1 where a finding is at this level or above (${LEVELS.join(', ')})`, asLevel);
}

/** @returns the run's id, and how it ended */
export async function runOnce(session: Session, options: RunOptions): Promise<{ readonly run: string; readonly code: ExitCode }> {
  const { io } = session;
  const store = await session.store();
  const { workers, label, set, part, within } = options;
  const request = {
    configuration: await session.configuration(),
    store,
    selection: options,
    resume: options.resume ?? false,
    anew: options.anew ?? false,
    env: session.env,
    secrets: session.secrets,
    sets: set === undefined ? ['main'] : [set, 'main'],
    ...(label === undefined ? {} : { label }),
    ...(within === undefined ? {} : { withinMs: within }),
    signal: session.signal,
    now: () => new Date(),
    io,
  };
  refuseAlone(options);
  const browser = options.onQueue === true ? undefined : await session.browser?.();
  const here = {
    ...(part === undefined ? {} : { part }),
    ...(workers === undefined ? {} : { workers }),
    ...(browser === undefined ? {} : { browser }),
  };
  const outcome =
    options.onQueue === true
      ? await (await loadLeadRun()).leadRun(request)
      : await (await loadExecuteRun()).executeRun({ ...request, ...here });
  const { run } = outcome;
  const { openLedger } = await loadLedger();
  await using ledger = await openLedger(store, { access: 'read' });
  if (options.export !== undefined) {
    const { exportJudged } = await loadExportRun();
    const folder = path.resolve(session.folder, options.export);
    await exportJudged(ledger, run.id, folder, options.samples ?? false);
  }
  const { since } = options;
  const isNamed = since !== undefined && since !== 'previous';
  const against = await ledger.countAgainst(run.id, isNamed ? { kind: 'run', id: since } : BEFORE);
  if (io.json)
    io.result({
      run,
      ended: outcome.ended,
      unchanged: outcome.unchanged,
      failed: outcome.failed.map(({ view, code, error }) => ({ view, code, error })),
      leftOut: outcome.leftOut.map(({ id }) => id),
      unsteady: outcome.unsteady.map(({ view, note }) => ({ view: view.id, note: noteWords(note) })),
      doubts: outcome.doubts.map((doubt) => ({ view: doubt.view.id, kind: doubt.kind, says: doubtWords(doubt) })),
      idle: outcome.idle,
      since:
        against === null
          ? null
          : { run: against.runs[0], runs: against.runs, new: against.fresh, known: against.known, gone: against.gone },
      ...(options.time === true ? { time: outcome.time } : {}),
    });
  else {
    const { showSummary, showTimes } = await loadShowSummary();
    await showSummary(io, ledger, outcome, against);
    if (options.time === true) showTimes(io, outcome);
  }
  const isIncomplete = outcome.ended || outcome.failed.length + outcome.leftOut.length > 0;
  return { run: run.id, code: exitCode(isIncomplete, await hasAtLeast(options.failOn)) };

  async function hasAtLeast(level: Level | undefined): Promise<boolean> {
    if (level === undefined) return false;
    const levels = LEVELS.slice(0, LEVELS.indexOf(level) + 1);
    return (await ledger.countFindings(run.id, { level: levels, status: ['new', 'known'] })) > 0;
  }
}

/** What is said of this machine has no meaning where others do the work. */
function refuseAlone({ onQueue, part, workers }: RunOptions): void {
  if (onQueue !== true) return;
  if (part !== undefined)
    throw wrongUse('--on-queue divides the plan itself: --part has no meaning with it.', 'Leave --part or --on-queue out.');
  if (workers !== undefined)
    throw wrongUse('--on-queue renders nothing on this machine: --workers has no meaning with it.', 'Say it to gloam work.');
}

/** What speaks of a stored run has no meaning where none is stored. */
const NEEDS_A_STORED_RUN = [
  'json',
  'export',
  'samples',
  'label',
  'set',
  'resume',
  'part',
  'onQueue',
  'failOn',
  'within',
  'since',
  'time',
  'anew',
] as const;

async function watch(session: Session, options: RunOptions): Promise<ExitCode> {
  const idle = NEEDS_A_STORED_RUN.find((name) => options[name] !== undefined);
  if (idle !== undefined) {
    const name = idle.replace(/[A-Z]/, (capital) => `-${capital.toLowerCase()}`);
    throw wrongUse(`--watch stores nothing and ends by hand: --${name} has no meaning with it.`, `Leave --${name} or --watch out.`);
  }
  const { workers } = options;
  const { watchRun } = await loadWatch();
  await watchRun({
    configuration: await session.configuration(),
    selection: options,
    ...(workers === undefined ? {} : { workers }),
    env: session.env,
    secrets: session.secrets,
    signal: session.signal,
    now: () => new Date(),
    io: session.io,
  });
  return EXIT.done;
}

function exitCode(incomplete: boolean, tooMuch: boolean): ExitCode {
  if (incomplete) return EXIT.incomplete;
  return tooMuch ? EXIT.no : EXIT.done;
}
