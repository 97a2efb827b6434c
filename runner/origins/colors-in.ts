// Computed text → the colours in it, in order: of a shadow list, a gradient, a filter, or one colour alone.
import type { Color } from '../../src/colour/color.ts';
import { findColor } from '../../src/colour/parse-color.ts';

export interface ColorInText {
  /** As it stands there. */
  readonly text: string;
  readonly color: Color;
}

/** Computed colours are functions without functions inside (CSS Color 4 §15); anything else is no colour here. */
const COLOR = /\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color)\([^()]*\)/gu;

export function colorsIn(text: string): readonly ColorInText[] {
  return [...text.matchAll(COLOR)].flatMap(([part]) => {
    const color = findColor(part);
    return color === null ? [] : [{ text: part, color }];
  });
}

export type ColorReader = (text: string) => readonly ColorInText[];

/** A page has thousands of computed values and some hundred that differ. */
export function openColorReader(): ColorReader {
  const known = new Map<string, readonly ColorInText[]>();
  return (text) => {
    let found = known.get(text);
    if (found === undefined) known.set(text, (found = colorsIn(text)));
    return found;
  };
}
