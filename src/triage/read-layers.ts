// Layers of a sample → layers of a case: only those that can be seen, each with what decides its colour.
import type { BlendMode } from '../colour/composite.ts';
import type { Layer, Paint } from '../samples/paint.ts';
import type { CaseLayer } from './case.ts';
import type { PaintRef } from './paint-ref.ts';

/** From the topmost opaque layer up; null when a picture, a gradient or an unreadable layer lies in between. */
export function readLayers(
  theme: number,
  layers: readonly Layer[],
  readPaint: (theme: number, paint: Paint) => PaintRef,
): readonly CaseLayer[] | null {
  const out: CaseLayer[] = [];
  for (let at = layers.length - 1; at >= 0; at -= 1) {
    const layer = layers[at];
    if (layer?.paint === undefined || layer.kind !== 'color') return null;
    const ref = readPaint(theme, layer.paint);
    if (ref.kind === 'unknown') return null;
    if (ref.color.alpha * layer.opacity === 0) continue;
    const blend = blendOf(layer.blend);
    if (blend === null) return null;
    out.unshift({ ref, opacity: layer.opacity, blend });
    if (blend === 'normal' && ref.color.alpha === 1 && layer.opacity === 1) break;
  }
  return out;
}

const BLENDS = {
  normal: true,
  multiply: true,
  screen: true,
  overlay: true,
  darken: true,
  lighten: true,
  'color-dodge': true,
  'color-burn': true,
  'hard-light': true,
  'soft-light': true,
  difference: true,
  exclusion: true,
  hue: true,
  saturation: true,
  color: true,
  luminosity: true,
  'plus-lighter': true,
} satisfies Record<BlendMode, true>;

function blendOf(text: string | undefined): BlendMode | null {
  if (text === undefined) return 'normal';
  return isBlend(text) ? text : null;
}

function isBlend(text: string): text is BlendMode {
  return Object.hasOwn(BLENDS, text);
}
