// How many causes there are, in words that say what is counted.
import type { Cause } from '../samples/finding.ts';
import { countCauses } from '../samples/what-counts.ts';
import { count } from './io.ts';

/**
 * `50 causes of 2,097 findings (2 of them cannot be told)`; where findings have none, how many and why.
 * @param all findings of the run that count
 */
export function causeWords(causes: readonly Cause[], all: number): string {
  const { total, unknown, findings } = countCauses(causes);
  const untold = unknown === 0 ? '' : unknown === total ? ' (cannot be told)' : ` (${unknown} of them cannot be told)`;
  const left = all - findings;
  const without =
    left <= 0
      ? ''
      : `; ${count(left, 'more finding')} ${left === 1 ? 'has' : 'have'} none: what token files only note is nobody's fault`;
  return `${count(total, 'cause')} of ${count(findings, 'finding')}${untold}${without}`;
}
