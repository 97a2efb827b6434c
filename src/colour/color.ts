// The one colour type of the core: gamma-encoded sRGB with alpha; outside the sRGB gamut channels leave 0–1.

export interface Color {
  /** Red, green, blue: 0–1 inside the sRGB gamut, gamma-encoded (IEC 61966-2-1). */
  readonly r: number;
  readonly g: number;
  readonly b: number;
  /** 0 (transparent) to 1. */
  readonly alpha: number;
}

/** A colour that lets nothing through; what contrast and lightness are defined on. */
export interface Opaque extends Color {
  readonly alpha: 1;
}

export const WHITE: Opaque = { r: 1, g: 1, b: 1, alpha: 1 };
export const BLACK: Opaque = { r: 0, g: 0, b: 0, alpha: 1 };
export const TRANSPARENT: Color = { r: 0, g: 0, b: 0, alpha: 0 };

export function isOpaque(color: Color): color is Opaque {
  return color.alpha === 1;
}

/** The colour without its alpha. For what is known to be opaque; to flatten a translucent colour use `over`. */
export function opaque(color: { readonly r: number; readonly g: number; readonly b: number }): Opaque {
  return { r: color.r, g: color.g, b: color.b, alpha: 1 };
}

/** From 8-bit codes, 0–255 each. */
export function fromCodes(red: number, green: number, blue: number): Opaque {
  return { r: red / 255, g: green / 255, b: blue / 255, alpha: 1 };
}

/** Inside the sRGB gamut, with half an 8-bit code of grace in each channel. */
export function inSrgbGamut(color: Color): boolean {
  const grace = 0.5 / 255;
  const inside = (v: number): boolean => v >= -grace && v <= 1 + grace;
  return inside(color.r) && inside(color.g) && inside(color.b);
}
