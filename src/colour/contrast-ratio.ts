// Relative luminance and contrast ratio of WCAG 2.2 (definitions "relative luminance", "contrast ratio").
import type { Opaque } from './color.ts';

/** One gamma-encoded channel, 0–1 → linear light, 0–1. Cut at 0.04045 (IEC 61966-2-1; WCAG since May 2021). */
export function toLinear(channel: number): number {
  const code = Math.round(channel * 255);
  // Most colours are 8-bit codes, and powers are dear.
  return code / 255 === channel ? (LINEAR[code] ?? decoded(channel)) : decoded(channel);
}

function decoded(channel: number): number {
  return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
}

const LINEAR: readonly number[] = Array.from({ length: 256 }, (_, code) => decoded(code / 255));

/** One linear channel → gamma-encoded; the inverse of `toLinear`. */
export function toEncoded(channel: number): number {
  return channel <= 0.0031308 ? channel * 12.92 : 1.055 * channel ** (1 / 2.4) - 0.055;
}

const clamp = (v: number): number => Math.min(1, Math.max(0, v));

/** 0 (black) to 1 (white); channels outside sRGB are clipped, since that is what a screen shows. Four-decimal coefficients of WCAG. */
export function relativeLuminance(color: Opaque): number {
  return 0.2126 * toLinear(clamp(color.r)) + 0.7152 * toLinear(clamp(color.g)) + 0.0722 * toLinear(clamp(color.b));
}

/** Contrast ratio of two luminances (0–1 each), 1–21, in either order. */
export function luminanceRatio(a: number, b: number): number {
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

/** 1–21, unrounded; symmetric. */
export function contrastRatio(pair: { readonly ink: Opaque; readonly background: Opaque }): number {
  return luminanceRatio(relativeLuminance(pair.ink), relativeLuminance(pair.background));
}

/** For people: cut (not rounded) to two decimals, so that 4.499 never reads as 4.5. */
export function showRatio(ratio: number): string {
  return (Math.floor(ratio * 100 + 1e-9) / 100).toFixed(2);
}
