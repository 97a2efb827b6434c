// Whether a theme that was switched on in place looks as it does on a page that is loaded with it: where it does not, something of the
// theme before is left behind. It is often a fault of the app; visitors see the fresh page.
import type { CapturedView } from '../../src/samples/captured-view.ts';
import type { Rect } from '../../src/samples/view.ts';
import { decodePng } from '../driver/decode-png.ts';
import { samePixels } from '../tab/same-pixels.ts';
import type { Tab } from '../tab/tab.ts';
import { takePicture } from '../tab/take-picture.ts';

/**
 * @param seen in place; the page is loaded afresh by now
 * @param pieced places whose picture was taken apart
 * @returns null where it looks the same, else where it does not, for people
 */
export async function differsFromFresh(
  tab: Tab,
  seen: Pick<CapturedView, 'page' | 'shot' | 'masks'>,
  pieced: readonly Rect[],
): Promise<string | null> {
  const { widthCssPx, heightCssPx, scale } = seen.page;
  const { width, height } = await tab.call('size', null);
  const most = Math.floor(tab.limits.heightPx / scale);
  if (width !== widthCssPx || Math.min(height, most) !== heightCssPx) {
    return `its size: ${widthCssPx} × ${heightCssPx} px in place, ${width} × ${height} px afresh`;
  }
  const whole: Rect = [0, 0, widthCssPx, heightCssPx];
  const { png } = await tab.watch.time('picture', () => takePicture(tab, whole, scale));
  if (Buffer.compare(png, seen.shot) === 0) return null;
  const corner = { leftPx: 0, topPx: 0 };
  const [one, other] = await Promise.all([decodePng(seen.shot, corner), decodePng(png, corner)]);
  const place = samePixels(one, other, [...(seen.masks ?? []), ...pieced], scale);
  return place === null ? null : `its pixels at ${place.x}, ${place.y} px`;
}
