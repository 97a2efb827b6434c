// Values of options: text → what the command needs, or a word on what was expected.
import { InvalidArgumentError } from 'commander';
import { LEVELS } from '../samples/finding.ts';
import { millisecondsOf } from '../plan/duration.ts';
import type { Level } from '../samples/finding.ts';

export function wholeFromOne(text: string): number {
  const n = Number(text);
  if (!Number.isInteger(n) || n < 1) throw new InvalidArgumentError('Expected a whole number from 1 up.');
  return n;
}

export function asPort(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65535) throw new InvalidArgumentError('Expected a port from 0 to 65535.');
  return port;
}

export function asLevel(text: string): Level {
  const level = LEVELS.find((known) => known === text);
  if (level === undefined) throw new InvalidArgumentError(`Expected one of ${LEVELS.join(', ')}.`);
  return level;
}

/** `90s`, `30m`, `1h30m` → ms. */
export function asDuration(text: string): number {
  const ms = millisecondsOf(text);
  if (Number.isNaN(ms)) throw new InvalidArgumentError('Expected a time such as 90s, 30m or 1h30m.');
  return ms;
}

/** `2/5`: the second of five parts. */
export function asPart(text: string): { readonly index: number; readonly of: number } {
  const [index = NaN, of = NaN] = /^\d+\/\d+$/.test(text) ? text.split('/').map(Number) : [];
  if (!(index >= 1 && index <= of)) throw new InvalidArgumentError('Expected K/N with K from 1 to N, e.g. 2/5.');
  return { index, of };
}
