// How strong a box shadow is at a point, and at its visible peak (CSS Backgrounds 3 §6.1.2: blur = Gaussian with σ = blur/2).

/** Geometry of one shadow, CSS px. */
export interface ShadowShape {
  readonly width: number;
  readonly height: number;
  /** Standard deviation: half the blur radius of box-shadow and text-shadow, the third length itself of drop-shadow(). */
  readonly sigma: number;
  readonly spread: number;
  readonly offset: readonly [x: number, y: number];
  readonly inset: boolean;
}

/** Error function, Abramowitz and Stegun 7.1.26; |error| ≤ 1.5e-7. */
function erf(x: number): number {
  const t = 1 / (1 + 0.3275911 * Math.abs(x));
  const series = ((((1.061405429 * t - 1.453152027) * t + 1.421413741) * t - 0.284496736) * t + 0.254829592) * t;
  return Math.sign(x) * (1 - series * Math.exp(-x * x));
}

/** Share of an edge `width` wide, blurred by σ, that is left at `x` from its middle. */
function covered(x: number, width: number, sigma: number): number {
  if (width <= 0) return 0;
  if (sigma <= 0) return Math.abs(x) <= width / 2 ? 1 : 0;
  const phi = (z: number): number => 0.5 * (1 + erf(z / Math.SQRT2));
  return phi((x + width / 2) / sigma) - phi((x - width / 2) / sigma);
}

/**
 * Share of the shadow's own alpha that is painted at a point; corners count as square.
 * @param at CSS px from the middle of the element's border box
 * @returns 0–1
 */
export function shadowShareAt(shape: ShadowShape, at: readonly [x: number, y: number]): number {
  const grow = shape.inset ? -shape.spread : shape.spread;
  const across = covered(at[0] - shape.offset[0], shape.width + 2 * grow, shape.sigma);
  const down = covered(at[1] - shape.offset[1], shape.height + 2 * grow, shape.sigma);
  return shape.inset ? 1 - across * down : across * down;
}

/** Strongest place at the middle of the four edges of the border box, where the shadow stops being hidden by it, or (inset) starts. */
export interface ShadowPeak {
  readonly share: number;
  readonly edge: 'top' | 'right' | 'bottom' | 'left';
}

/** Where the peak is read: the middle of the first pixel outside the box (inset: inside), as a picture would show it. */
const FIRST_PIXEL = 0.5;

/**
 * An outer shadow is painted outside the border box only, and nearest the shadow's own centre it is strongest; along an edge
 * that place may lie beside the middle, so the shadow's offset is followed as far as the edge reaches.
 */
export function shadowPeak(shape: ShadowShape): ShadowPeak {
  const out = shape.inset ? -FIRST_PIXEL : FIRST_PIXEL;
  const [w, h] = [shape.width / 2, shape.height / 2];
  const near = (offset: number, half: number): number => Math.min(half, Math.max(-half, shape.inset ? 0 : offset));
  const [x, y] = [near(shape.offset[0], w), near(shape.offset[1], h)];
  const candidates: readonly ShadowPeak[] = [
    { edge: 'top', share: shadowShareAt(shape, [x, -h - out]) },
    { edge: 'right', share: shadowShareAt(shape, [w + out, y]) },
    { edge: 'bottom', share: shadowShareAt(shape, [x, h + out]) },
    { edge: 'left', share: shadowShareAt(shape, [-w - out, y]) },
  ];
  return candidates.reduce((best, one) => (one.share > best.share ? one : best));
}
