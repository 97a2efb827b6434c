// Selectors of samples, taken apart.

/** Of the element itself, not of those around it. */
export function lastPart(selector: string): string {
  return selector.split(/[\s>+~]+/u).at(-1) ?? '';
}

/** Without the places among siblings. */
export function uncounted(selector: string): string {
  return selector.replace(/:nth-of-type\(\d+\)/gu, '');
}

/** The canvas has the root's background, or would have if the root had one (CSS Backgrounds 3 §2.11.1). */
export const CANVAS = 'html';
