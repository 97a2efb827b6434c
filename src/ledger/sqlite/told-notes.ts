// Notes of stores that a version before 005-note-codes wrote: sentences. Those by which something was decided get their codes; the
// others are kept in their own words. Frozen with that migration: no note is told by its words anywhere else.
import type { Note } from '../../samples/note.ts';

type Reading = readonly [pattern: RegExp, read: (...parts: readonly string[]) => Note];

const READINGS: readonly Reading[] = [
  [/^the page never finished loading$/, () => ({ code: 'never-loaded', data: {} })],
  [/^no answer yet: (.*)$/s, (at = '') => ({ code: 'no-answer', at, data: {} })],
  [/^animations that start again and again$/, () => ({ code: 'animated-again', data: {} })],
  [/^picture still loading: (.*)$/s, (at = '') => ({ code: 'picture-loading', at, data: {} })],
  [/^fonts still loading$/, () => ({ code: 'fonts-loading', data: {} })],
  [/^(.*) keeps changing$/s, (at = '') => ({ code: 'keeps-changing', at, data: {} })],
  [/^unsteady: only .* came; before: (.*)$/s, (errors = '') => ({ code: 'retried', data: { errors: errors.split('; ') } })],
  [
    /^switched in place the theme shows otherwise than on a fresh load \((.*)\): /s,
    (difference = '') => ({ code: 'left-behind', data: { difference } }),
  ],
  [/^not compared with (.*?): that view was not/s, (reference = '') => ({ code: 'no-reference', data: { reference } })],
  [/^not compared with (.*?): (\d+) of (\d+) places,.* find there: (.*?)(?: …)?$/s, notCompared],
];

function notCompared(reference = '', places = '', of = '', names = ''): Note {
  const first = names.split(', ');
  return { code: 'not-compared', data: { reference, places: Number(places), of: Number(of), selectors: first.length, first } };
}

/** @param text JSON list of sentences @returns JSON list of notes */
export function codedNotes(text: string): string {
  const said: unknown = JSON.parse(text);
  return JSON.stringify(Array.isArray(said) ? said.map(String).map(codedNote) : []);
}

function codedNote(text: string): Note {
  for (const [pattern, read] of READINGS) {
    const found = pattern.exec(text);
    if (found !== null) return read(...found.slice(1));
  }
  return { code: 'told', data: { text } };
}
