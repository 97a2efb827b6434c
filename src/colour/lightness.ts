// Lightness, chroma, hue and colour differences (CIE 15; OKLab after Ottosson in CSS Color 4 §9; ISO/CIE 11664-6).
import { converter, differenceCiede2000, differenceEuclidean } from 'culori';
import type { Color, Opaque } from './color.ts';
import { relativeLuminance } from './contrast-ratio.ts';

const oklchOf = converter('oklch');
const rgbOf = converter('rgb');
const lab65Of = converter('lab65');
const ciede2000 = differenceCiede2000();
const euclidOk = differenceEuclidean('oklab');

export interface Oklch {
  /** 0–1. */
  readonly okLightness: number;
  /** From 0; sRGB reaches about 0.32. */
  readonly chroma: number;
  /** Degrees 0–360; 0 where the colour is achromatic. */
  readonly hueDeg: number;
}

export interface Lab {
  readonly lightness: number;
  readonly a: number;
  readonly b: number;
}

const culoriRgb = (color: Color): { mode: 'rgb'; r: number; g: number; b: number } => ({
  mode: 'rgb',
  r: color.r,
  g: color.g,
  b: color.b,
});

/** CIE L* between what reads as dark and as light (ours). */
export const MIDDLE_LIGHTNESS = 50;

/** CIE L* 0–100 of the WCAG relative luminance, D65 white (CIE 15). */
export function cieLightness(color: Opaque): number {
  return lightnessOfLuminance(relativeLuminance(color));
}

/** @param luminance 0–1 */
export function lightnessOfLuminance(luminance: number): number {
  return luminance > 216 / 24389 ? 116 * Math.cbrt(luminance) - 16 : (luminance * 24389) / 27;
}

/** The inverse of `lightnessOfLuminance`. @param lightness 0–100 @returns 0–1 */
export function luminanceOfLightness(lightness: number): number {
  return lightness > 8 ? ((lightness + 16) / 116) ** 3 : (lightness * 27) / 24389;
}

/** Alpha is left out. */
export function toOklch(color: Color): Oklch {
  const { l, c, h } = oklchOf(culoriRgb(color));
  const achromatic = c < 1e-4;
  return { okLightness: l, chroma: achromatic ? 0 : c, hueDeg: achromatic ? 0 : (h ?? 0) };
}

/** @returns sRGB, unclamped; test with `inSrgbGamut` */
export function fromOklch(oklch: Oklch): Opaque {
  const { r, g, b } = rgbOf({ mode: 'oklch', l: oklch.okLightness, c: oklch.chroma, h: oklch.hueDeg });
  return { r, g, b, alpha: 1 };
}

/** CIE L*a*b* with D65 white. */
export function toLab65(color: Color): Lab {
  const { l, a, b } = lab65Of(culoriRgb(color));
  return { lightness: l, a, b };
}

/** CIEDE2000 with D65 white; alpha is left out. About 1 is just noticeable (from memory, common practice). */
export function deltaE2000(one: Color, other: Color): number {
  return ciede2000(lab65Of(culoriRgb(one)), lab65Of(culoriRgb(other)));
}

/** CIEDE2000 of Lab values. */
export function deltaE2000OfLab(one: Lab, other: Lab): number {
  return ciede2000(
    { mode: 'lab65', l: one.lightness, a: one.a, b: one.b },
    { mode: 'lab65', l: other.lightness, a: other.a, b: other.b },
  );
}

/** What differs besides lightness: the distance of a and b in OKLab, where near black a step of one code of grey is large and is not seen. */
export function tintDistanceOk(one: Color, other: Color): number {
  const [from, to] = [one, other].map((color) => {
    const { chroma, hueDeg } = toOklch(color);
    const angle = (hueDeg / 180) * Math.PI;
    return [chroma * Math.cos(angle), chroma * Math.sin(angle)] as const;
  });
  return from === undefined || to === undefined ? 0 : Math.hypot(from[0] - to[0], from[1] - to[1]);
}

/** Euclidean distance in OKLab; .02 is just noticeable (CSS Color 4 §13.2). */
export function deltaEOk(one: Color, other: Color): number {
  return euclidOk(culoriRgb(one), culoriRgb(other));
}
