// The edge that a field is told by: a border or a ring of its own, or what is built closely around it.
import { isLine, LEAST_LINE, parseShadowList } from '../css-lists.ts';
import type { WrittenShadow } from '../css-lists.ts';
import { dom } from '../dom.ts';
import { bordersOf } from './areas.ts';
import { isTransparent } from './colors.ts';
import { borderBox } from './places.ts';
import type { Entry, Scene } from '../scene/scene.ts';
import type { WireGraphic } from '../wire/places.ts';

export const FIELDS =
  'input:not([type=hidden], [type=checkbox], [type=radio], [type=range], [type=button], [type=submit], [type=reset], [type=image], [type=color], [type=file]), select, textarea, [role=textbox], [role=searchbox], [role=combobox], [role=spinbutton]';

/** CSS px between a field and its frame, above and below; beside it an icon or a button may stand (ours). */
const CLOSE = 20;
/** Elements from a field up to its frame (ours: a label, an icon and a field lie in one or two boxes). */
const MOST_UP = 3;
/** CSS px; a line that is wider covers what is around rather than drawing an edge (ours: wide focus rings take 4 to 6). */
const MOST_REACH = 16;

/** Borders, outlines, lines of the background, and those that a shadow without blur draws. */
export function edgesOf(style: CSSStyleDeclaration): WireGraphic['paints'] {
  const isOuterOutline = Number.parseFloat(style.outlineOffset) >= 0;
  const borders = bordersOf(style).map((paint) =>
    paint.property === 'outline-color' && isOuterOutline ? { ...paint, outer: true as const } : paint,
  );
  const lines = shadowLines(style).map(({ color, inset }) => ({
    property: 'box-shadow',
    color,
    ...(inset ? {} : { outer: true as const }),
  }));
  return [...borders, ...lines];
}

function shadowLines({ boxShadow }: CSSStyleDeclaration): readonly WrittenShadow[] {
  if (boxShadow === 'none') return [];
  return parseShadowList(boxShadow).filter((line) => isLine(line) && !isTransparent(line.color));
}

/** @returns CSS px by which its outline and the lines of its shadows reach beyond the border box */
export function reachOf(style: CSSStyleDeclaration): number {
  const hasOutline = style.outlineStyle !== 'none' && !isTransparent(style.outlineColor);
  const outline = hasOutline ? Number.parseFloat(style.outlineWidth) + Number.parseFloat(style.outlineOffset) : 0;
  const lines = shadowLines(style).map(({ inset, x, y, spread }) => (inset ? 0 : spread + Math.max(Math.abs(x), Math.abs(y))));
  return Math.max(0, ...[outline, ...lines].filter((reach) => reach <= MOST_REACH));
}

/** Fields without an edge of their own, by the frame that shows where they are. */
export function framesOf({ entries }: Scene): ReadonlyMap<Entry, Entry> {
  const bare = entries.filter(
    (entry) => entry.visible && mayBeField(entry.el) && dom(entry.el).matches(FIELDS) && edgesOf(entry.style).length === 0,
  );
  if (bare.length === 0) return new Map();
  const entryOf = new Map(entries.map((entry) => [entry.el, entry]));
  return new Map(
    bare.flatMap((field) => {
      const frame = frameOf(field, entryOf);
      return frame === null ? [] : [[frame, field] as const];
    }),
  );
}

const TAGS = new Set(['input', 'select', 'textarea']);

/** Quick, for the thousands that are none. */
export function mayBeField(el: Element): boolean {
  return TAGS.has(dom(el).localName) || dom(el).hasAttribute('role');
}

function frameOf(field: Entry, entryOf: ReadonlyMap<Element, Entry>): Entry | null {
  let at = field.up;
  for (let up = 0; up < MOST_UP && at !== null; up += 1) {
    if (!isCloseAround(at, field)) return null;
    // A cell is told from its neighbours, whatever it holds; a frame around several tells none of them.
    if (dom(at.el).matches('td, th') || fieldsIn(at.el) > 1) return null;
    if (isClosed(at.style)) return at;
    // An outline with a gap for the label is laid over the field.
    for (const child of dom(at.el).children) {
      const over = entryOf.get(child);
      if (over?.own.position === 'absolute' && isCloseAround(over, field) && isClosed(over.style)) return over;
    }
    at = at.up;
  }
  return null;
}

/** A line below a row with a field in it, as at the head of a search, is no frame. */
function isClosed(style: CSSStyleDeclaration): boolean {
  const { borderTopWidth, borderRightWidth, borderBottomWidth, borderLeftWidth, boxShadow } = style;
  const widths = [borderTopWidth, borderRightWidth, borderBottomWidth, borderLeftWidth];
  if (bordersOf(style).length > 0 && widths.every((width) => Number.parseFloat(width) >= LEAST_LINE)) return true;
  return (
    boxShadow !== 'none' &&
    parseShadowList(boxShadow).some((line) => isLine(line) && line.spread >= LEAST_LINE && !isTransparent(line.color))
  );
}

/** A list box made by script keeps a hidden field beside the one that is seen. */
function fieldsIn(el: Element): number {
  return [...dom(el).querySelectorAll(FIELDS)].filter((field) => dom(field).getAttribute('aria-hidden') !== 'true').length;
}

function isCloseAround(frame: Entry, field: Entry): boolean {
  const [outer, inner] = [borderBox(frame), borderBox(field)];
  const isAround = outer.left <= inner.left && outer.right >= inner.right && outer.top <= inner.top && outer.bottom >= inner.bottom;
  return isAround && inner.top - outer.top <= CLOSE && outer.bottom - inner.bottom <= CLOSE;
}
