// A decoded picture of a page, read in CSS px.
import type { Opaque } from '../../src/colour/color.ts';
import { fromCodes } from '../../src/colour/color.ts';
import type { Pixels } from '../../src/pictures/pixels.ts';
import type { Rect } from '../../src/samples/view.ts';

/** A picture of the page, or of a part of it. */
export interface Shot extends Pixels {
  /** Device px per CSS px. */
  readonly scale: number;
}

/** Red, green, blue in one number, 0xrrggbb. */
export type Code = number;

/** The pixel at a point of the page; outside the picture the nearest one. @param x CSS px @param y CSS px */
export function codeAt({ data, widthPx, heightPx, leftPx, topPx, channels, scale }: Shot, x: number, y: number): Code {
  const column = Math.min(widthPx - 1, Math.max(0, Math.floor(x * scale) - leftPx));
  const row = Math.min(heightPx - 1, Math.max(0, Math.floor(y * scale) - topPx));
  const at = (row * widthPx + column) * channels;
  return ((data[at] ?? 0) << 16) | ((data[at + 1] ?? 0) << 8) | (data[at + 2] ?? 0);
}

export function toColor(code: Code): Opaque {
  return fromCodes(code >> 16, (code >> 8) & 255, code & 255);
}

/** Colours outside sRGB are cut to it. */
export function toCode({ r, g, b }: Opaque): Code {
  const code = (part: number): number => Math.min(255, Math.max(0, Math.round(part * 255)));
  return (code(r) << 16) | (code(g) << 8) | code(b);
}

/** Largest difference in a channel, 0–255. */
export function distance(one: Code, other: Code): number {
  return Math.max(
    Math.abs((one >> 16) - (other >> 16)),
    Math.abs(((one >> 8) & 255) - ((other >> 8) & 255)),
    Math.abs((one & 255) - (other & 255)),
  );
}

/** Each device pixel of a rectangle, thinned evenly to about `most`. */
export function codesIn(shot: Shot, [x, y, width, height]: Rect, most = 20_000): readonly Code[] {
  const count = width * height * shot.scale * shot.scale;
  const step = Math.max(1, Math.sqrt(count / most)) / shot.scale;
  const codes: Code[] = [];
  for (let py = y + step / 2; py < y + height; py += step) {
    for (let px = x + step / 2; px < x + width; px += step) codes.push(codeAt(shot, px, py));
  }
  return codes;
}
