// Whether an area shows nothing but glyphs of one ink on one background: then every pixel lies between the two colours
// (anti-aliased glyph coverage is one share for all channels when sub-pixel text is off).
import type { Area, Pixels } from './pixels.ts';
import { cutTo, isEmpty, offsetOf } from './pixels.ts';

/** 0–255 each, fractions allowed. */
export type Codes = readonly [red: number, green: number, blue: number];

export interface TwoColors {
  readonly background: Codes;
  readonly ink: Codes;
  /** Alpha of the ink: where glyphs overlap a translucent ink is laid twice. 0–1. */
  readonly inkAlpha: number;
  /** Px; a square of the ink this large is no stroke of a letter but a patch of the same colour. */
  readonly solidPx: number;
}

/** Rounding of the compositor: one code a layer (reference "contrast and colour" §2), and of the glyph mask. */
const TOLERANCE_CODES = 2.6;
/** The background must be met with this exactness somewhere, and in this share of the area. */
const GROUND_TOLERANCE_CODES = 1.6;
const GROUND_SHARE = 0.1;
/** Full strokes of letters reach the ink itself; less means thin glyphs or something translucent over them: look closer. */
const REACH = 0.85;
/** Coverage from which a pixel counts as full ink. */
const SOLID = 0.95;
/** Closer than this, ink and background cannot be told apart by their pixels. */
const LEAST_DISTANCE_CODES = 8;

/** @returns true only when the picture proves both colours */
export function showsTwoColors(pixels: Pixels, wanted: Area, { background, ink, inkAlpha, solidPx }: TwoColors): boolean {
  const area = cutTo(wanted, pixels);
  if (isEmpty(area)) return false;
  const [br, bg, bb] = background;
  const vr = ink[0] - br;
  const vg = ink[1] - bg;
  const vb = ink[2] - bb;
  const length = Math.hypot(vr, vg, vb);
  if (length < LEAST_DISTANCE_CODES) return false;
  const squared = length * length;
  const most = 1 / Math.max(inkAlpha, 0.05) + TOLERANCE_CODES / length;
  const least = -TOLERANCE_CODES / length;
  const { data, channels } = pixels;
  let reach = 0;
  let ground = 0;
  // Side of the largest square of full ink that ends at each pixel of the row above.
  const squares = new Uint16Array(area.right - area.left);
  for (let y = area.top; y < area.bottom; y += 1) {
    let i = offsetOf(pixels, area.left, y);
    let corner = 0;
    let left = 0;
    for (let x = area.left; x < area.right; x += 1, i += channels) {
      const column = x - area.left;
      const above = squares[column] ?? 0;
      const dr = (data[i] ?? 0) - br;
      const dg = (data[i + 1] ?? 0) - bg;
      const db = (data[i + 2] ?? 0) - bb;
      if (
        dr < GROUND_TOLERANCE_CODES &&
        dr > -GROUND_TOLERANCE_CODES &&
        dg < GROUND_TOLERANCE_CODES &&
        dg > -GROUND_TOLERANCE_CODES &&
        db < GROUND_TOLERANCE_CODES &&
        db > -GROUND_TOLERANCE_CODES
      ) {
        ground += 1;
        squares[column] = 0;
        corner = above;
        left = 0;
        continue;
      }
      const t = (dr * vr + dg * vg + db * vb) / squared;
      if (t > most || t < least) return false;
      if (
        Math.abs(dr - t * vr) > TOLERANCE_CODES ||
        Math.abs(dg - t * vg) > TOLERANCE_CODES ||
        Math.abs(db - t * vb) > TOLERANCE_CODES
      )
        return false;
      if (t > reach) reach = t;
      left = t > SOLID ? Math.min(left, above, corner) + 1 : 0;
      if (left >= solidPx) return false;
      squares[column] = left;
      corner = above;
    }
  }
  const size = (area.right - area.left) * (area.bottom - area.top);
  return reach >= REACH && ground >= size * GROUND_SHARE;
}
