// Adds an exemption to a JSON configuration, or to the file of exemptions beside one in TypeScript or JavaScript.
import { existsSync } from 'node:fs';
import { readFile, rename, stat, writeFile } from 'node:fs/promises';
import { exemptionThere, exemptionUnwritable } from '../errors/gate-errors.ts';
import type { Configuration, Exemption } from '../plan/configuration.ts';
import { exemptionFileOf } from './exemption-file.ts';
import { insertExemption } from './write-exemption-text.ts';

/**
 * @returns the file that was changed
 * @throws GloamError `exemption-there`, `exemption-unwritable`
 */
export async function writeExemption(configuration: Pick<Configuration, 'file' | 'exempt'>, exemption: Exemption): Promise<string> {
  const same = configuration.exempt.find((other) => scopeOf(other) === scopeOf(exemption));
  if (same !== undefined) throw exemptionThere(exemption.selector, same.why);
  const beside = exemptionFileOf(configuration.file);
  // A JSON configuration whose team already keeps a file beside it goes on doing so.
  const file = configuration.file.endsWith('.json') && !existsSync(beside) ? configuration.file : beside;
  const text = existsSync(file) ? await readFile(file, 'utf8') : '[]\n';
  const changed = insertExemption(file, text, exemption);
  if (changed === null) throw exemptionUnwritable(file, 'its exemptions are no list in plain JSON');
  try {
    const mode = existsSync(file) ? (await stat(file)).mode : 0o666;
    const fresh = `${file}.${String(process.pid)}.new`;
    await writeFile(fresh, changed, { mode, flush: true });
    await rename(fresh, file);
  } catch (error) {
    throw exemptionUnwritable(file, error instanceof Error ? error.message : String(error));
  }
  return file;
}

function scopeOf({ selector, checks, pages, themes, states }: Exemption): string {
  return JSON.stringify([selector, ...[checks, pages, themes, states].map((names) => [...(names ?? [])].sort())]);
}
