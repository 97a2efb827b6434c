// A colour that no sRGB screen can paint → the nearest of its lightness and hue that one can: less chroma (CSS Color 4, section 13.2).
import type { Opaque } from './color.ts';
import { inSrgbGamut } from './color.ts';
import { fromOklch, toOklch } from './lightness.ts';

/** Halvings of the chroma; the last is far below one 8-bit code. */
const HALVINGS = 20;

export function intoSrgb(color: Opaque): Opaque {
  if (inSrgbGamut(color)) return color;
  const { okLightness, chroma, hueDeg } = toOklch(color);
  const lightness = Math.min(1, Math.max(0, okLightness));
  let [inside, outside] = [0, chroma];
  for (let i = 0; i < HALVINGS; i += 1) {
    const middle = (inside + outside) / 2;
    if (inSrgbGamut(fromOklch({ okLightness: lightness, chroma: middle, hueDeg }))) inside = middle;
    else outside = middle;
  }
  return fromOklch({ okLightness: lightness, chroma: inside, hueDeg });
}
