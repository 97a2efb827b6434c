// The most chromatic colour that sRGB has at an OKLCH hue: on the six primary–secondary edges of the sRGB cube.
import type { Color } from './color.ts';
import { toOklch } from './lightness.ts';

/** Corners of the cube in order of hue; each neighbour differs in one channel only. */
const CORNERS: readonly Color[] = [
  { r: 1, g: 0, b: 0, alpha: 1 },
  { r: 1, g: 1, b: 0, alpha: 1 },
  { r: 0, g: 1, b: 0, alpha: 1 },
  { r: 0, g: 1, b: 1, alpha: 1 },
  { r: 0, g: 0, b: 1, alpha: 1 },
  { r: 1, g: 0, b: 1, alpha: 1 },
];

/** Points on each edge; with linear interpolation between them the chroma is right to .0005 (tests compare with a fine search). */
const STEPS = 64;

interface Knot {
  readonly hueDeg: number;
  readonly chroma: number;
}

const KNOTS: readonly Knot[] = CORNERS.flatMap((from, i) => {
  const to = CORNERS[(i + 1) % CORNERS.length] ?? from;
  return Array.from({ length: STEPS }, (_, step) => knot(from, to, step / STEPS));
}).sort((one, other) => one.hueDeg - other.hueDeg);

function knot(from: Color, to: Color, share: number): Knot {
  const mix = (a: number, b: number): number => a + (b - a) * share;
  const { hueDeg, chroma } = toOklch({ r: mix(from.r, to.r), g: mix(from.g, to.g), b: mix(from.b, to.b), alpha: 1 });
  return { hueDeg, chroma };
}

/** @param hueDeg OKLCH hue, any number of degrees @returns OKLCH chroma, about .15 (cyan) to .32 (magenta) */
export function cuspChroma(hueDeg: number): number {
  const hue = ((hueDeg % 360) + 360) % 360;
  const found = KNOTS.findIndex((k) => k.hueDeg > hue);
  const after = KNOTS[found === -1 ? 0 : found];
  const before = KNOTS[found <= 0 ? KNOTS.length - 1 : found - 1];
  if (before === undefined || after === undefined) return 0;
  const span = (after.hueDeg - before.hueDeg + 360) % 360;
  const share = span === 0 ? 0 : ((hue - before.hueDeg + 360) % 360) / span;
  return before.chroma + (after.chroma - before.chroma) * share;
}

/** Chroma as a share of the cusp at the same hue, 0–1 (capped: wide-gamut colours count as 1). */
export function cuspShare(color: { readonly chroma: number; readonly hueDeg: number }): number {
  return Math.min(1, color.chroma / cuspChroma(color.hueDeg));
}
