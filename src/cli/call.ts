// One call of the command line: arguments in, exit code out.
import { CommanderError } from 'commander';
import { GloamError } from '../errors/gloam-error.ts';
import type { ExitCode } from './exit-codes.ts';
import { EXIT } from './exit-codes.ts';
import { makeProgram } from './program.ts';
import type { Surroundings } from './surroundings.ts';

/** @param args after the name of the program @returns does not throw: what goes wrong is told on `err` */
export async function call(args: readonly string[], around: Surroundings): Promise<ExitCode> {
  let code: ExitCode = EXIT.done;
  const program = makeProgram(around, async (job) => {
    code = await job(around);
  });
  try {
    await program.parseAsync(args, { from: 'user' });
    return code;
  } catch (error) {
    return told(error, around);
  }
}

function told(error: unknown, { err }: Surroundings): ExitCode {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.wrongUse;
  if (error instanceof GloamError) {
    err.write(`gloam: ${error.message}\n  ${error.hint}\n`);
    return EXIT.wrongUse;
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
  err.write(`gloam: a fault of gloam itself, not of your app:\n${text}\n`);
  return EXIT.incomplete;
}
