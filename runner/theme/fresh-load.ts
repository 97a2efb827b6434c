// Whether a theme that was switched on in place looks as it does on a page that is loaded with it: where it does not, something of the
// theme before is left behind. It is often a fault of the app; visitors see the fresh page.
import type { Rect } from '../../src/samples/view.ts';
import { decodePng } from '../driver/decode-png.ts';
import { samePixels } from '../tab/same-pixels.ts';
import type { Tab } from '../tab/tab.ts';
import { takePicture } from '../tab/take-picture.ts';

/** A whole page, as far down as pictures go. */
export interface Look {
  readonly widthCssPx: number;
  readonly heightCssPx: number;
  readonly png: Uint8Array;
}

/** @param scale device px per CSS px */
export async function lookAt(tab: Tab, scale: number): Promise<Look> {
  const { width, height } = await tab.call('size', null);
  const heightCssPx = Math.min(height, Math.floor(tab.limits.heightPx / scale));
  const { png } = await tab.watch.time('picture', () => takePicture(tab, [0, 0, width, heightCssPx], scale));
  return { widthCssPx: width, heightCssPx, png };
}

/**
 * @param but places where they may differ
 * @returns null where both look the same, else where they do not, for people
 */
export async function differsFromFresh(
  { inPlace, fresh }: { readonly inPlace: Look; readonly fresh: Look },
  but: readonly Rect[],
  scale: number,
): Promise<string | null> {
  if (inPlace.widthCssPx !== fresh.widthCssPx || inPlace.heightCssPx !== fresh.heightCssPx)
    return `its size: ${sizeOf(inPlace)} in place, ${sizeOf(fresh)} afresh`;
  if (Buffer.compare(inPlace.png, fresh.png) === 0) return null;
  const corner = { leftPx: 0, topPx: 0 };
  const [one, other] = await Promise.all([decodePng(inPlace.png, corner), decodePng(fresh.png, corner)]);
  const place = samePixels(one, other, but, scale);
  return place === null ? null : `its pixels at ${place.x}, ${place.y} px`;
}

function sizeOf({ widthCssPx, heightCssPx }: Look): string {
  return `${widthCssPx} × ${heightCssPx} px`;
}
