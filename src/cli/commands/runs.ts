// gloam runs, prune, doctor: what is in the store, dropping what is old, and looking it over.
import type { Command } from 'commander';
import type { RunSummary } from '../../ledger/records.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import { asDuration, wholeFromOne } from '../option-values.ts';
import { count } from '../io.ts';
import { loadDoctor, loadLedger } from '../load.ts';
import { sumOfChecks } from '../../samples/what-counts.ts';

export function runsCommand(run: Run): Command {
  return command<CommonOptions & { readonly label?: string }>('runs', 'list the stored runs', run, async (session, options) => {
    const { openLedger } = await loadLedger();
    await using ledger = await openLedger(await session.store(), { access: 'read' });
    const runs = await ledger.runs({ foretold: true, ...(options.label === undefined ? {} : { label: options.label }) });
    if (session.io.json) session.io.result(runs);
    else if (runs.length === 0) session.io.say('No run is stored yet.');
    else for (const each of runs) session.io.say(lineOf(each));
    return EXIT.done;
  }).option('--label <name>', 'only runs of this label');
}

function lineOf(run: RunSummary): string {
  const { totals } = run;
  const found = sumOfChecks(totals?.findings ?? {});
  const how =
    totals === null ? 'not finished' : `${count(totals.views, 'view')}, ${totals.failed} failed, ${count(found, 'finding')}`;
  const foretold =
    run.foretold === null ? '' : `  (forecast of ${run.foretold.of}${run.foretold.as === undefined ? '' : `: ${run.foretold.as}`})`;
  const label = run.label === null ? '' : `  ${run.label}`;
  return `${run.id}  ${run.startedAt}  ${how}${label}${run.narrowed ? '  (narrowed)' : ''}${foretold}`;
}

/** More than a group of a run may take, which is twelve hours at most. */
const GRACE = '24h';

export interface PruneCommandOptions extends CommonOptions {
  readonly keep: number;
  readonly grace?: number;
  readonly try?: boolean;
}

export function pruneCommand(run: Run): Command {
  return command<PruneCommandOptions>('prune', 'drop old runs and the pictures nobody needs any more', run, pruneOnce)
    .requiredOption('--keep <n>', 'how many of the latest finished runs stay', wholeFromOne)
    .option(
      '--grace <time>',
      `how long files stay that no run names yet, and what counts as under way; ${GRACE} unless set where the store is a database`,
      asDuration,
    )
    .option('--try', 'only say what would go');
}

/** Drops what is older than the runs that are to be kept. */
export async function pruneOnce(session: Session, options: PruneCommandOptions): Promise<ExitCode> {
  const { openLedger } = await loadLedger();
  const store = await session.store();
  // A folder has one process at a time; a database may have workers.
  const isShared = typeof store !== 'string';
  await using ledger = await openLedger(store, { access: isShared ? 'share' : 'own', doing: 'prune' });
  const tryOnly = options.try ?? false;
  const graceMs = options.grace ?? (isShared ? asDuration(GRACE) : 0);
  const underWaySince = new Date(Date.now() - graceMs).toISOString();
  const receipt = await ledger.prune({ keep: options.keep, tryOnly, graceMs, underWaySince });
  if (session.io.json) session.io.result(receipt);
  else {
    const verb = tryOnly ? 'would be dropped' : 'dropped';
    const freed = `${count(receipt.blobs, 'file')}, ${(receipt.bytes / 1e6).toFixed(1)} MB`;
    session.io.say(
      `${count(receipt.dropped.length, 'run')} ${verb} (${freed}); ${count(receipt.kept.length, 'run')} kept. What is accepted stays.`,
    );
  }
  return EXIT.done;
}

export function doctorCommand(run: Run): Command {
  return command<CommonOptions & { readonly mend?: boolean }>(
    'doctor',
    'look the store over: rows, files and their hashes',
    run,
    async (session, options) => {
      const { examineStore } = await loadDoctor();
      const health = await examineStore(await session.store(), { mend: options.mend ?? false, now: new Date().toISOString() });
      const left = health.faults.filter((fault) => fault.mended === null);
      if (session.io.json) session.io.result(health);
      else {
        for (const fault of health.faults) {
          session.io.say(`${fault.kind}: ${fault.where}: ${fault.message}`);
          if (fault.mended !== null) session.io.say(`  mended: ${fault.mended}`);
        }
        const size = `${count(health.runs, 'run')}, ${count(health.blobs, 'file')}, ${(health.bytes / 1e6).toFixed(1)} MB`;
        const verdict =
          left.length === 0
            ? 'nothing is wrong now'
            : `${count(left.length, 'fault')} left${options.mend === true ? '' : '; --mend mends what can be mended'}`;
        session.io.say(`${size}: ${verdict}.`);
      }
      return left.length === 0 ? EXIT.done : EXIT.no;
    },
  ).option('--mend', 'mend what can be mended');
}
