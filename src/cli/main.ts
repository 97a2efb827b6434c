#!/usr/bin/env node
// The process: arguments in, exit code out. Everything else is in program.ts and the commands.
import module from 'node:module';
import { CommanderError } from 'commander';
import { GloamError } from '../errors/gloam-error.ts';
import { EXIT } from './exit-codes.ts';
import type { ExitCode } from './exit-codes.ts';
import { makeProgram } from './program.ts';

// From Node 22.1 on what is compiled is kept in the temporary folder: a quarter of the time to load the browser's driver (measured).
(module as { readonly enableCompileCache?: () => unknown }).enableCompileCache?.();

const stop = new AbortController();

/** First signal: end cleanly, keep what is stored. Second: the person means it. */
function onSignal(): void {
  if (stop.signal.aborted) process.exit(EXIT.incomplete);
  process.stderr.write('\nEnding: what is stored is kept. Once more to stop at once.\n');
  stop.abort();
}
process.on('SIGINT', onSignal);
process.on('SIGTERM', onSignal);

// Who reads the output may have enough of it (`gloam runs | head`): then there is nobody left to tell.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

const program = makeProgram(async (job) => {
  process.exitCode = await job(stop.signal);
});

try {
  await program.parseAsync(process.argv);
} catch (error) {
  process.exitCode = report(error);
}

function report(error: unknown): ExitCode {
  if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.done : EXIT.wrongUse;
  if (error instanceof GloamError) {
    process.stderr.write(`gloam: ${error.message}\n  ${error.hint}\n`);
    return EXIT.wrongUse;
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
  process.stderr.write(`gloam: a fault of gloam itself, not of your app:\n${text}\n`);
  return EXIT.incomplete;
}
