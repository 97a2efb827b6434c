// gloam night: what a nightly job does, in one command: run, gate with its forms, prune.
import type { Command } from 'commander';
import type { Configuration } from '../../plan/configuration.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run, Session } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { ExitCode } from '../exit-codes.ts';
import { asDuration, wholeFromOne } from '../option-values.ts';
import { collect } from '../selection.ts';
import { judgeOnce } from './gate.ts';
import { runOnce } from './run.ts';
import { pruneOnce } from './runs.ts';

interface NightOptions extends CommonOptions {
  readonly theme?: readonly string[];
  /** ms */
  readonly within?: number;
  readonly since?: string;
  readonly forms?: string;
  readonly report?: string;
  readonly keep?: number;
  readonly set?: string;
  readonly label?: string;
  readonly workers?: number;
  readonly gate: boolean;
}

export function nightCommand(run: Run): Command {
  return command<NightOptions>('night', 'run, judge, write the forms, drop old runs: all that a nightly job needs', run, night)
    .option('--within <time>', 'start no new view after 30m, 90s, 1h …; the most valuable ones come first', asDuration)
    .option('--since <run>', 'run whose findings the gate allows: its id, or "previous", which it is unless criteria name one')
    .option('--forms <folder>', 'write all forms of the gate into a folder')
    .option('--report <address>', 'address of the report server that links in the forms lead to')
    .option('--keep <n>', 'then drop all but so many of the latest finished runs', wholeFromOne)
    .option('--theme <name>', 'theme to judge, repeatable; all unless set', collect)
    .option('--set <name>', 'accepted set to compare with; where it lacks a view, and unless set: main')
    .option('--label <name>', 'branch or whatever tells lines of history apart')
    .option('--workers <n>', 'pages side by side; one more than there are cores unless set', wholeFromOne)
    .option('--no-gate', 'judge nothing: the exit code is that of gloam run');
}

/** Exit code: the gate's; the run's where it was not asked, or the night was ended by hand. */
async function night(session: Session, options: NightOptions): Promise<ExitCode> {
  const configuration = await session.configuration();
  const set = configuration.night ?? {};
  const within = options.within ?? set.withinMs;
  const forms = options.forms ?? set.forms;
  const keep = options.keep ?? set.keep;
  const since = options.since ?? set.since ?? (namesARun(configuration) ? undefined : 'previous');
  const { theme, workers, label, report } = options;

  // One document for all of it, where scripts read along.
  const told: Record<string, unknown> = {};
  const as = (name: string): Session => ({
    ...session,
    io: {
      ...session.io,
      result: (value) => {
        told[name] = value;
      },
    },
  });
  const made = await runOnce(as('run'), {
    ...(within === undefined ? {} : { within }),
    ...(workers === undefined ? {} : { workers }),
    ...(label === undefined ? {} : { label }),
    ...(since === undefined || since === 'previous' ? {} : { since }),
    ...(options.set === undefined ? {} : { set: options.set }),
  });
  let code = made.code;
  if (!session.signal.aborted) {
    if (options.gate) {
      session.io.say();
      code = await judgeOnce(as('gate'), {
        run: made.run,
        set: options.set ?? 'main',
        ...(theme === undefined ? {} : { theme }),
        ...(since === undefined ? {} : { since }),
        ...(forms === undefined ? {} : { forms }),
        ...(report === undefined ? {} : { report }),
      });
    }
    if (keep !== undefined) await pruneOnce(as('pruned'), { keep });
  }
  if (session.io.json) session.io.result({ ...told, code });
  return session.signal.aborted ? EXIT.incomplete : code;
}

function namesARun({ gate }: Configuration): boolean {
  return Object.values(gate).some(({ since }) => since !== undefined);
}
