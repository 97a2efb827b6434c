// Layers → the colour seen, with some of them replaced; the same sums the browser does (Compositing and Blending 1).
import type { Color, Opaque } from '../../colour/color.ts';
import { isOpaque, WHITE } from '../../colour/color.ts';
import { blendOver, over, withOpacity } from '../../colour/composite.ts';
import type { CaseLayer } from '../cases/case.ts';

/** Colour of layer `at`, opacity not yet applied; null when it cannot be told. */
export type LayerColor = (layer: CaseLayer, at: number) => Color | null;

/** @returns what is seen; null when a layer's colour cannot be told. Below the lowest layer lies white (the browser's canvas). */
export function compositeLayers(layers: readonly CaseLayer[], colorOf: LayerColor): Opaque | null {
  let below: Opaque = WHITE;
  for (let at = 0; at < layers.length; at += 1) {
    const layer = layers[at];
    if (layer === undefined) break;
    const own = colorOf(layer, at);
    if (own === null) return null;
    const color = layer.tint === undefined ? own : over(layer.tint, own);
    const painted = layer.opacity === 1 ? color : withOpacity(color, layer.opacity);
    if (layer.blend !== 'normal') below = blendOver(layer.blend, painted, below);
    else below = isOpaque(painted) ? painted : over(painted, below);
  }
  return below;
}

/** `share`: the part of the colour that arrives (shadows at their peak), 0–1. */
export function compositeFore(color: Color, part: { readonly opacity: number; readonly share: number }, back: Opaque): Opaque {
  const factor = part.opacity * part.share;
  if (factor === 1 && isOpaque(color)) return color;
  return over(withOpacity(color, factor), back);
}

/** Painted colours come rounded, and each layer may add one code (measured: up to 2 codes apart from the formulas). */
const PAINTED_GRACE = 2.5 / 255;

export function looksAlike(one: Color, other: Color, grace = PAINTED_GRACE): boolean {
  const [a, b] = [asPainted(one), asPainted(other)];
  return Math.abs(a.r - b.r) <= grace && Math.abs(a.g - b.g) <= grace && Math.abs(a.b - b.b) <= grace;
}

/** Colours beyond sRGB are painted clipped, channel by channel (measured; CSS Color 4 §13 would have less chroma instead). */
export function asPainted<C extends Color>(color: C): C {
  const clip = (channel: number): number => Math.min(1, Math.max(0, channel));
  return { ...color, r: clip(color.r), g: clip(color.g), b: clip(color.b) };
}

/**
 * The share of a shadow's own alpha that arrives where it is strongest, from what was seen there.
 * @returns 0–1; 1 where the shadow cannot be told from what lies beneath
 */
export function arrivingShare(paint: Color, pair: { readonly seen: Color; readonly beneath: Color }): number {
  let along = 0;
  let length = 0;
  for (const channel of ['r', 'g', 'b'] as const) {
    const step = paint[channel] - pair.beneath[channel];
    along += step * (pair.seen[channel] - pair.beneath[channel]);
    length += step * step;
  }
  if (length < 1e-6 || paint.alpha === 0) return 1;
  return Math.min(1, Math.max(0, along / length / paint.alpha));
}
