// Custom properties as a view serves them → those that hold for all of the page: what the root has, and what `body` sets anew.
import type { PageProperty } from '../../samples/captured-view.ts';

/** Themes that are a class of `body` declare their colours there. */
const WIDE: readonly string[] = ['html', 'html > body'];

/** Each name once, with the value that elements of the page inherit. */
export function pageWide(properties: readonly PageProperty[]): ReadonlyMap<string, string> {
  return new Map(
    WIDE.flatMap((place) => properties.flatMap(({ name, value, at }) => (at === place ? [[name, value] as const] : []))),
  );
}
