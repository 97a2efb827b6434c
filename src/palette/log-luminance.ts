// The scale on which a contrast ratio is a difference: the natural logarithm of relative luminance plus 0.05 (WCAG 2.2, "contrast ratio").
import type { Color } from '../colour/color.ts';
import { opaque } from '../colour/color.ts';
import { relativeLuminance } from '../colour/contrast-ratio.ts';
import { luminanceOfLightness, lightnessOfLuminance, toOklch } from '../colour/lightness.ts';
import { fitted } from '../triage/propose/nearby-colors.ts';

/** The `0.05` of WCAG's ratio. */
const FLARE = 0.05;

/** Black and white. */
export const LEAST_LOG = Math.log(FLARE);
export const MOST_LOG = Math.log(1 + FLARE);

/** Where black and white reach the same contrast: √(0.05 · 1.05) (arithmetic on WCAG's formula). */
export const MIDDLE_LOG = (LEAST_LOG + MOST_LOG) / 2;

/** Alpha is left out. @returns `LEAST_LOG` to `MOST_LOG` */
export function logLuminance(color: Color): number {
  return Math.log(relativeLuminance(opaque(color)) + FLARE);
}

/** CIE L*, 0–100, of a place on the scale. */
export function lightnessOfLog(log: number): number {
  return lightnessOfLuminance(Math.max(0, Math.exp(log) - FLARE));
}

/** The inverse of `lightnessOfLog`. */
export function logOfLightness(lightness: number): number {
  return Math.log(luminanceOfLightness(Math.min(100, Math.max(0, lightness))) + FLARE);
}

/**
 * The colour moved to another luminance: hue and alpha stay, chroma too as far as sRGB holds it there.
 * @returns 8-bit exact; of two neighbouring codes the nearer one
 */
export function colorAt(start: Color, log: number): Color {
  const { chroma, hueDeg } = toOklch(start);
  let [dark, light] = [0, 1];
  let best = fitted({ okLightness: 0, chroma, hueDeg });
  for (let halving = 0; halving < 14; halving += 1) {
    const middle = (dark + light) / 2;
    const color = fitted({ okLightness: middle, chroma, hueDeg });
    if (Math.abs(logLuminance(color) - log) < Math.abs(logLuminance(best) - log)) best = color;
    if (logLuminance(color) < log) dark = middle;
    else light = middle;
  }
  return { ...best, alpha: start.alpha };
}
