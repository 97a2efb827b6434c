// Whether two pictures of one page are the same outside its masked places.
import type { Pixels } from '../../src/pictures/pixels.ts';
import type { WireRect } from '../page/wire/wire.ts';

/** @returns null when they are, else where the first difference is, CSS px */
export function samePixels(
  one: Pixels,
  other: Pixels,
  masked: readonly WireRect[],
  scale: number,
): { x: number; y: number } | null {
  if (one.widthPx !== other.widthPx || one.heightPx !== other.heightPx || one.channels !== other.channels) return { x: 0, y: 0 };
  if (Buffer.compare(one.data, other.data) === 0) return null;
  const { widthPx, channels } = one;
  for (let i = 0; i < one.data.length; i += 1) {
    if (one.data[i] === other.data[i]) continue;
    const pixel = Math.floor(i / channels);
    const x = (pixel % widthPx) / scale;
    const y = Math.floor(pixel / widthPx) / scale;
    if (
      !masked.some(([left, top, width, height]) => x >= left - 1 && y >= top - 1 && x <= left + width + 1 && y <= top + height + 1)
    ) {
      return { x: Math.floor(x), y: Math.floor(y) };
    }
  }
  return null;
}
