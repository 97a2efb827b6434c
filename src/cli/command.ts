// What every command has: the common options, an Io, and a way to end with an exit code.
import { Command } from 'commander';
import { openSecrets } from '../../runner/app/secrets.ts';
import type { Secrets } from '../../runner/app/secrets.ts';
import { GloamError } from '../errors/gloam-error.ts';
import type { Configuration } from '../plan/configuration.ts';
import type { ExitCode } from './exit-codes.ts';
import { ioIn, ioWithout } from './io.ts';
import type { Io } from './io.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import { knownValues } from './read-access.ts';
import { storePlace, storeSecrets } from './store-place.ts';
import type { Surroundings } from './surroundings.ts';

export interface CommonOptions {
  readonly config?: string;
  readonly store?: string;
  readonly json?: boolean;
}

export interface Session extends Pick<Surroundings, 'folder' | 'env' | 'signal' | 'command' | 'browser'> {
  readonly io: Io;
  /** What nothing that is written may hold; `io` and errors are rid of it. */
  readonly secrets: Secrets;
  configuration(): Promise<Configuration>;
  /** Null where there is none: a store can be looked at without. A faulty one is an error all the same. */
  configurationIfAny(): Promise<Configuration | null>;
  /** `--store`, else `GLOAM_STORE`, else as configured, else `.gloam` beside the configuration. */
  store(): Promise<StorePlace>;
}

/** Runs a command to its exit code, with what is around it. */
export type Run = (job: (around: Surroundings) => Promise<ExitCode>) => Promise<void>;

/** A command with the options common to all; `job` gets the session and the parsed options and arguments. */
// eslint-disable-next-line @typescript-eslint/no-unnecessary-type-parameters -- O names what the .option() calls chained to the result define
export function command<O extends CommonOptions>(
  name: string,
  about: string,
  run: Run,
  job: (session: Session, options: O, args: readonly string[]) => Promise<ExitCode>,
): Command {
  const made = new Command(name)
    .description(about)
    .option('--config <file>', 'configuration file; gloam.config.ts, .js, .mjs or .json of this folder unless set')
    .option(
      '--store <place>',
      'where runs and pictures are kept: a folder, or postgres://…; .gloam beside the configuration unless set',
    )
    .option('--json', 'machine output on stdout, everything else on stderr')
    .allowExcessArguments(false);
  return made.action(async () => {
    const options = made.opts<O>();
    await run(async (around) => {
      const session = openSession(options, around);
      try {
        return await job(session, options, made.args);
      } catch (error) {
        throw withoutSecrets(error, session.secrets);
      }
    });
  });
}

function withoutSecrets(error: unknown, { scrub }: Secrets): unknown {
  if (!(error instanceof Error)) return typeof error === 'string' ? scrub(error) : error;
  const said = `${error.message}\n${error.stack ?? ''}\n${error instanceof GloamError ? error.hint : ''}`;
  if (scrub(said) === said) return error;
  if (error instanceof GloamError) return error.reworded(scrub);
  const clean = new Error(scrub(error.message));
  clean.stack = scrub(error.stack ?? '');
  return clean;
}

function openSession(options: CommonOptions, around: Surroundings): Session {
  const { folder, env, signal, command: self, browser } = around;
  const secrets = openSecrets();
  let read: Promise<Configuration> | undefined;
  const configuration = (): Promise<Configuration> => {
    // Loaded when needed: help must not wait for the parsers.
    read ??= import('../config/read-configuration.ts').then(({ readConfiguration }) =>
      readConfiguration({ folder, ...(options.config === undefined ? {} : { file: options.config }) }),
    );
    // Also for commands that open no page: what they print is rid of the values all the same.
    read = read.then((found) => {
      secrets.learn(knownValues(found, env));
      return found;
    });
    return read;
  };
  return {
    io: ioWithout(secrets, ioIn(around, { json: options.json ?? false })),
    secrets,
    folder,
    env,
    signal,
    command: self,
    ...(browser === undefined ? {} : { browser }),
    configuration,
    configurationIfAny: async () => {
      try {
        return await configuration();
      } catch (error) {
        if (error instanceof GloamError && error.code === 'config-not-found') return null;
        throw error;
      }
    },
    store: async () => {
      const place = await storePlace({ option: options.store, env, cwd: folder, configured: configuration });
      secrets.learn(storeSecrets(place, env));
      return place;
    },
  };
}
