#!/usr/bin/env node
// The process: its surroundings in, exit code out. Everything else is in call.ts, program.ts and the commands.
import module from 'node:module';
import { call } from './call.ts';
import { EXIT } from './exit-codes.ts';

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

process.exitCode = await call(process.argv.slice(2), {
  folder: process.cwd(),
  env: process.env,
  out: process.stdout,
  err: process.stderr,
  signal: stop.signal,
  command: [process.execPath, ...process.argv.slice(1, 2)],
});
