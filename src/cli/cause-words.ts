// How many causes there are, in words that say what is counted.
import type { Cause } from '../samples/finding.ts';
import { countCauses } from '../samples/what-counts.ts';
import { count } from './io.ts';

/** `50 causes of 2,097 findings (2 of them cannot be told)` */
export function causeWords(causes: readonly Cause[]): string {
  const { total, unknown, findings } = countCauses(causes);
  const untold = unknown === 0 ? '' : unknown === total ? ' (cannot be told)' : ` (${unknown} of them cannot be told)`;
  return `${count(total, 'cause')} of ${count(findings, 'finding')}${untold}`;
}
