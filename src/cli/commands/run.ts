// gloam run: renders the plan and stores what it finds.
import path from 'node:path';
import { InvalidArgumentError } from 'commander';
import type { Command } from 'commander';
import { LEVELS } from '../../samples/finding.ts';
import type { Level } from '../../samples/finding.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import { loadExecuteRun, loadExportRun, loadLedger, loadShowSummary } from '../load.ts';

interface RunOptions extends CommonOptions {
  readonly page?: readonly string[];
  readonly theme?: readonly string[];
  readonly state?: readonly string[];
  readonly viewport?: readonly string[];
  readonly export?: string;
  readonly samples?: boolean;
  readonly workers?: number;
  readonly label?: string;
  readonly failOn?: Level;
}

export function runCommand(run: Run): Command {
  return command<RunOptions>('run', 'render every view, find what is wrong, store the run', run, async (session, options) => {
    const { executeRun } = await loadExecuteRun();
    const { io } = session;
    const store = await session.store();
    const { page, theme, state, viewport, workers, label } = options;
    const outcome = await executeRun({
      configuration: await session.configuration(),
      store,
      selection: { ...(page && { page }), ...(theme && { theme }), ...(state && { state }), ...(viewport && { viewport }) },
      ...(workers === undefined ? {} : { workers }),
      ...(label === undefined ? {} : { label }),
      signal: session.signal,
      now: () => new Date(),
      io,
    });
    const { openLedger } = await loadLedger();
    await using ledger = await openLedger(store, { access: 'read' });
    if (options.export !== undefined) {
      const { exportRun } = await loadExportRun();
      const folder = path.resolve(session.folder, options.export);
      await exportRun(ledger, outcome.run.id, folder, { samples: options.samples ?? false });
    }
    if (io.json)
      io.result({
        run: outcome.run,
        ended: outcome.ended,
        failed: outcome.failed.map(({ view, code, error }) => ({ view, code, error })),
      });
    else {
      const { showSummary } = await loadShowSummary();
      await showSummary(io, ledger, outcome);
    }
    return exitCode(outcome.ended || outcome.failed.length > 0, await hasAtLeast(options.failOn));

    async function hasAtLeast(level: Level | undefined): Promise<boolean> {
      if (level === undefined) return false;
      const levels = LEVELS.slice(0, LEVELS.indexOf(level) + 1);
      return (await ledger.countFindings(outcome.run.id, { level: levels, status: ['new', 'known'] })) > 0;
    }
  })
    .option('--page <glob>', 'only these pages (repeatable)', collect)
    .option('--theme <glob>', 'only these themes, and the reference (repeatable)', collect)
    .option('--state <glob>', 'only these states (repeatable)', collect)
    .option('--viewport <glob>', 'only these viewports (repeatable)', collect)
    .option('--export <folder>', 'write the run as files too')
    .option('--samples', 'with --export: write samples.ndjson too')
    .option('--workers <n>', 'pages side by side; one per core unless set', wholeFromOne)
    .option('--label <name>', 'branch or whatever tells lines of history apart')
    .option('--fail-on <level>', `exit with 1 where a finding is at this level or above (${LEVELS.join(', ')})`, asLevel);
}

function exitCode(incomplete: boolean, tooMuch: boolean): ExitCode {
  if (incomplete) return EXIT.incomplete;
  return tooMuch ? EXIT.no : EXIT.done;
}

function collect(value: string, previous: readonly string[] | undefined): readonly string[] {
  return [...(previous ?? []), value];
}

function wholeFromOne(text: string): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1) throw new InvalidArgumentError('Expected a whole number from 1 up.');
  return n;
}

function asLevel(text: string): Level {
  const level = LEVELS.find((known) => known === text);
  if (level === undefined) throw new InvalidArgumentError(`Expected one of ${LEVELS.join(', ')}.`);
  return level;
}
