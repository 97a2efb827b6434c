// CSS property → what a colour in it is used for. Properties that take no colour, or one that is never seen (masks), have none.
import type { Role } from '../tokens/roles.ts';

/** First match counts. Which properties take `<color>` or `<image>`: CSS Color 4 and the modules that define them. */
const ROLES: readonly (readonly [RegExp, Role])[] = [
  [/^(color|text-fill-color|caret(-color)?|text-decoration(-color)?|text-emphasis(-color)?|text-stroke(-color)?)$/, 'ink'],
  [/^(background(-color|-image)?|tap-highlight-color)$/, 'surface'],
  [/^(border|outline|column-rule|row-rule|rule)(-.*)?$/, 'edge'],
  [/^(fill|stroke|stroke-color|fill-color|accent-color|stop-color|flood-color|lighting-color)$/, 'glyph'],
  [/^(scrollbar-color|list-style(-image)?|border-image-source)$/, 'glyph'],
  [/^(box-shadow|text-shadow|filter|backdrop-filter)$/, 'shadow'],
];

/** Of those families the members that take lengths, keywords and numbers only. */
const COLOURLESS = /-(width|style|radius|spacing|collapse|offset|repeat|slice|outset|inset|break|shape)$/;

/** @param property as written; vendor prefixes and capitals make no difference */
export function propertyRole(property: string): Role | null {
  const name = property.toLowerCase().replace(/^-(webkit|moz|ms|o)-/, '');
  if (COLOURLESS.test(name)) return null;
  return ROLES.find(([matches]) => matches.test(name))?.[1] ?? null;
}
