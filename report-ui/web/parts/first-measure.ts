// What was measured beside what is needed, in few digits.
import type { Finding } from '../../api/findings.ts';
import { measureText } from '../words.ts';

/** The first number that was measured, with what was needed where that has the same name. */
export function firstMeasure({ measured, expected }: Finding): string {
  const [name, value] = Object.entries(measured).find(([, candidate]) => typeof candidate === 'number') ?? [];
  if (name === undefined || value === undefined) return '';
  const needed = expected[name];
  return needed === undefined
    ? measureText(name, value)
    : `${measureText(name, value)} / ${measureText(name, needed).replace(/:1$/, '')}`;
}
