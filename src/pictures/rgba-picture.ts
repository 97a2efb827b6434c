// A whole picture with four bytes a pixel, the form in which two pictures are compared.
import type { Pixels } from './pixels.ts';

export interface RgbaPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Red, green, blue, alpha of each pixel, row by row. Starts at a multiple of four bytes, so that `words` can view it. */
  readonly data: Uint8Array;
}

/** Uses the bytes as they are where it can, else copies them. */
export function rgbaOf({ data, widthPx, heightPx, channels }: Omit<Pixels, 'leftPx' | 'topPx'>): RgbaPicture {
  if (channels === 4) return { widthPx, heightPx, data: data.byteOffset % 4 === 0 ? data : data.slice() };
  const rgba = new Uint8Array(widthPx * heightPx * 4);
  for (let from = 0, to = 0; to < rgba.length; from += 3, to += 4) {
    rgba[to] = data[from] ?? 0;
    rgba[to + 1] = data[from + 1] ?? 0;
    rgba[to + 2] = data[from + 2] ?? 0;
    rgba[to + 3] = 255;
  }
  return { widthPx, heightPx, data: rgba };
}

/** The same bytes, one number a pixel: equal numbers are equal pixels. */
export function words({ data }: RgbaPicture): Uint32Array {
  return new Uint32Array(data.buffer, data.byteOffset, data.byteLength >> 2);
}

export function isSamePicture(a: RgbaPicture, b: RgbaPicture): boolean {
  if (a.widthPx !== b.widthPx || a.heightPx !== b.heightPx) return false;
  const [left, right] = [words(a), words(b)];
  for (let at = 0; at < left.length; at += 1) if (left[at] !== right[at]) return false;
  return true;
}
