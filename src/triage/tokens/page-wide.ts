// Custom properties as a view serves them → those that hold for all of the page: what the root has, and what `body`, or an element that
// nearly all of the page lies in, sets anew.
import type { PageProperty } from '../../samples/captured-view.ts';

/** Themes that are a class of `body` declare their colours there. */
const WIDE: readonly string[] = ['html', 'html > body'];

/** Each name once, with the value that elements of the page inherit. */
export function pageWide(properties: readonly PageProperty[]): ReadonlyMap<string, string> {
  const onRoots = WIDE.flatMap((place) => properties.filter(({ at }) => at === place));
  const around = properties.filter(({ at, wide }) => wide === true && !WIDE.includes(at));
  return new Map([...onRoots, ...around].map(({ name, value }) => [name, value]));
}

/** Those that a view names but does not declare, each with the colour that all its uses fall back to. */
export function standIns(properties: readonly PageProperty[]): ReadonlyMap<string, string> {
  return new Map(properties.flatMap(({ name, value, at }) => (at === '' ? [[name, value] as const] : [])));
}
