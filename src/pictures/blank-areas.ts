// Masked parts are painted over, in both pictures alike, before anything is compared.
import type { Rect } from '../samples/view.ts';
import type { Area } from './pixels.ts';
import type { RgbaPicture } from './rgba-picture.ts';

/** @param areas of both pictures together: what is masked in one is left out in the other too @returns a copy, when there are areas */
export function blankAreas(picture: RgbaPicture, areas: readonly Area[]): RgbaPicture {
  if (areas.length === 0) return picture;
  const { widthPx, heightPx } = picture;
  const data = picture.data.slice();
  for (const area of areas) {
    const left = Math.max(0, area.left);
    const right = Math.min(widthPx, area.right);
    if (left >= right) continue;
    for (let y = Math.max(0, area.top); y < Math.min(heightPx, area.bottom); y += 1) {
      data.fill(0, (y * widthPx + left) * 4, (y * widthPx + right) * 4);
    }
  }
  return { widthPx, heightPx, data };
}

/** All pixels a rectangle touches, and one around it, for edges that are half in it. @param rects CSS px @param scale device px per CSS px */
export function maskAreas(rects: readonly Rect[], scale: number): readonly Area[] {
  return rects.map(([x, y, width, height]) => ({
    left: Math.floor(x * scale) - 1,
    top: Math.floor(y * scale) - 1,
    right: Math.ceil((x + width) * scale) + 1,
    bottom: Math.ceil((y + height) * scale) + 1,
  }));
}
