// Options of checks as written in a configuration, held against the parameters each check declares.
import type { FileFault } from '../errors/command-errors.ts';
import type { Parameter, Parameters } from './check.ts';
import { ALL_CHECKS } from './table.ts';

/** @param elsewhere parameters of checks that other parts make, by name
 * @param checks check name → `off` or its options, as the configuration has them */
export function optionFaults(
  checks: Readonly<Record<string, 'off' | Readonly<Record<string, unknown>>>>,
  elsewhere: Readonly<Record<string, Parameters>> = {},
): readonly FileFault[] {
  return Object.entries(checks).flatMap(([id, options]) => {
    if (options === 'off') return [];
    const parameters = ALL_CHECKS.find((one) => one.id === id)?.parameters ?? elsewhere[id] ?? {};
    return Object.entries(options).flatMap(([name, value]) => faultOf(parameters, `checks.${id}`, name, value) ?? []);
  });
}

function faultOf(parameters: Parameters, at: string, name: string, value: unknown): FileFault | null {
  const names = Object.keys(parameters);
  const parameter = parameters[name];
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
