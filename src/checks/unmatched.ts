// What a theme could not be compared with its reference: places that are in one of the two views only. Said in the view's notes, since
// checks that compare pass over them in silence.
import type { Note } from '../samples/note.ts';
import type { Sample } from '../samples/sample.ts';
import type { ViewRef } from '../samples/view.ts';
import { kindAndKey } from './recoloured.ts';

/** So many are named. */
const NAMED = 3;

const COMPARED: ReadonlySet<Sample['kind']> = new Set(['text', 'surface', 'graphic']);

interface ViewSamples {
  readonly view: ViewRef;
  readonly samples: readonly Sample[];
}

/**
 * @param group captured views of one page, state and viewport
 * @param theme name of the reference theme
 * @returns a note for each view that it can be said of, by the view's id
 */
export function unmatchedNotes(group: readonly ViewSamples[], theme: string): ReadonlyMap<string, Note> {
  const reference = group.find(({ view }) => view.theme === theme);
  const known = new Set(reference?.samples.map(kindAndKey));
  const notes = new Map<string, Note>();
  for (const { view, samples } of group) {
    if (view.theme === theme) continue;
    if (reference === undefined) {
      notes.set(view.id, { code: 'no-reference', data: { reference: theme } });
      continue;
    }
    const compared = samples.filter(({ kind }) => COMPARED.has(kind));
    const left = compared.filter((sample) => !known.has(kindAndKey(sample)));
    if (left.length === 0) continue;
    const names = [...new Set(left.map(({ selector }) => selector))];
    const counts = { places: left.length, of: compared.length, selectors: names.length };
    notes.set(view.id, { code: 'not-compared', data: { reference: theme, ...counts, first: names.slice(0, NAMED) } });
  }
  return notes;
}
