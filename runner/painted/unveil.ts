// A pixel seen through flat veils → the same without them: source-over (Compositing 1 §5) solved for what lies beneath.
import { findColor } from '../../src/colour/parse-color.ts';
import type { WireVeil } from '../page/wire/places.ts';
import type { Code } from './pixels.ts';

/** Through more than this nothing can be told: one code of rounding stands for twenty (ours). */
const DENSEST = 0.95;

/** @param veils lowest first @param x CSS px @param y CSS px @returns the pixel itself where no veil lies, or one that is too dense */
export function withoutVeils(veils: readonly WireVeil[], x: number, y: number, code: Code): Code {
  return veils.reduceRight((seen, { rect: [left, top, width, height], color, opacity = 1 }) => {
    const veil = findColor(color);
    if (veil === null || x < left || y < top || x >= left + width || y >= top + height) return seen;
    const alpha = veil.alpha * opacity;
    if (alpha > DENSEST) return seen;
    const beneath = (shift: number, channel: number): number =>
      Math.min(255, Math.max(0, Math.round((((seen >> shift) & 255) - alpha * channel * 255) / (1 - alpha))));
    return (beneath(16, veil.r) << 16) | (beneath(8, veil.g) << 8) | beneath(0, veil.b);
  }, code);
}
