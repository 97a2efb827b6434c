// Layers of a sample → layers of a case: only those that can be seen, each with what decides its colour.
import type { BlendMode } from '../../colour/composite.ts';
import { isBlendMode } from '../../colour/composite.ts';
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
  for (let at = layers.length - 1; at >= 0; at -= 1) {
    const layer = layers[at];
    if (layer?.paint === undefined || layer.kind !== 'color') return null;
    const { number, ref } = readPaint(theme, layer.paint);
    if (ref.kind === 'unknown') return null;
    if (ref.color.alpha * layer.opacity === 0) continue;
    const blend = blendOf(layer.blend);
    if (blend === null) return null;
    out.push({ ref, opacity: layer.opacity, blend });
    const isPlain = blend === 'normal' && layer.opacity === 1;
    mark += isPlain ? `/${number}` : `/${number}@${layer.opacity}${blend}`;
    if (isPlain && ref.color.alpha === 1) break;
  }
  return { layers: out.reverse(), mark };
}

function blendOf(text: string | undefined): BlendMode | null {
  if (text === undefined) return 'normal';
  return isBlendMode(text) ? text : null;
}
