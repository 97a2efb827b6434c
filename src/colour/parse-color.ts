// CSS text → colour, by CSS Color 4 (all notations culori knows: hex, names, rgb, hsl, hwb, lab, lch, oklab, oklch, color()).
import { converter, parse } from 'culori';
import { colorUnreadable } from '../errors/colour-errors.ts';
import type { Color } from './color.ts';

const toRgb = converter('rgb');

/**
 * @param text a CSS colour; surrounding white space is ignored; system colours and `currentcolor` are not colours here
 * @returns the colour in sRGB, unclamped; missing components (`none`) count as 0 (CSS Color 4 §4.4), missing alpha as 1;
 *   null when the text is no colour
 */
export function findColor(text: string): Color | null {
  const trimmed = text.trim();
  const parsed = parse(trimmed);
  if (parsed === undefined) return null;
  const rgb = toRgb(parsed);
  const channels = [rgb.r, rgb.g, rgb.b, rgb.alpha ?? 1];
  if (!channels.every(Number.isFinite)) return null;
  return { r: rgb.r, g: rgb.g, b: rgb.b, alpha: Math.min(1, Math.max(0, rgb.alpha ?? 1)) };
}

/** As `findColor`. @throws GloamError `color-unreadable` */
export function parseColor(text: string): Color {
  const color = findColor(text);
  if (color === null) throw colorUnreadable(text);
  return color;
}
