// Boxes of elements and of their pseudo-elements, page coordinates, cut to what overflow leaves of them.
import { dom } from '../dom.ts';
import type { Box, Entry } from '../scene/scene.ts';
import { cut } from '../scene/scene.ts';
import type { WireRect } from '../wire/wire.ts';

export type Pseudo = '::before' | '::after';

export function borderBox({ el, shown }: Entry): Box {
  const r = dom(el).getBoundingClientRect();
  return { left: r.left + shown.dx, top: r.top + shown.dy, right: r.right + shown.dx, bottom: r.bottom + shown.dy };
}

const generated = new WeakMap<Entry, Partial<Record<Pseudo, CSSStyleDeclaration | null>>>();

/** Style of a pseudo-element that is there and visible, else null. */
export function generatedStyle(entry: Entry, which: Pseudo): CSSStyleDeclaration | null {
  const known = generated.get(entry) ?? {};
  const have = known[which];
  if (have !== undefined) return have;
  const style = entry.shown.window.getComputedStyle(entry.el, which);
  const { content } = style;
  const there = content !== 'none' && content !== 'normal' && style.display !== 'none' && style.visibility === 'visible';
  known[which] = there ? style : null;
  generated.set(entry, known);
  return known[which] ?? null;
}

/** What is left of a box inside a clip; null when nothing to speak of. */
export function visiblePart(box: Box, clip: Box): WireRect | null {
  const { left, top, right, bottom } = cut(box, clip);
  return right - left < 1 || bottom - top < 1 ? null : [left, top, right - left, bottom - top];
}

export function toRect({ left, top, right, bottom }: Box): WireRect {
  return [left, top, right - left, bottom - top];
}

const px = (text: string): number => Number.parseFloat(text) || 0;

/**
 * Border box of a pseudo-element. Browsers do not tell it; it follows from used values: offsets for positioned ones, the edge
 * of the content box for those in flow. Transforms other than a translation are left out.
 */
export function pseudoBox(entry: Entry, which: Pseudo, style: CSSStyleDeclaration): Box | null {
  const [width, height] = pseudoSize(style);
  if (width < 1 || height < 1) return null;
  const inFlow = style.position === 'static' || style.position === 'relative';
  const from = inFlow ? flowCorner(entry, which, style, width, height) : positionedCorner(entry, style);
  if (from === null) return null;
  const [dx, dy] = translation(style);
  const left = from[0] + dx + (style.position === 'relative' ? px(style.left) : 0);
  const top = from[1] + dy + (style.position === 'relative' ? px(style.top) : 0);
  return { left, top, right: left + width, bottom: top + height };
}

function pseudoSize(style: CSSStyleDeclaration): readonly [number, number] {
  if (style.display === 'inline' && style.position !== 'absolute' && style.position !== 'fixed') return [0, 0];
  if (style.boxSizing === 'border-box') return [px(style.width), px(style.height)];
  const across = [style.paddingLeft, style.paddingRight, style.borderLeftWidth, style.borderRightWidth];
  const down = [style.paddingTop, style.paddingBottom, style.borderTopWidth, style.borderBottomWidth];
  const sum = (parts: readonly string[]): number => parts.reduce((total, part) => total + px(part), 0);
  return [px(style.width) + sum(across), px(style.height) + sum(down)];
}

function positionedCorner(entry: Entry, style: CSSStyleDeclaration): readonly [number, number] | null {
  let holder: Entry | null = entry;
  while (holder !== null && !holdsAbsolute(holder)) holder = holder.up;
  if (style.position === 'fixed' || holder === null) return [px(style.left) + entry.shown.dx, px(style.top) + entry.shown.dy];
  const box = borderBox(holder);
  const x = box.left + dom(holder.el).clientLeft + px(style.left) + px(style.marginLeft);
  const y = box.top + dom(holder.el).clientTop + px(style.top) + px(style.marginTop);
  return [x, y];
}

function holdsAbsolute({ style }: Entry): boolean {
  return style.position !== 'static' || style.transform !== 'none' || style.filter !== 'none';
}

function flowCorner(
  entry: Entry,
  which: Pseudo,
  style: CSSStyleDeclaration,
  width: number,
  height: number,
): readonly [number, number] | null {
  const box = borderBox(entry);
  const own = entry.style;
  const left = box.left + px(own.borderLeftWidth) + px(own.paddingLeft);
  const top = box.top + px(own.borderTopWidth) + px(own.paddingTop);
  const right = box.right - px(own.borderRightWidth) - px(own.paddingRight);
  const bottom = box.bottom - px(own.borderBottomWidth) - px(own.paddingBottom);
  const block = style.display === 'block' || style.display === 'flex' || style.display === 'grid';
  const row = own.display.includes('flex') && !own.flexDirection.startsWith('column');
  if (which === '::before')
    return [left + px(style.marginLeft), row ? middle(own, top, bottom, height) : top + px(style.marginTop)];
  if (block && !row) return [left + px(style.marginLeft), bottom - height - px(style.marginBottom)];
  return [right - width - px(style.marginRight), row ? middle(own, top, bottom, height) : bottom - height];
}

function middle(own: CSSStyleDeclaration, top: number, bottom: number, height: number): number {
  return own.alignItems === 'center' ? (top + bottom - height) / 2 : top;
}

/** `matrix(a, b, c, d, tx, ty)` of a plain translation. */
function translation(style: CSSStyleDeclaration): readonly [number, number] {
  const parts = /^matrix\(1, 0, 0, 1, ([^,]+), ([^)]+)\)$/u.exec(style.transform);
  return parts === null ? [0, 0] : [px(parts[1] ?? ''), px(parts[2] ?? '')];
}
