// The whole page, or a part of it, as PNG.
import { pictureFailed } from '../../src/errors/capture-errors.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { Tab } from './tab.ts';

export interface Picture {
  readonly png: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * @param area CSS px, page coordinates, whole numbers
 * @param scale device px per CSS px
 * @throws GloamError `picture-failed` when the picture has not the size asked for
 */
export async function takePicture(tab: Tab, area: Rect, scale: number): Promise<Picture> {
  const [x, y, width, height] = area;
  // The browser would never answer (measured).
  if (width < 1 || height < 1)
    throw pictureFailed(tab.url, `an area of ${width} × ${height} px was asked for; expected one of 1 px at least`);
  const isPainted = x >= 0 && y >= 0 && (await tab.paint(x + width, y + height));
  const png = await tab.guard('taking the picture', tab.driver.picture(area, isPainted));
  const got = pngSize(png);
  const expected = { widthPx: Math.round(width * scale), heightPx: Math.round(height * scale) };
  if (got === null || got.widthPx !== expected.widthPx || got.heightPx !== expected.heightPx) {
    const found = got === null ? 'no PNG' : `${got.widthPx} × ${got.heightPx} px`;
    throw pictureFailed(tab.url, `found ${found}; expected ${expected.widthPx} × ${expected.heightPx} px`);
  }
  return { png, ...got };
}

/** From the IHDR chunk (PNG §11.2.1). */
function pngSize(png: Buffer): { widthPx: number; heightPx: number } | null {
  if (png.length < 24 || png.readUInt32BE(0) !== 0x89504e47) return null;
  return { widthPx: png.readUInt32BE(16), heightPx: png.readUInt32BE(20) };
}
