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

/** Once around; near blue the hue runs back a little, so a hue may be met on two edges. */
function knots(): readonly Knot[] {
  return CORNERS.flatMap((from, i) => {
    const to = CORNERS[(i + 1) % CORNERS.length] ?? from;
    return Array.from({ length: STEPS }, (_, step) => knot(from, to, step / STEPS));
  });
}

function knot(from: Color, to: Color, share: number): Knot {
  const mix = (a: number, b: number): number => a + (b - a) * share;
  const { hueDeg, chroma } = toOklch({ r: mix(from.r, to.r), g: mix(from.g, to.g), b: mix(from.b, to.b), alpha: 1 });
  return { hueDeg, chroma };
}

interface Edge {
  readonly before: Knot;
  readonly after: Knot;
}

/** Made when first asked for: commands that judge no colour start sooner. */
let edgesByDegree: readonly (readonly Edge[])[] | undefined;

/** Edges that may cross a whole degree of hue or the next; so that asking costs a few steps, not a turn around the cube. */
function makeEdgesByDegree(): readonly (readonly Edge[])[] {
  const around = knots();
  return Array.from({ length: 360 }, (_, degree) =>
    around.flatMap((before, i) => {
      const after = around[(i + 1) % around.length] ?? before;
      const [from, to] = [turnBetween(degree, before.hueDeg), turnBetween(degree, after.hueDeg)];
      const isNear = Math.abs(from) <= 90 && Math.abs(to) <= 90 && Math.max(from, to) >= 0 && Math.min(from, to) <= 1;
      return isNear ? [{ before, after }] : [];
    }),
  );
}

/** @param hueDeg OKLCH hue, any number of degrees @returns OKLCH chroma, about .15 (cyan) to .32 (magenta) */
export function cuspChroma(hueDeg: number): number {
  edgesByDegree ??= makeEdgesByDegree();
  let most = 0;
  const wholeDeg = ((Math.floor(hueDeg) % 360) + 360) % 360;
  for (const { before, after } of edgesByDegree[wholeDeg] ?? []) {
    const [left, right] = [turnBetween(before.hueDeg, hueDeg), turnBetween(after.hueDeg, hueDeg)];
    if (left * right > 0 || Math.abs(left - right) > 90) continue;
    const share = left === right ? 0 : left / (left - right);
    most = Math.max(most, before.chroma + (after.chroma - before.chroma) * share);
  }
  return most;
}

/** From one hue to another, −180 to 180. */
function turnBetween(from: number, to: number): number {
  return ((((to - from) % 360) + 540) % 360) - 180;
}

/** Chroma as a share of the cusp at the same hue, 0–1 (capped: wide-gamut colours count as 1). */
export function cuspShare(color: { readonly chroma: number; readonly hueDeg: number }): number {
  return Math.min(1, color.chroma / cuspChroma(color.hueDeg));
}
