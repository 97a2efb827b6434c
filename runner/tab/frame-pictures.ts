// Pictures of what the browser leaves out of a picture of the whole page: it does not paint frames of another origin where they are out of
// view (measured: one in its own process is painted to a third of a screen below it, one in the same process wholly or not at all). The page
// is scrolled to them part by part; what is painted there is put where it belongs.
import { PNG } from 'pngjs';
import type { Rect } from '../../src/samples/view.ts';
import type { Pixels } from '../../src/pictures/pixels.ts';
import { decodePng } from '../driver/decode-png.ts';
import type { Tab } from './tab.ts';
import { takePicture } from './take-picture.ts';

/** A part of the page, whole CSS px, as it looks in view. */
export interface Part {
  readonly rect: Rect;
  readonly png: Uint8Array;
}

/** What is taken of a screen at once, 0–1: its middle, since heads and feet often stay where they are (ours). */
const MIDDLE = 0.6;
/** Of one page at most (ours): a frame as long as this is a page of its own. */
const MOST_PARTS = 60;

export interface Wanted {
  /** What of the frame can be seen, page coordinates. */
  readonly clip: Rect;
  readonly screenHeightCssPx: number;
  readonly scale: number;
  /** Resolves once the frame was painted anew, to false where it was not. */
  readonly painted: () => Promise<boolean>;
}

/** @returns null where it did not get painted; leaves the page at its top */
export async function framePictures(
  tab: Tab,
  { clip, screenHeightCssPx, scale, painted }: Wanted,
): Promise<readonly Part[] | null> {
  const [x, y, width, height] = clip;
  const [left, right] = [Math.floor(x), Math.ceil(x + width)];
  const bottom = Math.ceil(y + height);
  const step = Math.max(1, Math.floor(screenHeightCssPx * MIDDLE));
  const parts: Part[] = [];
  let top = Math.max(Math.floor(y), screenHeightCssPx);
  if (top >= bottom) return [];
  if (Math.ceil((bottom - top) / step) > MOST_PARTS) return null;
  try {
    for (; top < bottom; top += step) {
      await tab.call('scrollDown', { topCssPx: top - Math.floor((screenHeightCssPx * (1 - MIDDLE)) / 2) });
      if (!(await painted())) return null;
      const rect: Rect = [left, top, right - left, Math.min(step, bottom - top)];
      const { png } = await takePicture(tab, rect, scale);
      parts.push({ rect, png });
    }
  } finally {
    await tab.call('toTop', null);
  }
  return parts;
}

/** The picture of the whole page with its parts put in. */
export async function withParts(
  pixels: Pixels,
  parts: readonly Part[],
  scale: number,
): Promise<Pixels & { readonly png: Uint8Array }> {
  const { widthPx, heightPx, channels } = pixels;
  const data = Buffer.from(pixels.data);
  for (const { rect, png } of parts) {
    const [leftPx, topPx] = [Math.round(rect[0] * scale), Math.round(rect[1] * scale)];
    const part = await decodePng(png, { leftPx, topPx });
    const columns = Math.min(part.widthPx, widthPx - leftPx);
    for (let row = 0; row < Math.min(part.heightPx, heightPx - topPx); row += 1) {
      for (let column = 0; column < columns; column += 1) {
        const from = (row * part.widthPx + column) * part.channels;
        const to = ((topPx + row) * widthPx + leftPx + column) * channels;
        for (let channel = 0; channel < 3; channel += 1) data[to + channel] = part.data[from + channel] ?? 0;
      }
    }
  }
  const hasAlpha = channels === 4;
  const picture = new PNG({ width: widthPx, height: heightPx });
  picture.data = data;
  return { ...pixels, data, png: PNG.sync.write(picture, { inputHasAlpha: hasAlpha, colorType: hasAlpha ? 6 : 2 }) };
}
