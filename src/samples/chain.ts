// The custom properties by which a colour came, as far as dyes told them.
import type { Origin } from './paint.ts';

/** @returns outermost first: what the declaration takes, the first property of the whole page behind it, the step at the end */
export function chainOf({ property, pageWide, step }: Extract<Origin, { readonly kind: 'token' }>): readonly string[] {
  return [property, pageWide, step].filter((name) => name !== undefined);
}
