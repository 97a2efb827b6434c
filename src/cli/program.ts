// The command line: which commands there are and how wrong use is told.
import { Command } from 'commander';
import type { Run } from './command.ts';
import { acceptCommand } from './commands/accept.ts';
import { exemptCommand } from './commands/exempt.ts';
import { explainCommand } from './commands/explain.ts';
import { exportCommand } from './commands/export.ts';
import { gateCommand } from './commands/gate.ts';
import { helpCommand } from './commands/help.ts';
import { initCommand } from './commands/init.ts';
import { joinCommand } from './commands/join.ts';
import { matchCommand } from './commands/match.ts';
import { nightCommand } from './commands/night.ts';
import { forecastCommand } from './commands/forecast.ts';
import { retuneCommand } from './commands/retune.ts';
import { runCommand } from './commands/run.ts';
import { doctorCommand, pruneCommand, runsCommand } from './commands/runs.ts';
import { serveCommand } from './commands/serve.ts';
import { storeCommand } from './commands/store.ts';
import { tokensCommand } from './commands/tokens.ts';
import { workCommand } from './commands/work.ts';
import { packageVersion } from './package-facts.ts';
import type { Surroundings } from './surroundings.ts';

export function makeProgram({ out, err }: Pick<Surroundings, 'out' | 'err'>, run: Run): Command {
  const output = { writeOut: (text: string) => out.write(text), writeErr: (text: string) => err.write(text) };
  const program = new Command('gloam')
    .description(
      'Renders every page of an app in every theme, finds what looks wrong and why, and says whether a theme may launch.',
    )
    .version(packageVersion(), '--version', 'print the version')
    .helpOption('--help', 'print this help')
    .exitOverride()
    .configureOutput(output)
    .showSuggestionAfterError()
    .helpCommand(false)
    .addHelpText('after', '\nTopics, such as themes, states, triage, limits: gloam help');
  const commands = [
    initCommand(run),
    runCommand(run),
    workCommand(run),
    gateCommand(run),
    nightCommand(run),
    exemptCommand(run),
    explainCommand(run),
    forecastCommand(run),
    retuneCommand(run),
    acceptCommand(run),
    serveCommand(run),
    matchCommand(run),
    tokensCommand(run),
    exportCommand(run),
    joinCommand(run),
    runsCommand(run),
    pruneCommand(run),
    doctorCommand(run),
    storeCommand(run),
    helpCommand(program, run),
  ];
  for (const one of commands)
    program.addCommand(one.helpOption('--help', 'print this help').exitOverride().configureOutput(output));
  return program;
}
