// What the page said about its text runs → samples with colours, contrast and verdict.
import type { Color, Opaque } from '../../src/colour/color.ts';
import { TRANSPARENT, WHITE, opaque } from '../../src/colour/color.ts';
import type { BlendMode } from '../../src/colour/composite.ts';
import { withOpacity } from '../../src/colour/composite.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { ContrastLevel } from '../../src/colour/text-requirement.ts';
import { isLargeText, requiredContrast } from '../../src/colour/text-requirement.ts';
import type { Layer, Origin } from '../../src/samples/paint.ts';
import type { TextSample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { WireGround, WireText } from '../page/wire.ts';
import type { GroundPaint } from './ground-color.ts';
import { paintChain } from './ground-color.ts';

export type OriginOf = (selector: string, property: string) => Origin;

export const NOT_TRACED: OriginOf = () => ({ kind: 'unknown', why: 'not traced' });

export function textSamples(view: string, text: WireText, level: ContrastLevel, originOf: OriginOf): readonly TextSample[] {
  const canvas = toOpaque(text.canvas);
  return text.runs.map((run) => {
    const grounds = chainOf(text.grounds, run.ground);
    const chain = grounds.map(toPaint);
    const inkColor = findColor(run.ink) ?? TRANSPARENT;
    const background = paintChain(canvas, chain, null);
    const ink = paintChain(canvas, chain, withOpacity(inkColor, run.inkAlpha ?? 1));
    const contrast = contrastRatio({ ink, background });
    const large = isLargeText({ fontSizeCssPx: run.fontSize, fontWeight: run.fontWeight });
    const required = requiredContrast(large, level);
    return {
      kind: 'text',
      view,
      selector: run.selector,
      key: run.key,
      rect: around(run.rects),
      ...(run.exemptions === undefined ? {} : { exemptions: run.exemptions }),
      ...(run.owner === undefined ? {} : { owner: run.owner }),
      text: run.text,
      color: toHex(ink),
      background: toHex(background),
      backgroundSpread: [toHex(background)],
      contrast: { min: contrast, max: contrast },
      fontSize: run.fontSize,
      fontWeight: run.fontWeight,
      large,
      required: run.exempt === undefined ? required : null,
      exempt: run.exempt?.reason ?? null,
      verdict: run.exempt !== undefined ? 'exempt' : contrast >= required ? 'pass' : 'fail',
      ...(run.exempt === undefined ? {} : { why: run.exempt.why }),
      basis: 'computed',
      ink: { property: run.inkProperty, color: run.ink, origin: originOf(run.selector, run.inkProperty) },
      inkOpacity: chain.reduce((product, ground) => product * ground.opacity, run.inkAlpha ?? 1),
      layers: layersOf(text.canvas, grounds, originOf),
    };
  });
}

/** Bottom first. */
export function chainOf(grounds: readonly WireGround[], index: number): readonly WireGround[] {
  const chain: WireGround[] = [];
  for (let ground = grounds[index]; ground !== undefined; ground = grounds[ground.up]) chain.push(ground);
  return chain.reverse();
}

function toPaint(ground: WireGround): GroundPaint {
  return {
    color: ground.color === undefined ? null : findColor(ground.color),
    opacity: ground.opacity ?? 1,
    blend: (ground.blend ?? 'normal') as BlendMode,
    isolates: ground.isolates ?? false,
  };
}

function toOpaque(text: string): Opaque {
  const color: Color = findColor(text) ?? WHITE;
  return opaque(color);
}

export function layersOf(canvas: string, grounds: readonly WireGround[], originOf: OriginOf): readonly Layer[] {
  const layers: Layer[] = [
    {
      selector: null,
      kind: 'color',
      paint: { property: 'background-color', color: canvas, origin: { kind: 'system' } },
      opacity: 1,
    },
  ];
  let opacity = 1;
  for (const ground of grounds) {
    opacity *= ground.opacity ?? 1;
    const blend = ground.blend === undefined ? {} : { blend: ground.blend };
    if (ground.color !== undefined) {
      const paint = { property: 'background-color', color: ground.color, origin: originOf(ground.selector, 'background-color') };
      layers.push({ selector: ground.selector, kind: 'color', paint, opacity, ...blend });
    }
    if (ground.image !== undefined) layers.push({ selector: ground.selector, kind: ground.image, opacity, ...blend });
  }
  return layers;
}

export function around(rects: readonly Rect[]): Rect {
  const left = Math.min(...rects.map((r) => r[0]));
  const top = Math.min(...rects.map((r) => r[1]));
  const right = Math.max(...rects.map((r) => r[0] + r[2]));
  const bottom = Math.max(...rects.map((r) => r[1] + r[3]));
  return [left, top, right - left, bottom - top];
}
