// Properties that hold colours: which shorthands set them, and which pass from parent to child. In the page and in Node.

/** Shorthands that set a property, besides itself. */
export const SHORTHANDS: Readonly<Record<string, readonly string[]>> = {
  'background-color': ['background'],
  'background-image': ['background'],
  'border-top-color': edge('top', 'block', 'start'),
  'border-right-color': edge('right', 'inline', 'end'),
  'border-bottom-color': edge('bottom', 'block', 'end'),
  'border-left-color': edge('left', 'inline', 'start'),
  'outline-color': ['outline'],
};

/** Physical and logical ones, those of one edge and those of several. */
function edge(side: string, axis: string, end: string): readonly string[] {
  const logical = [`border-${axis}`, `border-${axis}-${end}`, `border-${axis}-color`, `border-${axis}-${end}-color`];
  return ['border', `border-${side}`, 'border-color', ...logical];
}

const INHERITED = new Set(['color', 'fill', 'stroke', 'text-shadow', '-webkit-text-fill-color', 'caret-color']);

export function isInherited(property: string): boolean {
  return property.startsWith('--') || INHERITED.has(property);
}

/**
 * Takes what is around the element: `unset` where the property passes on, and as an ink `currentcolor` does so too (CSS Cascade 5 §7.3.3,
 * CSS Color 4 §6.2). @param value with its `important`, or without
 */
export function isHandedOn(property: string, value: string): boolean {
  const [word = ''] = value.trim().toLowerCase().split(/[\s!]/u);
  return word === 'inherit' || (word === 'unset' && isInherited(property)) || (word === 'currentcolor' && property === 'color');
}

/** A border or outline without a colour of its own takes the ink. */
export function takesInkUnset(property: string): boolean {
  return /^(?:border|outline)/u.test(property);
}

/** Those that an attribute of a drawing may set, which counts less than any rule of the page (SVG 2 §6.6). */
export const ATTRIBUTES: readonly string[] = ['color', 'fill', 'stroke'];

/** Names of the custom properties that a value refers to, in its order. */
export function namesIn(value: string): readonly string[] {
  return [...value.matchAll(/var\(\s*(--[^\s,)]+)/gu)].flatMap(([, name]) => name ?? []);
}
