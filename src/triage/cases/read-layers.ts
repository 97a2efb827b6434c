// Layers of a sample → layers of a case: only those that can be seen, each with what decides its colour.
import type { Color } from '../../colour/color.ts';
import type { BlendMode } from '../../colour/composite.ts';
import { isBlendMode, over } from '../../colour/composite.ts';
import { findColor } from '../../colour/parse-color.ts';
import type { Layer } from '../../samples/paint.ts';
import type { CaseLayer } from './case.ts';
import type { PaintReader } from './paint-ref.ts';

export interface ReadLayers {
  /** Bottom first. */
  readonly layers: readonly CaseLayer[];
  /** Equal for equal layers of one theme; short, since it is made for every sample. */
  readonly mark: string;
}

/** From the topmost opaque layer up; null when a picture, a gradient or an unreadable layer lies in between. */
export function readLayers(theme: number, layers: readonly Layer[], readPaint: PaintReader): ReadLayers | null {
  const out: CaseLayer[] = [];
  let mark = '';
  let tint: Color | undefined;
  for (let at = layers.length - 1; at >= 0; at -= 1) {
    const layer = layers[at];
    if (layer?.paint === undefined || layer.kind !== 'color') return null;
    const { number, ref } = readPaint(theme, layer.paint);
    if (ref.kind === 'unknown') return null;
    if (ref.color.alpha * layer.opacity === 0) continue;
    const blend = blendOf(layer.blend);
    if (blend === null) return null;
    if (ref.color.alpha < 1 && isTintOf(layer, layers[at - 1])) {
      tint = tint === undefined ? ref.color : over(tint, ref.color);
      mark += `+${number}`;
      continue;
    }
    out.push({ ref, ...(tint === undefined ? {} : { tint }), opacity: layer.opacity, blend });
    tint = undefined;
    const isPlain = blend === 'normal' && layer.opacity === 1;
    mark += isPlain ? `/${number}` : `/${number}@${layer.opacity}${blend}`;
    if (isPlain && ref.color.alpha === 1) break;
  }
  return { layers: out.reverse(), mark };
}

const LAID_ON: ReadonlySet<string> = new Set(['background-image', 'box-shadow']);

/** Laid on what else the same box paints. */
function isTintOf({ selector, paint }: Layer, below: Layer | undefined): boolean {
  return LAID_ON.has(paint?.property ?? '') && below?.selector === selector && isSeen(below);
}

function isSeen({ kind, paint }: Layer): boolean {
  const color = kind === 'color' && paint !== undefined ? findColor(paint.color) : null;
  return color !== null && color.alpha > 0;
}

function blendOf(text: string | undefined): BlendMode | null {
  if (text === undefined) return 'normal';
  return isBlendMode(text) ? text : null;
}
