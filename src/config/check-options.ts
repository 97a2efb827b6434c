// Options of checks in a configuration, held against the parameters each check declares.
import type { FileFault } from '../errors/command-errors.ts';
import type { CheckOptions } from '../plan/configuration.ts';
import type { CheckId } from '../samples/finding.ts';

export function checkOptionFaults(_checks: Readonly<Partial<Record<CheckId, 'off' | CheckOptions>>>): readonly FileFault[] {
  return [];
}
