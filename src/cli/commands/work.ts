// gloam work: does the work of runs that were put on the queue, on this machine.
import type { Command } from 'commander';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { count } from '../io.ts';
import { loadWork } from '../load.ts';
import { asDuration, wholeFromOne } from '../option-values.ts';

interface WorkOptions extends CommonOptions {
  readonly workers?: number;
  readonly untilDone?: boolean;
  readonly patience: number;
}

const PATIENCE = '10m';

export function workCommand(run: Run): Command {
  return command<WorkOptions>(
    'work',
    'do the work of runs on the queue (run --on-queue), until told to stop',
    run,
    async (session, options) => {
      const { workRuns } = await loadWork();
      const { env, secrets, signal, io } = session;
      const outcome = await workRuns({
        configuration: await session.configuration(),
        store: await session.store(),
        ...(options.workers === undefined ? {} : { workers: options.workers }),
        ...(options.untilDone === true ? { patienceMs: options.patience } : {}),
        env,
        secrets,
        signal,
        io,
      });
      const { groups, views, failed, givenBack } = outcome;
      if (io.json) io.result(outcome);
      else {
        const more = [
          ...(failed === 0 ? [] : [`${count(failed, 'view')} failed`]),
          ...(givenBack === 0 ? [] : [`${count(givenBack, 'group')} handed back`]),
        ];
        io.say(`${[`${count(groups, 'group')} of ${count(views, 'view')} done`, ...more].join(', ')}.`);
      }
      return EXIT.done;
    },
  )
    .option('--workers <n>', 'groups side by side; one per core unless set', wholeFromOne)
    .option('--until-done', 'end when nothing is left to do, in place of waiting for the next run')
    .option('--patience <time>', 'with --until-done: how long to wait for a run to begin with', asDuration, asDuration(PATIENCE));
}
