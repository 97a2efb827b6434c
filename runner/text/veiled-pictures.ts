// Pictures of line boxes without their text, with their ink as areas, or with text in a marker colour.
import { cutsAround } from '../../src/pictures/cuts.ts';
import type { Area, Pixels } from '../../src/pictures/pixels.ts';
import type { Rect } from '../../src/samples/view.ts';
import { decodePng } from '../driver/decode-png.ts';
import type { Veil } from '../page/wire/wire.ts';
import type { Tab } from '../tab/tab.ts';
import { takePicture } from '../tab/take-picture.ts';

export interface Sight {
  readonly tab: Tab;
  /** Picture of the whole page. */
  readonly normal: Pixels;
  /** Device px per CSS px. */
  readonly scale: number;
  /** Places that are known to change by themselves (a clock); that their text moves is no reason to read the page again. CSS px. */
  readonly masked: readonly Rect[];
}

/** One line box whose computed colours the picture does not prove. */
export interface Open {
  readonly run: number;
  readonly box: number;
  readonly area: Area;
}

/** Pictures of some line boxes while a veil lies over their runs. */
export interface Veiled {
  readonly moved: readonly number[];
  readonly notInked: ReadonlySet<number>;
  /** The picture that shows an area. */
  covering(area: Area): Pixels | null;
}

export async function veiled({ tab, normal, scale }: Sight, veil: Veil, places: readonly Open[]): Promise<Veiled> {
  const runs = [...new Set(places.map((place) => place.run))];
  const { notInked } = await tab.call('veil', { veil, runs });
  // Whole CSS px that are whole device px too, at the scales screens have (quarters).
  const step = Number.isInteger(scale) ? 1 : 4;
  const css = places.map(({ area }) => ({
    left: area.left / scale,
    top: area.top / scale,
    right: area.right / scale,
    bottom: area.bottom / scale,
  }));
  const page = { width: normal.widthPx / scale, height: normal.heightPx / scale };
  const cuts = cutsAround(css, { step, margin: 2, ...page, scale });
  const decoding: Promise<Pixels>[] = [];
  for (const cut of cuts) {
    const picture = await takePicture(tab, [cut.left, cut.top, cut.right - cut.left, cut.bottom - cut.top], scale);
    // The next picture is taken while this one is decoded.
    decoding.push(decodePng(picture.png, { leftPx: Math.round(cut.left * scale), topPx: Math.round(cut.top * scale) }));
  }
  const moved = await tab.call('movedUnderVeil', null);
  const pictures = await Promise.all(decoding);
  return {
    moved,
    notInked: new Set(notInked),
    covering: (area) => pictures.find((picture) => shows(picture, area, normal.widthPx)) ?? null,
  };
}

/** What lies beside the page no picture shows. */
function shows({ leftPx, topPx, widthPx, heightPx }: Pixels, { left, top, right, bottom }: Area, pageWidthPx: number): boolean {
  const isInWidth = Math.max(0, left) >= leftPx && Math.min(pageWidthPx, right) <= leftPx + widthPx;
  return isInWidth && top >= topPx && bottom <= topPx + heightPx;
}
