// The checks as a configuration wants them: those that are on, with their options.
import type { ContrastLevel } from '../colour/text-requirement.ts';
import type { CheckId } from '../samples/finding.ts';
import type { GivenOptions, Judge } from './check.ts';
import { ALL_CHECKS } from './table.ts';

/** `off` or options, by check; validated by `optionFaults`. */
export type ConfiguredChecks = Readonly<Record<CheckId, 'off' | Readonly<Record<string, unknown>>>>;

/** In the order of the table. */
export function judgesFor(checks: ConfiguredChecks): readonly Judge[] {
  return ALL_CHECKS.flatMap((check) => {
    const options = checks[check.id] ?? {};
    return options === 'off' ? [] : [check.with(plain(options))];
  });
}

/** Which contrast is asked of text: an option of the check that finds what falls short of it. */
export function levelOf(checks: ConfiguredChecks): ContrastLevel {
  const options = checks['text-contrast'];
  return options !== undefined && options !== 'off' && options['level'] === 'AAA' ? 'AAA' : 'AA';
}

function plain(options: Readonly<Record<string, unknown>>): GivenOptions {
  return Object.fromEntries(
    Object.entries(options).filter((entry): entry is [string, number | string] => ['number', 'string'].includes(typeof entry[1])),
  );
}
