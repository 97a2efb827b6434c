// Numbers, names and lists in plain English, for verdicts.
import type { Cause, CheckId, Level } from '../samples/finding.ts';

/** `1 view`, `3 views`, `1,998 views`. */
export function counted(n: number, one: string, many = `${one}s`): string {
  return `${n.toLocaleString('en-GB')} ${n === 1 ? one : many}`;
}

/** 0–1 → `97.4 %`; rounded down, so that what is shown never claims more than there is. */
export function percent(share: number): string {
  return `${(Math.floor(share * 1000 + 1e-9) / 10).toLocaleString('en-GB', { minimumFractionDigits: 1 })} %`;
}

/** `a, b and c`, `a, b and 4 more`. */
export function listed(items: readonly string[], most = 3): string {
  const shown = items.length > most ? [...items.slice(0, most), counted(items.length - most, 'more', 'more')] : items;
  return shown.length < 2 ? shown.join('') : `${shown.slice(0, -1).join(', ')} and ${shown.at(-1) ?? ''}`;
}

/** `Text contrast`, `Text contrast, errors`, `All checks, notes`. @param check `*` stands for all */
export function checkTitle(check: CheckId, level?: Level): string {
  const words = check === '*' ? 'all checks' : check.replaceAll('-', ' ');
  const title = words.charAt(0).toUpperCase() + words.slice(1);
  return level === undefined ? title : `${title}, ${level}s`;
}

/**
 * What a cause is about, in few words: `mist.600` (a step or token with a wrong value), `color of .needle` (a use), `filter of html` (a
 * style), `mark.faint on face.card` (a pair no token serves); without a repair the place, or the step, token or property that is known.
 */
export function causeSubject({ step, token, property, repair, place, chain }: Cause): string | null {
  switch (repair?.change) {
    case 'value':
    case 'alias':
    case 'rebuild':
      return repair.of;
    case 'use':
      return property === undefined ? repair.of : `${property} of ${repair.of}`;
    case 'style':
      return `${repair.style.property} of ${repair.of}`;
    case 'add':
      return repair.from === '' ? repair.of : `${repair.from} on ${repair.of}`;
    case undefined:
      if (place !== undefined) return chain[0]?.property === undefined ? place : `${chain[0].property} of ${place}`;
      return step ?? token ?? property ?? null;
  }
}

/** `ramp: mist.600`, `usage: color of .needle`. */
export function causeTitle(cause: Cause): string {
  const subject = causeSubject(cause);
  return subject === null ? cause.layer : `${cause.layer}: ${subject}`;
}
