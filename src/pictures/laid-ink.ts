// Whether a picture shows nothing but one ink laid on what lies behind it, pixel by pixel: then the ink needs no picture of its own.
import type { Area, Pixels } from './pixels.ts';
import { cutTo, isEmpty, offsetOf } from './pixels.ts';
import type { Codes } from './two-colors.ts';

export interface Laid {
  /** 0–255 each, fractions allowed. */
  readonly codes: Codes;
  /** 0–1. */
  readonly alpha: number;
}

const TOLERANCE_CODES = 3;
/** Full strokes of letters reach the ink itself (two-colors.ts). */
const REACH = 0.85;
/** Nearer to its background than this an ink does not show which pixels it covers. */
const HIDDEN_CODES = 8;
/** More of the area than this must not hide it. */
const HIDDEN_SHARE = 0.005;

/** @param normal the page as it is @param bare without text; both cover the area */
export function showsLaidInk(normal: Pixels, bare: Pixels, wanted: Area, { codes, alpha }: Laid): boolean {
  const area = cutTo(cutTo(wanted, normal), bare);
  if (isEmpty(area) || alpha === 0) return false;
  const [ir, ig, ib] = codes;
  let reach = 0;
  let hidden = 0;
  for (let y = area.top; y < area.bottom; y += 1) {
    let a = offsetOf(normal, area.left, y);
    let b = offsetOf(bare, area.left, y);
    for (let x = area.left; x < area.right; x += 1, a += normal.channels, b += bare.channels) {
      const br = bare.data[b] ?? 0;
      const bg = bare.data[b + 1] ?? 0;
      const bb = bare.data[b + 2] ?? 0;
      const vr = (ir - br) * alpha;
      const vg = (ig - bg) * alpha;
      const vb = (ib - bb) * alpha;
      const dr = (normal.data[a] ?? 0) - br;
      const dg = (normal.data[a + 1] ?? 0) - bg;
      const db = (normal.data[a + 2] ?? 0) - bb;
      const squared = vr * vr + vg * vg + vb * vb;
      if (squared < HIDDEN_CODES * HIDDEN_CODES) hidden += 1;
      if (dr === 0 && dg === 0 && db === 0) continue;
      if (squared < 1) return false;
      const t = (dr * vr + dg * vg + db * vb) / squared;
      const slack = TOLERANCE_CODES / Math.sqrt(squared);
      if (t < -slack || t > 1 / alpha + slack) return false;
      if (
        Math.abs(dr - t * vr) > TOLERANCE_CODES ||
        Math.abs(dg - t * vg) > TOLERANCE_CODES ||
        Math.abs(db - t * vb) > TOLERANCE_CODES
      )
        return false;
      if (squared >= HIDDEN_CODES * HIDDEN_CODES && t > reach) reach = t;
    }
  }
  const size = (area.right - area.left) * (area.bottom - area.top);
  return reach >= REACH && hidden <= size * HIDDEN_SHARE;
}

/** 0xRRGGBB of the ink on a background, 0xRRGGBB. */
export function laidOn(background: number, { codes, alpha }: Laid): number {
  const mix = (ink: number, below: number): number => Math.round(ink * alpha + below * (1 - alpha));
  return (mix(codes[0], background >> 16) << 16) | (mix(codes[1], (background >> 8) & 255) << 8) | mix(codes[2], background & 255);
}
