// Colours of places as the bench tells them → what the pixels of a stored picture are recoloured by; and a picture drawn with it.
import type { ChangedLook } from '../../api/bench.ts';
import { findColor } from '../../../src/colour/parse-color.ts';
import type { PixelLook, Rgb } from '../../../src/forecast/recolor-pixels.ts';
import { recolorPixels } from '../../../src/forecast/recolor-pixels.ts';

/** @param scale device px per CSS px @param from where the picture begins, CSS px of the page */
export function pixelLooks(looks: readonly ChangedLook[], scale: number, from = { x: 0, y: 0 }): readonly PixelLook[] {
  return looks.flatMap(({ rect: [x, y, width, height], kind, before, after }): PixelLook[] => {
    const colors = [before.fore, before.back, after.fore, after.back].map(rgbOf);
    const [foreBefore, backBefore, foreAfter, backAfter] = colors;
    if (!foreBefore || !backBefore || !foreAfter || !backAfter) return [];
    const left = Math.floor((x - from.x) * scale);
    const top = Math.floor((y - from.y) * scale);
    const right = Math.ceil((x - from.x + width) * scale);
    const bottom = Math.ceil((y - from.y + height) * scale);
    return [
      {
        rect: [left, top, right - left, bottom - top],
        part: kind === 'surface' || kind === 'shadow' ? 'fore' : 'both',
        before: { fore: foreBefore, back: backBefore },
        after: { fore: foreAfter, back: backAfter },
      },
    ];
  });
}

function rgbOf(text: string): Rgb | null {
  const color = findColor(text);
  return color === null ? null : [Math.round(color.r * 255), Math.round(color.g * 255), Math.round(color.b * 255)];
}

/** Tall pages come in one piece; beyond this a canvas may be refused (Chromium: 16,384 px a side, 268 million in all). */
const MOST_SIDE = 16_000;

/** @param from where in the picture the canvas begins, device px @throws where the picture cannot be read */
export async function drawRecolored(
  canvas: HTMLCanvasElement,
  source: string,
  {
    looks,
    from,
    size,
  }: {
    readonly looks: readonly PixelLook[];
    readonly from: { readonly x: number; readonly y: number };
    /** Of the part that is drawn; all of it when absent. */
    readonly size?: { readonly width: number; readonly height: number };
  },
): Promise<void> {
  const picture = new Image();
  picture.src = source;
  await picture.decode();
  const width = Math.min(MOST_SIDE, size?.width ?? picture.naturalWidth);
  const height = Math.min(MOST_SIDE, size?.height ?? picture.naturalHeight);
  canvas.width = width;
  canvas.height = height;
  const drawing = canvas.getContext('2d', { willReadFrequently: true });
  if (drawing === null || width === 0 || height === 0) return;
  drawing.drawImage(picture, -from.x, -from.y);
  const image = drawing.getImageData(0, 0, width, height);
  recolorPixels(image.data, width, looks);
  drawing.putImageData(image, 0, 0);
}
