// The file of exemptions beside a configuration: a JSON list that tools may write without touching anyone's TypeScript.
import { existsSync } from 'node:fs';
import { z } from 'zod';
import { configInvalid } from '../errors/command-errors.ts';
import type { Exemption } from '../plan/configuration.ts';
import { defined } from './defined.ts';
import { exemptionFileOf } from './exemption-file.ts';
import { readJson } from './read-json.ts';
import { exemption } from './schema.ts';
import { exemptionSelectorFaults } from './selector-faults.ts';
import { schemaFaults } from './schema-faults.ts';

const exemptionFile = z.array(exemption);

/**
 * @returns none when there is no such file
 * @throws GloamError `config-unreadable`, `config-invalid`
 */
export async function readExemptions(configurationFile: string): Promise<readonly Exemption[]> {
  const file = exemptionFileOf(configurationFile);
  if (!existsSync(file)) return [];
  const input = await readJson(file);
  const parsed = exemptionFile.safeParse(input);
  if (!parsed.success) throw configInvalid(file, schemaFaults(exemptionFile, input, parsed.error.issues));
  const rules = parsed.data.map((rule) => defined(rule));
  const wrong = exemptionSelectorFaults(rules, '');
  if (wrong.length > 0) throw configInvalid(file, wrong);
  return rules;
}
