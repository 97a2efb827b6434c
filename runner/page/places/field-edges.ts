// The edge that a field is told by: a border or a ring of its own, or what is built closely around it.
import { parseShadowList } from '../css-lists.ts';
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
/** CSS px; thinner lines are not seen. */
const LEAST_LINE = 0.5;

/** Borders, and lines that a shadow without blur draws. */
export function edgesOf(style: CSSStyleDeclaration): WireGraphic['paints'] {
  const { boxShadow } = style;
  if (boxShadow === 'none') return bordersOf(style);
  const lines = parseShadowList(boxShadow).filter(
    ({ x, y, blur, spread, color }) =>
      blur === 0 && Math.max(spread, Math.abs(x), Math.abs(y)) >= LEAST_LINE && !isTransparent(color),
  );
  return [...bordersOf(style), ...lines.map(({ color }) => ({ property: 'box-shadow', color }))];
}

/** Fields without an edge of their own, by the frame that shows where they are. */
export function framesOf({ entries }: Scene): ReadonlyMap<Entry, Entry> {
  const frames = new Map<Entry, Entry>();
  for (const entry of entries) {
    if (!entry.visible || !mayBeField(entry.el) || !dom(entry.el).matches(FIELDS) || edgesOf(entry.style).length > 0) continue;
    const frame = frameOf(entry);
    if (frame !== null) frames.set(frame, entry);
  }
  return frames;
}

const TAGS = new Set(['input', 'select', 'textarea']);

/** Quick, for the thousands that are none. */
export function mayBeField(el: Element): boolean {
  return TAGS.has(dom(el).localName) || dom(el).hasAttribute('role');
}

function frameOf(field: Entry): Entry | null {
  const { top, bottom } = borderBox(field);
  let at = field.up;
  for (let up = 0; up < MOST_UP && at !== null; up += 1) {
    const box = borderBox(at);
    if (top - box.top > CLOSE || box.bottom - bottom > CLOSE) return null;
    // A cell is told from its neighbours, whatever it holds; a frame around several tells none of them.
    if (dom(at.el).matches('td, th') || dom(at.el).querySelectorAll(FIELDS).length > 1) return null;
    if (edgesOf(at.style).length > 0) return at;
    at = at.up;
  }
  return null;
}
