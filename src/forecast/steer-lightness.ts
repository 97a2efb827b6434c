// A colour moved along one of lightness, chroma and hue: the others stay as far as sRGB holds them. 8-bit exact, as token files write it.
import type { Color, Opaque } from '../colour/color.ts';
import { opaque } from '../colour/color.ts';
import { intoSrgb } from '../colour/into-gamut.ts';
import { cieLightness, fromOklch, toOklch } from '../colour/lightness.ts';

export interface Polar {
  /** CIE L*, 0–100. */
  readonly lightness: number;
  /** OKLCH. */
  readonly chroma: number;
  readonly hueDeg: number;
}

export function polarOf(color: Color): Polar {
  const { chroma, hueDeg } = toOklch(opaque(color));
  return { lightness: cieLightness(opaque(color)), chroma, hueDeg };
}

/** @param lightness CIE L*, 0–100: hue and chroma stay as far as sRGB holds them there */
export function withLightness(color: Color, lightness: number): Opaque {
  const { chroma, hueDeg } = toOklch(opaque(color));
  return ofPolar({ lightness, chroma, hueDeg });
}

/** The lightness is met by halving, since it follows from all three of OKLCH. */
export function ofPolar({ lightness, chroma, hueDeg }: Polar): Opaque {
  let [dark, light] = [0, 1];
  let best = intoSrgb(fromOklch({ okLightness: 0, chroma, hueDeg }));
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (dark + light) / 2;
    const color = intoSrgb(fromOklch({ okLightness: middle, chroma, hueDeg }));
    if (Math.abs(cieLightness(color) - lightness) < Math.abs(cieLightness(best) - lightness)) best = color;
    if (cieLightness(color) < lightness) dark = middle;
    else light = middle;
  }
  return rounded(best);
}

const HALVINGS = 12;

function rounded(color: Opaque): Opaque {
  const code = (channel: number): number => Math.min(1, Math.max(0, Math.round(channel * 255) / 255));
  return opaque({ r: code(color.r), g: code(color.g), b: code(color.b) });
}
