// How colourful and how light a colour looks: CAM16 in its surroundings (Li and others 2017) and lightness with the
// Helmholtz–Kohlrausch effect (High, Green, Nussbaum 2023).
import type { Opaque } from './color.ts';
import { toLinear } from './contrast-ratio.ts';
import { toLab65 } from './lightness.ts';

/** CIE XYZ, Y of white = 100. */
export type Xyz = readonly [x: number, y: number, z: number];

/** Conditions of seeing, CAM16 §"viewing conditions". */
export interface Viewing {
  readonly white: Xyz;
  /** Luminance of the adapting field in cd/m²; usually 20 % of white. */
  readonly adaptingLuminance: number;
  /** Relative luminance of the background × 100; above 0. */
  readonly background: number;
  readonly surround: Surround;
}

export type Surround = 'average' | 'dim' | 'dark';

export interface Appearance {
  /** J, 0–100. */
  readonly lightness: number;
  /** C. */
  readonly chroma: number;
  /** h. */
  readonly hueDeg: number;
  /** M: how colourful it looks here. */
  readonly colourfulness: number;
  /** s. */
  readonly saturation: number;
  /** Q. */
  readonly brightness: number;
}

/** Degree of adaptation F, impact of surround c, chromatic induction N_c (Li and others 2017, table A1). */
const SURROUNDS: Readonly<Record<Surround, { readonly f: number; readonly c: number; readonly nc: number }>> = {
  average: { f: 1, c: 0.69, nc: 1 },
  dim: { f: 0.9, c: 0.59, nc: 0.9 },
  dark: { f: 0.8, c: 0.525, nc: 0.8 },
};

/** D65 as CSS Color 4 defines it (x .3127, y .3290). */
export const D65: Xyz = [(100 * 0.3127) / 0.329, 100, (100 * (1 - 0.3127 - 0.329)) / 0.329];

/** sRGB → XYZ (D65), Y of white = 100; the matrix of CSS Color 4 §18. */
export function toXyz(color: Opaque): Xyz {
  const [r, g, b] = [toLinear(color.r), toLinear(color.g), toLinear(color.b)];
  return [
    100 * ((506752 / 1228815) * r + (87881 / 245763) * g + (12673 / 70218) * b),
    100 * ((87098 / 409605) * r + (175762 / 245763) * g + (12673 / 175545) * b),
    100 * ((7918 / 409605) * r + (87881 / 737289) * g + (1001167 / 1053270) * b),
  ];
}

/** CAM16 forward model; the illuminant is not discounted. */
export function cam16(color: Xyz, viewing: Viewing): Appearance {
  const { f, c, nc } = SURROUNDS[viewing.surround];
  const la = viewing.adaptingLuminance;
  const k4 = (1 / (5 * la + 1)) ** 4;
  const fl = 0.2 * k4 * 5 * la + 0.1 * (1 - k4) ** 2 * Math.cbrt(5 * la);
  const n = viewing.background / viewing.white[1];
  const z = 1.48 + Math.sqrt(n);
  const nbb = 0.725 * n ** -0.2;
  const d = Math.min(1, Math.max(0, f * (1 - Math.exp((-la - 42) / 92) / 3.6)));

  const coneWhite = cone(viewing.white);
  const adapt = (xyz: Xyz): Xyz => {
    const response = cone(xyz);
    const one = (i: 0 | 1 | 2): number => compress((d * (viewing.white[1] / coneWhite[i]) + 1 - d) * response[i], fl);
    return [one(0), one(1), one(2)];
  };
  const [r, g, b] = adapt(color);
  const white = adapt(viewing.white);

  const redGreen = r - (12 * g) / 11 + b / 11;
  const yellowBlue = (r + g - 2 * b) / 9;
  const hue = Math.atan2(yellowBlue, redGreen);
  const eccentricity = 0.25 * (Math.cos(hue + 2) + 3.8);
  const whiteResponse = nbb * (2 * white[0] + white[1] + white[2] / 20);
  const response = Math.max(0, nbb * (2 * r + g + b / 20));
  const rootLightness = (response / whiteResponse) ** ((c * z) / 2);
  const t = ((50000 / 13) * nc * nbb * eccentricity * Math.hypot(redGreen, yellowBlue)) / (r + g + (21 / 20) * b + 0.305);
  const alpha = t ** 0.9 * (1.64 - 0.29 ** n) ** 0.73;
  return {
    lightness: 100 * rootLightness ** 2,
    chroma: alpha * rootLightness,
    hueDeg: ((hue * 180) / Math.PI + 360) % 360,
    colourfulness: alpha * rootLightness * fl ** 0.25,
    saturation: 50 * Math.sqrt((alpha * c) / (whiteResponse + 4)),
    brightness: (4 / c) * rootLightness * (whiteResponse + 4) * fl ** 0.25,
  };
}

/** CAT16. */
function cone([x, y, z]: Xyz): Xyz {
  return [
    0.401288 * x + 0.650173 * y - 0.051461 * z,
    -0.250268 * x + 1.204414 * y + 0.045854 * z,
    -0.002079 * x + 0.048952 * y + 0.953127 * z,
  ];
}

function compress(response: number, fl: number): number {
  const p = ((fl * Math.abs(response)) / 100) ** 0.42;
  return (Math.sign(response) * 400 * p) / (p + 27.13);
}

/** L_EAL, the L* of the grey that looks as light (High, Green, Nussbaum 2023, CIELAB with D65 white); may exceed 100. */
export function equivalentLightness(color: Opaque): number {
  const { lightness, a, b } = toLab65(color);
  const hue = (Math.atan2(b, a) * 180) / Math.PI;
  const radians = Math.PI / 180;
  const blueYellow = 0.1644 * Math.abs(Math.sin(((hue - 90) / 2) * radians)) + 0.0603;
  const red = Math.abs(hue) <= 90 ? 0.1307 * Math.abs(Math.cos(hue * radians)) + 0.006 : 0;
  return lightness + (blueYellow + red) * Math.hypot(a, b);
}
