// gloam serve: the report server, until it is told to end.
import type { Command } from 'commander';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { loadReport } from '../load.ts';
import { asPort } from '../option-values.ts';

interface ServeCommandOptions extends CommonOptions {
  readonly port: number;
  readonly host: string;
  readonly readOnly?: boolean;
  readonly beyondLoopback?: boolean;
  readonly base?: string;
  readonly name?: readonly string[];
}

function gather(value: string, before: readonly string[] | undefined): readonly string[] {
  return [...(before ?? []), value];
}

export function serveCommand(run: Run): Command {
  return command<ServeCommandOptions>('serve', 'start the report server', run, async (session, options) => {
    const { serveReports, reportSources } = await loadReport();
    const secret = session.env['GLOAM_SECRET'];
    const store = await session.store();
    const configuration = await session.configurationIfAny();
    const live = {
      ...{ env: session.env, secrets: session.secrets, signal: session.signal, folder: session.folder },
      command: session.command,
      ...(options.config === undefined ? {} : { config: options.config }),
    };
    const server = await serveReports({
      store,
      ...(configuration === null
        ? {}
        : { sources: reportSources(configuration, store, options.readOnly === true ? undefined : live) }),
      host: options.host,
      port: options.port,
      readOnly: options.readOnly ?? false,
      beyondLoopback: options.beyondLoopback ?? false,
      ...(secret === undefined ? {} : { secret }),
      ...(options.base === undefined ? {} : { base: options.base }),
      publicNames: options.name ?? [],
    });
    // The first line on stdout is the address, for scripts and people alike.
    session.io.print(`${server.url}\n`);
    session.io.note('Open it in a browser; Ctrl-C ends it.');
    await new Promise<void>((resolve) => {
      if (session.signal.aborted) resolve();
      session.signal.addEventListener('abort', () => {
        resolve();
      });
    });
    await server.close();
    return EXIT.done;
  })
    .option('--port <n>', 'port; 0 for any free one', asPort, 4646)
    .option('--host <name>', 'address to bind', '127.0.0.1')
    .option('--base <path>', 'path the report lies under behind a proxy, e.g. /gloam/')
    .option('--name <host>', 'name the proxy is asked by; repeatable', gather)
    .option('--read-only', 'nothing can be changed from the page')
    .option('--beyond-loopback', 'allow a host that other machines reach; needs a secret in GLOAM_SECRET');
}
