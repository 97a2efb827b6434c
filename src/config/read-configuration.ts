// Finds, reads and validates a configuration: file → Configuration, or one error that lists everything that is wrong.
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { configInvalid, configNotFound, configUnreadable } from '../errors/command-errors.ts';
import type { FileFault } from '../errors/command-errors.ts';
import type { Configuration, Exemption } from '../plan/configuration.ts';
import { readExemptions } from './read-exemptions.ts';
import { readJson } from './read-json.ts';
import { toConfiguration } from './to-configuration.ts';
import { configurationFile } from './schema.ts';
import { selectorFaults } from './selector-faults.ts';
import { schemaFaults, showValue } from './schema-faults.ts';

const NAMES = ['gloam.config.ts', 'gloam.config.js', 'gloam.config.mjs', 'gloam.config.json'];

/**
 * @param where `file`: a configuration file; else the first known name in `folder`
 * @throws GloamError `config-not-found`, `config-unreadable`, `config-invalid`
 */
export async function readConfiguration(where: { readonly folder: string; readonly file?: string }): Promise<Configuration> {
  const file = findFile(where);
  const input = file.endsWith('.json') ? await readJson(file) : await readModule(file);
  return validateConfiguration(file, input, await readExemptions(file));
}

/**
 * @param exemptions from the file beside the configuration; they follow the configuration's own
 * @throws GloamError `config-invalid` with every fault at once
 */
export function validateConfiguration(file: string, input: unknown, exemptions: readonly Exemption[] = []): Configuration {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    throw configInvalid(file, [{ at: '', found: showValue(input), expected: 'an object with the members app, pages and themes' }]);
  }
  const parsed = configurationFile.safeParse(input);
  if (!parsed.success) throw configInvalid(file, schemaFaults(configurationFile, input, parsed.error.issues));
  const { configuration, faults } = toConfiguration(file, parsed.data);
  const all: readonly FileFault[] = [...faults, ...selectorFaults(configuration), ...missingFiles(configuration)];
  if (all.length > 0) throw configInvalid(file, all);
  return exemptions.length === 0 ? configuration : { ...configuration, exempt: [...configuration.exempt, ...exemptions] };
}

function findFile(where: { readonly folder: string; readonly file?: string }): string {
  if (where.file !== undefined) {
    const file = path.resolve(where.folder, where.file);
    if (!existsSync(file)) throw configUnreadable(file, new Error('there is no such file'));
    return file;
  }
  const found = NAMES.map((name) => path.join(where.folder, name)).find((file) => existsSync(file));
  if (found === undefined) throw configNotFound(where.folder);
  return found;
}

async function readModule(file: string): Promise<unknown> {
  try {
    // Loaded where it is needed: most configurations are JSON.
    const { loadConfig } = await import('c12');
    const { config } = await loadConfig({
      cwd: path.dirname(file),
      configFile: path.basename(file),
      configFileRequired: true,
      rcFile: false,
      globalRc: false,
      packageJson: false,
      dotenv: false,
      extend: false,
    });
    return config;
  } catch (error) {
    throw configUnreadable(file, error);
  }
}

/** `file`, `folder`, another kind of thing, `nothing`, or why that cannot be told. Reading a pipe would wait for a writer. */
function whatIs(file: string): string {
  try {
    const facts = statSync(file, { throwIfNoEntry: false });
    if (facts === undefined) return 'nothing';
    if (facts.isDirectory()) return 'folder';
    return facts.isFile() ? 'file' : facts.isFIFO() ? 'pipe' : 'device';
  } catch (error) {
    return `cannot be looked at: ${error instanceof Error ? error.message.replace(/,.*$/su, '') : String(error)}`;
  }
}

function missingFiles(configuration: Configuration): readonly FileFault[] {
  const relative = (file: string): string => path.relative(configuration.folder, file) || '.';
  const faults: FileFault[] = [];
  const need = (at: string, file: string, kind: 'file' | 'folder'): void => {
    const what = whatIs(file);
    if (what === kind) return;
    const of = what.startsWith('cannot') || what === 'nothing' ? ` (paths start at ${configuration.folder})` : '';
    const found = what === 'nothing' ? 'does not exist' : what.startsWith('cannot') ? what : `is a ${what}`;
    faults.push({ at, found: `"${relative(file)}", which ${found}`, expected: `a ${kind}${of}` });
  };
  if (configuration.app.kind === 'serve') {
    need('app.serve', configuration.app.folder, 'folder');
    if (configuration.app.fallback !== undefined) need('app.fallback', configuration.app.fallback, 'file');
  }
  for (const theme of configuration.themes) {
    if (theme.apply.script !== undefined) need(`themes.${theme.name}.apply.script`, theme.apply.script, 'file');
  }
  for (const state of configuration.states) if (state.kind === 'script') need(`states.${state.name}.script`, state.file, 'file');
  if (configuration.session !== undefined) need('session.script', configuration.session.script, 'file');
  const { tokens } = configuration;
  if (tokens?.kind === 'resolver') need('tokens.resolver', tokens.file, 'file');
  if (tokens?.kind === 'files') {
    tokens.base.forEach((file, i) => {
      need(`tokens.base[${i}]`, file, 'file');
    });
    for (const [theme, files] of Object.entries(tokens.themes))
      files.forEach((file, i) => {
        need(`tokens.themes.${theme}[${i}]`, file, 'file');
      });
  }
  return faults;
}
