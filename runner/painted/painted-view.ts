// What all makers of samples know of one view: pictures, what the page said, who owns which part of the picture.
import type { Rect } from '../../src/samples/view.ts';
import type { Opaque } from '../../src/colour/color.ts';
import { opaque, WHITE } from '../../src/colour/color.ts';
import { flatten, withOpacity } from '../../src/colour/composite.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { Layer, Origin } from '../../src/samples/paint.ts';
import type { OriginOf } from '../text/layers.ts';
import type { WireGround } from '../page/wire/wire.ts';
import type { WirePlace, WirePlaces } from '../page/wire/places.ts';
import type { Shot } from './pixels.ts';

export interface PaintedView {
  /** View id. */
  readonly view: string;
  readonly places: WirePlaces;
  /** Computed colour of the canvas. */
  readonly canvas: string;
  readonly seen: Shot;
  readonly viewport: { readonly width: number; readonly height: number };
  /** Surfaces smaller than this share of the viewport are left out. */
  readonly leastShare: number;
  /** What a declaration's colour is tied to. */
  readonly originOf: OriginOf;
  /** Layers of a ground and all below it, bottom first. @param ground index into `places.grounds` */
  readonly layersOf: (ground: number) => readonly Layer[];
}

/** The members that all samples share. */
export function placeFacts(
  view: string,
  place: WirePlace,
): {
  readonly view: string;
  readonly selector: string;
  readonly key: string;
  readonly rect: Rect;
  readonly label?: string;
  readonly exemptions?: readonly number[];
  readonly owner?: string;
  readonly behind?: string;
} {
  const { selector, key, rect, label, exemptions, owner, behind } = place;
  return {
    view,
    selector,
    key,
    rect,
    ...(label === undefined ? {} : { label }),
    ...(exemptions === undefined ? {} : { exemptions }),
    ...(owner === undefined ? {} : { owner }),
    ...(behind === undefined ? {} : { behind }),
  };
}

/** Filters, blend modes and the like on the way: computed colours are not what is seen. */
export function isChangedOnTheWay({ places }: PaintedView, place: WirePlace): boolean {
  for (let ground = places.grounds[place.ground]; ground !== undefined; ground = places.grounds[ground.up]) {
    if (ground.blend !== undefined) return true;
    if ((ground.doubts ?? []).some((doubt) => doubt === 'filter' || doubt === 'backdrop-filter')) return true;
  }
  return false;
}

/** What computed styles say lies at a ground; null where pictures, gradients, filters or blend modes take part. */
export function computedGround({ places, canvas }: PaintedView, place: WirePlace): Opaque | null {
  const chain: WireGround[] = [];
  for (let ground = places.grounds[place.ground]; ground !== undefined; ground = places.grounds[ground.up]) chain.push(ground);
  if (chain.some((ground) => ground.image !== undefined || ground.blend !== undefined || ground.doubts !== undefined)) return null;
  const colors = chain.reverse().flatMap((ground) => {
    const color = ground.color === undefined ? null : findColor(ground.color);
    return color === null ? [] : [withOpacity(color, ground.opacity ?? 1)];
  });
  return flatten(colors, opaque(findColor(canvas) ?? WHITE));
}

export const UNTRACED = (why: string): Origin => ({ kind: 'unknown', why });
