// Toasts, sticky heads and tooltips that are translucent: text below one is not meant to be read through it, as far as it lies there.
// (What an opaque one covers the picture does not show.)
import { alphaOf } from '../places/colors.ts';
import { opacityOf } from '../places/place-facts.ts';
import { borderBox } from '../places/places.ts';
import type { WireRect } from '../wire/wire.ts';
import { paintOrder } from './paint-order.ts';
import { hasAbove, showsText } from './pointer.ts';
import type { Box, Entry, Scene } from './scene.ts';
import { cut } from './scene.ts';

/** What a cover leaves of line boxes; `by` where it leaves none. */
export type Uncovered = { readonly rects: readonly WireRect[]; readonly by?: undefined } | { readonly by: Element };

/** @param fontSize CSS px @returns the boxes cut to what lies free, in pieces that a letter has room in */
export type UncoveredOf = (entry: Entry, rects: readonly WireRect[], fontSize: number) => Uncovered;

interface Cover {
  readonly entry: Entry;
  readonly box: Box;
  readonly place: number;
}

/** Alpha from which a layer with text of its own hides what lies below it rather than tints it, as does one that blurs it (ours). */
const LEAST_ALPHA = 0.5;
/** A letter takes a square of about this side, em (as in runner/text/read-text.ts). */
const LETTER_EM = 0.6;

export function uncovered(scene: Scene): UncoveredOf {
  const apart = scene.entries.filter((entry) => entry.visible && isTranslucentLayer(entry));
  const talking = apart.length === 0 ? [] : scene.entries.filter(showsText);
  const speaking = apart.filter((entry) => talking.some((text) => hasAbove(text, (at) => at === entry)));
  if (speaking.length === 0) return (_, rects) => ({ rects });
  const places = new Map(paintOrder(scene.entries).map((entry, place) => [entry, place]));
  const covers = speaking.map((entry): Cover => ({
    entry,
    box: cut(borderBox(entry), entry.clip),
    place: places.get(entry) ?? -1,
  }));
  return (entry, rects, fontSize) => {
    const place = places.get(entry) ?? Infinity;
    let free = rects;
    for (const { entry: layer, box, place: its } of covers) {
      if (its <= place || !free.some((rect) => meets(rect, box)) || hasAbove(entry, (at) => at === layer)) continue;
      free = free.flatMap((rect) => (meets(rect, box) ? around(rect, box).filter(hasRoom) : [rect]));
      if (free.length === 0) return { by: layer.el };
    }
    return { rects: free };

    function hasRoom([, , width, height]: WireRect): boolean {
      return Math.min(width, height) >= LETTER_EM * fontSize;
    }
  };
}

/** The layer itself, or what is painted in it: many are placed by an empty box around them. */
function isTranslucentLayer(entry: Entry): boolean {
  const { backgroundColor, backdropFilter } = entry.style;
  const alpha = alphaOf(backgroundColor) * opacityOf(entry);
  const blurs = backdropFilter.includes('blur(');
  return alpha < 1 && alpha > 0 && (alpha >= LEAST_ALPHA || blurs) && hasAbove(entry, isPlaced);
}

function isPlaced({ own: { position } }: Entry): boolean {
  return position === 'fixed' || position === 'sticky' || position === 'absolute';
}

function meets([left, top, width, height]: WireRect, box: Box): boolean {
  return left < box.right && left + width > box.left && top < box.bottom && top + height > box.top;
}

/** Whole bands above and below, and what is left beside. */
function around([left, top, width, height]: WireRect, box: Box): readonly WireRect[] {
  const [right, bottom] = [left + width, top + height];
  const [from, to] = [Math.max(top, box.top), Math.min(bottom, box.bottom)];
  return [
    [left, top, width, from - top],
    [left, from, box.left - left, to - from],
    [box.right, from, right - box.right, to - from],
    [left, to, width, bottom - to],
  ];
}
