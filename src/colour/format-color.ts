// Colour → text as the exports use it.
import type { Color } from './color.ts';
import { inSrgbGamut } from './color.ts';
import { toOklch } from './lightness.ts';

const code = (value: number): number => Math.round(Math.min(1, Math.max(0, value)) * 255);
const pair = (value: number): string => code(value).toString(16).padStart(2, '0');
const short = (value: number): string => String(Number(value.toFixed(5)));

/** `#rrggbb`, the nearest 8-bit colour; alpha is left out, channels outside the gamut are clipped. */
export function toHex(color: Color): string {
  return `#${pair(color.r)}${pair(color.g)}${pair(color.b)}`;
}

/** `#rrggbb` in the sRGB gamut, else `color(srgb r g b)`; with alpha below 1 `rgb(r g b / a)` or `color(srgb … / a)`. */
export function toCssText(color: Color): string {
  const inside = inSrgbGamut(color);
  if (color.alpha === 1) {
    return inside ? toHex(color) : `color(srgb ${short(color.r)} ${short(color.g)} ${short(color.b)})`;
  }
  const alpha = short(color.alpha);
  return inside
    ? `rgb(${String(code(color.r))} ${String(code(color.g))} ${String(code(color.b))} / ${alpha})`
    : `color(srgb ${short(color.r)} ${short(color.g)} ${short(color.b)} / ${alpha})`;
}

/** For sentences: as `toCssText` in the sRGB gamut, beyond it `oklch(L% C H)`, in which such colours are written. */
export function toReadableText(color: Color): string {
  if (inSrgbGamut(color)) return toCssText(color);
  const { okLightness, chroma, hueDeg } = toOklch(color);
  const alpha = color.alpha === 1 ? '' : ` / ${short(color.alpha)}`;
  return `oklch(${(okLightness * 100).toFixed(1)}% ${chroma.toFixed(3)} ${hueDeg.toFixed(1)}${alpha})`;
}
