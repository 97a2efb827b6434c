// Masked parts are painted over, in both pictures alike, before anything is compared.
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
