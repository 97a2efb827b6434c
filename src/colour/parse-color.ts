// CSS text → colour, by CSS Color 4 (all notations culori knows: hex, names, rgb, hsl, hwb, lab, lch, oklab, oklch, color()).
import { converter, parse } from 'culori';
import type { Rgb } from 'culori';
import { colorUnreadable } from '../errors/colour-errors.ts';
import type { Color } from './color.ts';

const toRgb = converter('rgb');

/**
 * @param text a CSS colour; surrounding white space is ignored; system colours and `currentcolor` are not colours here
 * @returns the colour in sRGB, unclamped; missing components (`none`) count as 0 (CSS Color 4 §4.4), missing alpha as 1;
 *   null when the text is no colour
 */
export function findColor(text: string): Color | null {
  const parsed = read(text.trim());
  if (parsed === undefined) return null;
  const rgb: Partial<Rgb> = toRgb(parsed);
  // culori leaves out what is written as `none` in rgb() and color(srgb), whatever its types say
  const { r = 0, g = 0, b = 0, alpha = 1 } = rgb;
  return [r, g, b, alpha].every(Number.isFinite) ? { r, g, b, alpha: Math.min(1, Math.max(0, alpha)) } : null;
}

/** culori throws on some functions that are no colours, as `blur(1px)`, and takes `100` and `face` for hex without `#`; no name is all hex digits. */
function read(text: string): ReturnType<typeof parse> {
  if (/^[\da-f]+$/i.test(text)) return undefined;
  try {
    return parse(text);
  } catch {
    return undefined;
  }
}

/** As `findColor`. @throws GloamError `color-unreadable` */
export function parseColor(text: string): Color {
  const color = findColor(text);
  if (color === null) throw colorUnreadable(text);
  return color;
}
