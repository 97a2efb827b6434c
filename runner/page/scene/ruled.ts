// Which configured selectors find anything at all in the page: one that never does is a slip, and is told.
import { find } from './targets.ts';

/** @returns those of them that match an element of the page, of its frames or of open shadow trees */
export function ruled(selectors: readonly string[]): readonly string[] {
  return selectors.filter((selector) => find(selector).length > 0);
}
