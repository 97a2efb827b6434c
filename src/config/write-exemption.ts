// Adds an exemption to a JSON configuration, or to the file of exemptions beside one in TypeScript or JavaScript, and reads it back.
import { existsSync } from 'node:fs';
import { readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { exemptionThere, exemptionUnwritable } from '../errors/gate-errors.ts';
import type { Configuration, Exemption } from '../plan/configuration.ts';
import { exemptionFileOf } from './exemption-file.ts';
import { readConfiguration } from './read-configuration.ts';
import { insertExemption } from './write-exemption-text.ts';

/**
 * @param covers whether the configuration, as it is read after writing, covers what the exemption is for; where it does not, the
 *   file is put back as it was
 * @returns the file that was changed
 * @throws GloamError `exemption-there`, `exemption-unwritable`
 */
export async function writeExemption(
  configuration: Pick<Configuration, 'file' | 'folder' | 'exempt'>,
  exemption: Exemption,
  covers: (read: Configuration) => boolean,
): Promise<string> {
  const same = configuration.exempt.find((other) => scopeOf(other) === scopeOf(exemption));
  if (same !== undefined) throw exemptionThere(exemption.selector, same.why);
  const beside = exemptionFileOf(configuration.file);
  // A JSON configuration whose team already keeps a file beside it goes on doing so.
  const file = configuration.file.endsWith('.json') && !existsSync(beside) ? configuration.file : beside;
  const before = existsSync(file) ? await readFile(file, 'utf8') : null;
  const changed = insertExemption(file, before ?? '[]\n', exemption);
  if (changed === null) throw exemptionUnwritable(file, 'its exemptions are no list in plain JSON');
  try {
    await replaceFile(file, changed);
  } catch (error) {
    throw exemptionUnwritable(file, error instanceof Error ? error.message : String(error));
  }
  const fault = await faultOf(configuration, covers);
  if (fault === null) return file;
  await (before === null ? rm(file) : replaceFile(file, before));
  throw exemptionUnwritable(file, fault);
}

/** @returns why what was written does not do what it is for; null when it does */
async function faultOf(
  { file, folder }: Pick<Configuration, 'file' | 'folder'>,
  covers: (read: Configuration) => boolean,
): Promise<string | null> {
  try {
    return covers(await readConfiguration({ folder, file })) ? null : 'read back, it does not cover the finding';
  } catch (error) {
    return `read back, the configuration is not valid: ${error instanceof Error ? error.message : String(error)}`;
  }
}

async function replaceFile(file: string, text: string): Promise<void> {
  const mode = existsSync(file) ? (await stat(file)).mode : 0o666;
  const fresh = `${file}.${String(process.pid)}.new`;
  await writeFile(fresh, text, { mode, flush: true });
  await rename(fresh, file);
}

function scopeOf({ selector, checks, faults, pages, themes, states }: Exemption): string {
  return JSON.stringify([selector, ...[checks, faults, pages, themes, states].map((names) => [...(names ?? [])].sort())]);
}
