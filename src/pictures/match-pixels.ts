// Which pixels of two equally large blocks differ, by pixelmatch: YIQ distance (Kotsarenko and Ramos, 2010), pixels of anti-aliased edges
// excused (Vysniauskas, 2009). A glyph in another colour is not excused as a whole: its darkest or lightest pixels are on no slope.
import pixelmatch from 'pixelmatch';
import type { RgbaPicture } from './rgba-picture.ts';

export interface MatchOptions {
  /** 0–1 of pixelmatch: the largest YIQ distance that counts as equal, as a share of the distance of black and white. */
  readonly threshold: number;
}

/** @returns one byte a pixel: 1 where the pictures differ. Both must have the same size. */
export function matchPixels(accepted: RgbaPicture, current: RgbaPicture, { threshold }: MatchOptions): Uint8Array {
  const { widthPx, heightPx } = accepted;
  const drawn = new Uint8Array(accepted.data.length);
  pixelmatch(accepted.data, current.data, drawn, widthPx, heightPx, { threshold, diffMask: true });
  // In a drawn mask every pixel that differs is opaque, all others are left empty.
  const mask = new Uint8Array(widthPx * heightPx);
  for (let at = 0; at < mask.length; at += 1) mask[at] = drawn[at * 4 + 3] === 255 ? 1 : 0;
  return mask;
}
