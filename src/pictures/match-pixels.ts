// Which pixels of two equally large blocks differ, by pixelmatch (YIQ distance; anti-aliasing told by V. Vysniauskas, 2009), with one
// thing taken back: a pixel is excused as anti-aliasing only when its colour is one that the other picture has around it. Thin text is
// anti-aliased all over, so without that a recoloured label would pass.
import pixelmatch from 'pixelmatch';
import type { RgbaPicture } from './rgba-picture.ts';

export interface MatchOptions {
  /** 0–1 of pixelmatch: the largest YIQ distance that counts as equal, as a share of the distance of black and white. */
  readonly threshold: number;
}

/** Codes, 0–255: an excused pixel may lie this far outside the colours around it (blending rounds). */
const ROUNDING = 2;

/** @returns one byte a pixel: 1 where the pictures differ. Both must have the same size. */
export function matchPixels(accepted: RgbaPicture, current: RgbaPicture, { threshold }: MatchOptions): Uint8Array {
  const { widthPx, heightPx } = accepted;
  const drawn = new Uint8Array(accepted.data.length);
  // Red: different; yellow: anti-aliasing; grey: alike.
  pixelmatch(accepted.data, current.data, drawn, widthPx, heightPx, { threshold, diffColor: [255, 0, 0], aaColor: [255, 255, 0] });
  const mask = new Uint8Array(widthPx * heightPx);
  for (let at = 0, byte = 0; at < mask.length; at += 1, byte += 4) {
    if (drawn[byte] === drawn[byte + 2]) continue;
    const excused = drawn[byte + 1] === 255;
    const x = at % widthPx;
    const y = (at - x) / widthPx;
    mask[at] = excused && isAround(accepted, current, x, y) && isAround(current, accepted, x, y) ? 0 : 1;
  }
  return mask;
}

/** Whether the pixel's colour lies within those of the nine pixels at the same place of the other picture. */
function isAround(picture: RgbaPicture, other: RgbaPicture, x: number, y: number): boolean {
  const { widthPx, heightPx, data } = picture;
  const own = (y * widthPx + x) * 4;
  for (let channel = 0; channel < 3; channel += 1) {
    let least = 255;
    let most = 0;
    for (let row = Math.max(0, y - 1); row <= Math.min(heightPx - 1, y + 1); row += 1) {
      for (let column = Math.max(0, x - 1); column <= Math.min(widthPx - 1, x + 1); column += 1) {
        const code = other.data[(row * widthPx + column) * 4 + channel] ?? 0;
        if (code < least) least = code;
        if (code > most) most = code;
      }
    }
    const code = data[own + channel] ?? 0;
    if (code < least - ROUNDING || code > most + ROUNDING) return false;
  }
  return true;
}
