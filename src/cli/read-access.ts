// Configuration and environment → how the app is come by. Values of variables live here and in what this returns, nowhere else.
import { pathToFileURL } from 'node:url';
import type { Access, SignIn, SignInGiven } from '../../runner/app/access.ts';
import type { Secrets } from '../../runner/app/secrets.ts';
import { configInvalid } from '../errors/command-errors.ts';
import type { FileFault } from '../errors/command-errors.ts';
import type { Configuration, Given } from '../plan/configuration.ts';

export type Environment = Readonly<Record<string, string | undefined>>;

/** A shorter one would be found, and taken out, in half of all words; ours. */
const LEAST = 4;

/** Where a value comes from the environment: place in the configuration → name of the variable. */
function variablesOf({ session, headers, cookies }: Configuration): readonly (readonly [string, string])[] {
  const of = (at: string, values: Readonly<Record<string, Given>> | undefined): readonly (readonly [string, string])[] =>
    Object.entries(values ?? {}).flatMap(([name, value]) =>
      typeof value === 'string' ? [] : [[`${at}.${name}.env`, value.env] as const],
    );
  const ofScript = (session?.env ?? []).map((name, i) => [`session.env[${String(i)}]`, name] as const);
  return [...ofScript, ...of('headers', headers), ...of('cookies', cookies)];
}

/** Values that are set already; commands that open no page do without. */
export function knownValues(configuration: Configuration, env: Environment): readonly string[] {
  return variablesOf(configuration).flatMap(([, name]) => {
    const value = env[name] ?? '';
    return value.length < LEAST ? [] : [value];
  });
}

/**
 * @returns for the address of the app, known once it runs; undefined where the configuration asks for nothing
 * @throws GloamError `config-invalid` for variables that are not set and for a script that cannot be loaded
 */
export async function readAccess(
  configuration: Configuration,
  { env, secrets }: { readonly env: Environment; readonly secrets: Secrets },
): Promise<(origin: string) => Access | undefined> {
  const { session, headers = {}, cookies = {}, file } = configuration;
  if (session === undefined && Object.keys(headers).length + Object.keys(cookies).length === 0) return () => undefined;
  const faults = variablesOf(configuration).flatMap(([at, name]): readonly FileFault[] => {
    const value = env[name] ?? '';
    if (value === '') return [{ at, found: `${name}, which is not set in the environment`, expected: 'a variable with a value' }];
    if (value.length >= LEAST) return [];
    const expected = `at least ${String(LEAST)}: what is shorter cannot be kept out of reports (what is no secret may stand in the file)`;
    return [{ at, found: `${name} with a value of ${String(value.length)} characters`, expected }];
  });
  if (faults.length > 0) throw configInvalid(file, faults);
  secrets.learn(knownValues(configuration, env));
  const textOf = (value: Given): string => (typeof value === 'string' ? value : `${value.before ?? ''}${env[value.env] ?? ''}`);
  const texts = (values: Readonly<Record<string, Given>>): Readonly<Record<string, string>> =>
    Object.fromEntries(Object.entries(values).map(([name, value]) => [name, textOf(value)]));
  const signIn: SignIn | null =
    session === undefined
      ? null
      : {
          file: session.script,
          run: await loadScript(session.script, file),
          env: Object.fromEntries(session.env.map((name) => [name, env[name] ?? ''])),
          withinMs: session.withinMs,
        };
  const parts = { secrets, headers: texts(headers), cookies: texts(cookies), signIn };
  return (origin) => ({ ...parts, origin, states: [] });
}

async function loadScript(script: string, file: string): Promise<(given: SignInGiven) => unknown> {
  const expected = 'a module (.mjs or .js) whose default export is a function of { page, context, env, origin }';
  let loaded: unknown;
  try {
    loaded = await import(pathToFileURL(script).href);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw configInvalid(file, [{ at: 'session.script', found: `"${script}", which cannot be loaded: ${reason}`, expected }]);
  }
  const run: unknown = typeof loaded === 'object' && loaded !== null && 'default' in loaded ? loaded.default : undefined;
  if (typeof run !== 'function')
    throw configInvalid(file, [{ at: 'session.script', found: `"${script}" without such a function`, expected }]);
  return (given): unknown => Reflect.apply(run, undefined, [given]);
}
