// What a theme could not be compared with its reference: places that are in one of the two views only. Said in the view's notes, since
// checks that compare pass over them in silence.
import type { Sample } from '../samples/sample.ts';
import type { ViewRef } from '../samples/view.ts';

/** Starts such a note: a view that is taken over from an earlier run may carry one of that run. */
export const NOT_COMPARED = 'not compared with ';
/** So many are named. */
const NAMED = 3;

const COMPARED: ReadonlySet<Sample['kind']> = new Set(['text', 'surface', 'graphic']);

interface Seen {
  readonly view: ViewRef;
  readonly samples: readonly Sample[];
}

/**
 * @param group captured views of one page, state and viewport
 * @param theme name of the reference theme
 * @returns a sentence for each view that it can be said of, by the view's id
 */
export function unmatchedNotes(group: readonly Seen[], theme: string): ReadonlyMap<string, string> {
  const reference = group.find(({ view }) => view.theme === theme);
  const known = new Set(reference?.samples.map(placeOf));
  const notes = new Map<string, string>();
  for (const { view, samples } of group) {
    if (view.theme === theme) continue;
    if (reference === undefined) {
      notes.set(
        view.id,
        `${NOT_COMPARED}${theme}: that view was not captured, so flipped, unthemed and separation compare nothing`,
      );
      continue;
    }
    const compared = samples.filter(({ kind }) => COMPARED.has(kind));
    const left = compared.filter((sample) => !known.has(placeOf(sample)));
    if (left.length === 0) continue;
    const names = [...new Set(left.map(({ selector }) => selector))];
    const more = names.length > NAMED ? ' …' : '';
    notes.set(
      view.id,
      `${NOT_COMPARED}${theme}: ${String(left.length)} of ${String(compared.length)} places, which flipped, unthemed and separation could not find there: ${names.slice(0, NAMED).join(', ')}${more}`,
    );
  }
  return notes;
}

function placeOf({ kind, key }: Sample): string {
  return `${kind} ${key}`;
}
