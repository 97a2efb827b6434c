// Which parts of a page to take pictures of, when only some places matter: few, since each picture has a price of its own.
import type { Area } from './pixels.ts';

/** A picture costs about as much as this many more rows of one (measured: 40 ms against .06 ms a row of 1,280 px). */
const ROWS_A_PICTURE = 600;

export interface BandWishes {
  /** Pictures begin and end at multiples of this, px. */
  readonly step: number;
  /** Room left around each place, px. */
  readonly margin: number;
  readonly width: number;
  readonly height: number;
}

/** @param places areas in any order; @returns bands from top to bottom that cover them all, inside the page */
export function bandsAround(places: readonly Area[], { step, margin, width, height }: BandWishes): readonly Area[] {
  const bands: { left: number; top: number; right: number; bottom: number }[] = [];
  for (const place of [...places].sort((a, b) => a.top - b.top)) {
    const last = bands.at(-1);
    if (last !== undefined && place.top - last.bottom < ROWS_A_PICTURE) {
      last.left = Math.min(last.left, place.left);
      last.right = Math.max(last.right, place.right);
      last.bottom = Math.max(last.bottom, place.bottom);
    } else bands.push({ ...place });
  }
  const down = (v: number): number => Math.max(0, Math.floor((v - margin) / step) * step);
  const up = (v: number, most: number): number => Math.min(most, Math.ceil((v + margin) / step) * step);
  return bands.map((band) => ({
    left: down(band.left),
    top: down(band.top),
    right: up(band.right, width),
    bottom: up(band.bottom, height),
  }));
}
