// Colours that a faulty value could become: hue kept, in the sRGB gamut, 8-bit exact, nearest first.
import type { Color } from '../../colour/color.ts';
import { fromCodes, inSrgbGamut } from '../../colour/color.ts';
import { deltaEOk, fromOklch, toOklch } from '../../colour/lightness.ts';

export interface NearbyColor {
  readonly color: Color;
  /** ΔE OK from the start, and what it hides more. */
  readonly distance: number;
}

/** OKLCH lightness between neighbours of the grid: two 8-bit codes of grey. */
const STEP = 1 / 64;
/** Shares of the chroma that are tried where it is the chroma that hurts. */
const CHROMA_SHARES = [1, 0.85, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1, 0];

/** @param paler true to try less chroma as well */
export function nearbyColors(start: Color, paler: boolean): readonly NearbyColor[] {
  const { chroma, hueDeg } = toOklch(start);
  const found = new Map<string, NearbyColor>();
  for (let step = 0; step <= 1 / STEP; step += 1) {
    for (const share of paler ? CHROMA_SHARES : [1]) {
      const color = { ...fitted({ okLightness: step * STEP, chroma: chroma * share, hueDeg }), alpha: start.alpha };
      // Near black, white and grey many come out the same.
      const name = `${color.r} ${color.g} ${color.b}`;
      if (!found.has(name)) found.set(name, { color, distance: deltaEOk(start, color) });
    }
  }
  // What lets too much through is seen too little, whatever its colour: first of all it may hide more.
  for (let { alpha } = start; start.alpha < 1 && !paler && alpha < 1;) {
    alpha = Math.min(1, alpha + STEP);
    found.set(`${alpha}`, { color: { ...start, alpha: hundredths(alpha) }, distance: hundredths(alpha) - start.alpha });
  }
  return [...found.values()].sort((one, other) => one.distance - other.distance);
}

/** Between two colours in OKLCH, hue of the first. @param share 0 gives `one`, 1 `other` */
export function between(one: Color, other: Color, share: number): Color {
  const [from, to] = [toOklch(one), toOklch(other)];
  const mix = (a: number, b: number): number => a + (b - a) * share;
  const hueDeg = from.chroma === 0 ? to.hueDeg : from.hueDeg;
  const oklch = { okLightness: mix(from.okLightness, to.okLightness), chroma: mix(from.chroma, to.chroma), hueDeg };
  return { ...fitted(oklch), alpha: one.alpha === other.alpha ? one.alpha : hundredths(mix(one.alpha, other.alpha)) };
}

/** As alpha is written; rounded up, so that what was to be hidden is. */
function hundredths(alpha: number): number {
  return Math.ceil(alpha * 100 - 1e-9) / 100;
}

/** The nearest colour that 8 bits of sRGB can show, its hue and lightness kept. */
export function paintable(color: Color): Color {
  return { ...fitted(toOklch(color)), alpha: color.alpha };
}

/** Chroma lowered until the colour is in the gamut, then rounded to 8 bits. */
export function fitted(oklch: { readonly okLightness: number; readonly chroma: number; readonly hueDeg: number }): Color {
  let color = fromOklch(oklch);
  if (!inSrgbGamut(color)) {
    let [inside, outside] = [0, oklch.chroma];
    for (let halving = 0; halving < 10; halving += 1) {
      const middle = (inside + outside) / 2;
      if (inSrgbGamut(fromOklch({ ...oklch, chroma: middle }))) inside = middle;
      else outside = middle;
    }
    color = fromOklch({ ...oklch, chroma: inside });
  }
  const code = (v: number): number => Math.round(Math.min(1, Math.max(0, v)) * 255);
  return fromCodes(code(color.r), code(color.g), code(color.b));
}
