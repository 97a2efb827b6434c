// Options of checks as written in a configuration, held against the parameters each check declares.
import type { FileFault } from '../errors/command-errors.ts';
import type { Check, Parameter } from './check.ts';
import { ALL_CHECKS } from './table.ts';

/** @param checks check name → `off` or its options, as the configuration has them */
export function optionFaults(checks: Readonly<Record<string, 'off' | Readonly<Record<string, unknown>>>>): readonly FileFault[] {
  return Object.entries(checks).flatMap(([id, options]) => {
    if (options === 'off') return [];
    const check = ALL_CHECKS.find((one) => one.id === id);
    return Object.entries(options).flatMap(([name, value]) => faultOf(check, `checks.${id}`, name, value) ?? []);
  });
}

function faultOf(check: Check | undefined, at: string, name: string, value: unknown): FileFault | null {
  const names = Object.keys(check?.parameters ?? {});
  const parameter = check?.parameters[name];
  if (parameter === undefined) {
    const expected = names.length === 0 ? '"off" or {}; this check has no options' : `one of ${names.join(', ')}`;
    return { at, found: `option "${name}"`, expected };
  }
  return fits(parameter, value) ? null : { at: `${at}.${name}`, found: JSON.stringify(value), expected: wanted(parameter) };
}

function fits(parameter: Parameter, value: unknown): boolean {
  if ('choices' in parameter) return typeof value === 'string' && parameter.choices.includes(value);
  return typeof value === 'number' && value >= parameter.min && value <= parameter.max;
}

function wanted(parameter: Parameter): string {
  if ('choices' in parameter) return parameter.choices.map((choice) => `"${choice}"`).join(' or ');
  return `a number from ${String(parameter.min)} to ${String(parameter.max)} (${parameter.unit}; default ${String(parameter.default)})`;
}
