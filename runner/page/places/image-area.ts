// Where the background images of an element are painted, when that is a part of it: the arrow of a select box, the sign in a field.
import { splitOutside } from '../css-lists.ts';
import { dom } from '../dom.ts';
import type { Entry } from '../scene/scene.ts';
import type { WireRect } from '../wire/wire.ts';

/** Soft edges and rounding, CSS px. */
const ROOM = 1;

/**
 * As used values say (CSS Backgrounds 3 §2.4 to §2.9).
 * @returns a rectangle around all of them in page coordinates; null where they may be anywhere: repeated, sized by the picture, fixed
 */
export function imageArea({ el, shown, style }: Pick<Entry, 'el' | 'shown' | 'style'>): WireRect | null {
  const box = dom(el).getBoundingClientRect();
  const html = el instanceof shown.window.HTMLElement ? el : null;
  // Not turned, not scaled, and in one piece: lengths are those of the page.
  if (html === null || Math.abs(dom(html).offsetWidth - box.width) > 1 || Math.abs(dom(html).offsetHeight - box.height) > 1)
    return null;
  if (style.display === 'inline' || !splitOutside(style.backgroundAttachment, ',').every((each) => each === 'scroll')) return null;
  const listOf = (value: string): readonly string[] => splitOutside(value, ',');
  const images = listOf(style.backgroundImage);
  const [positions, sizes] = [listOf(style.backgroundPosition), listOf(style.backgroundSize)];
  const [repeats, origins] = [listOf(style.backgroundRepeat), listOf(style.backgroundOrigin)];
  const around = { left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity };
  for (const [layer, image] of images.entries()) {
    if (image === 'none') continue;
    const of = (list: readonly string[]): string => list[layer % list.length] ?? '';
    if (of(repeats) !== 'no-repeat') return null;
    const inset = insetOf(style, of(origins));
    const [x = '', y = ''] = splitOutside(of(positions), ' ');
    const [wide = '', high = ''] = splitOutside(of(sizes), ' ');
    const across = placed(x, wide, box.width, [inset.left, inset.right]);
    const down = placed(y, high, box.height, [inset.top, inset.bottom]);
    if (across === null && down === null) return null;
    around.left = Math.min(around.left, across?.from ?? 0);
    around.right = Math.max(around.right, across?.to ?? box.width);
    around.top = Math.min(around.top, down?.from ?? 0);
    around.bottom = Math.max(around.bottom, down?.to ?? box.height);
  }
  if (around.left > around.right) return null;
  const [left, top] = [box.left + shown.dx + around.left - ROOM, box.top + shown.dy + around.top - ROOM];
  return [left, top, around.right - around.left + 2 * ROOM, around.bottom - around.top + 2 * ROOM];
}

/**
 * A percentage of a position is one of the room that is left (CSS Backgrounds 3 §2.6).
 * @returns from the border's edge; null where the picture itself says its size
 */
function placed(
  position: string,
  size: string,
  side: number,
  [before, after]: readonly [number, number],
): { readonly from: number; readonly to: number } | null {
  const room = side - before - after;
  const length = lengthOf(size, room);
  const from = length === null ? null : lengthOf(position, room - length);
  return length === null || from === null ? null : { from: before + from, to: before + from + length };
}

const LENGTH = /^(?:calc\()?(?:(-?[\d.]+)%)?(?:\s*([+-])\s*)?(?:(-?[\d.]+)px)?\)?$/u;

function lengthOf(text: string, whole: number): number | null {
  const found = LENGTH.exec(text);
  if (found === null || (found[1] === undefined && found[3] === undefined)) return null;
  const [, share = '0', sign = '+', px = '0'] = found;
  return (Number(share) / 100) * whole + (sign === '-' ? -1 : 1) * Number(px);
}

function insetOf(
  style: CSSStyleDeclaration,
  origin: string,
): { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number } {
  const side = (border: string, padding: string): number =>
    origin === 'border-box' ? 0 : parseFloat(border) + (origin === 'content-box' ? parseFloat(padding) : 0);
  return {
    left: side(style.borderLeftWidth, style.paddingLeft),
    top: side(style.borderTopWidth, style.paddingTop),
    right: side(style.borderRightWidth, style.paddingRight),
    bottom: side(style.borderBottomWidth, style.paddingBottom),
  };
}
