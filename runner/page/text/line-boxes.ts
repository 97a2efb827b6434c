// Boxes of text on the page, cut to what ancestors leave of them.
import { dom } from '../dom.ts';
import type { Box, Entry, Scene } from '../scene/scene.ts';
import { cut } from '../scene/scene.ts';
import type { WireRect } from '../wire/wire.ts';

/** A single pixel shows no glyph (the pattern for text meant for screen readers only). */
const LEAST_CSS_PX = 1.5;

/** Line boxes of a text node. */
export function lineBoxes(node: Node, entry: Entry, scene: Scene): WireRect[] {
  const range = dom(entry.shown.document).createRange();
  range.selectNodeContents(node);
  const clip = clipOf(entry.inside.flow, scene);
  const boxes: WireRect[] = [];
  for (const r of range.getClientRects()) add(boxes, clip, shift(r, entry));
  return boxes;
}

/** The content box of a control, where its text is. */
export function contentBoxes(entry: Entry, scene: Scene): WireRect[] {
  const { el, style } = entry;
  const r = dom(el).getBoundingClientRect();
  const html = el instanceof entry.shown.window.HTMLElement ? el : null;
  const sx = html !== null && dom(html).offsetWidth > 0 ? r.width / dom(html).offsetWidth : 1;
  const sy = html !== null && dom(html).offsetHeight > 0 ? r.height / dom(html).offsetHeight : 1;
  const side = (padding: string, border: string, scale: number): number => (parseFloat(padding) + parseFloat(border)) * scale;
  const box: Box = {
    left: r.left + entry.shown.dx + side(style.paddingLeft, style.borderLeftWidth, sx),
    top: r.top + entry.shown.dy + side(style.paddingTop, style.borderTopWidth, sy),
    right: r.right + entry.shown.dx - side(style.paddingRight, style.borderRightWidth, sx),
    bottom: r.bottom + entry.shown.dy - side(style.paddingBottom, style.borderBottomWidth, sy),
  };
  const boxes: WireRect[] = [];
  add(boxes, clipOf(entry.clip, scene), box);
  return boxes;
}

/** The element's own box. */
export function borderBoxes(entry: Entry, scene: Scene): WireRect[] {
  const boxes: WireRect[] = [];
  add(boxes, clipOf(entry.clip, scene), shift(dom(entry.el).getBoundingClientRect(), entry));
  return boxes;
}

/** Boxes in the coordinates of the entry's document. */
export function cutBoxes(rects: readonly WireRect[], entry: Entry, scene: Scene): WireRect[] {
  const clip = clipOf(entry.inside.flow, scene);
  const boxes: WireRect[] = [];
  const { dx, dy, window: view } = entry.shown;
  for (const [x, y, width, height] of rects) {
    const left = x - view.scrollX + dx;
    const top = y - view.scrollY + dy;
    add(boxes, clip, { left, top, right: left + width, bottom: top + height });
  }
  return boxes;
}

function clipOf(clip: Box, scene: Scene): Box {
  return cut(clip, { left: 0, top: 0, right: scene.width, bottom: scene.height });
}

function shift(r: DOMRect, entry: Entry): Box {
  const { dx, dy } = entry.shown;
  return { left: r.left + dx, top: r.top + dy, right: r.right + dx, bottom: r.bottom + dy };
}

function add(boxes: WireRect[], clip: Box, box: Box): void {
  const seen = cut(clip, box);
  const width = seen.right - seen.left;
  const height = seen.bottom - seen.top;
  if (width > LEAST_CSS_PX && height > LEAST_CSS_PX) boxes.push([round(seen.left), round(seen.top), round(width), round(height)]);
}

/** Layout works in 1/64 px; more digits only cost time on the way. */
const round = (v: number): number => Math.round(v * 64) / 64;
