// What an inline drawing is painted with.
import { dom } from '../dom.ts';
import { isTransparent } from './colors.ts';
import { LEAST_OPACITY } from './place-facts.ts';
import type { WireGraphic } from '../wire/places.ts';

/** Fills and strokes of what an inline drawing shows; null where gradients, patterns or pictures paint it. */
export function svgPaints(svg: SVGSVGElement, view: Window): WireGraphic['paints'] | null {
  const paints = new Map<string, { property: string; color: string; opacity?: number }>();
  for (const shape of svg.querySelectorAll<SVGGraphicsElement>(
    'path, rect, circle, ellipse, line, polyline, polygon, text, use, image',
  )) {
    if (dom(shape).localName === 'image') return null;
    const isUsed = dom(shape).closest('defs, clipPath, mask, symbol, pattern') !== null;
    if (isUsed && dom(shape).localName !== 'use') continue;
    const style = view.getComputedStyle(shape);
    if (style.display === 'none' || style.visibility !== 'visible') continue;
    for (const property of ['fill', 'stroke'] as const) {
      const color = style[property];
      if (color === 'none' || color === '' || isTransparent(color)) continue;
      if (color.startsWith('url(')) return null;
      if (property === 'stroke' && Number.parseFloat(style.strokeWidth) === 0) continue;
      if (property === 'fill' && (dom(shape).localName === 'line' || (dom(shape).localName === 'use' && style.stroke !== 'none')))
        continue;
      if (!isUsed && !hasExtent(shape, property, style)) continue;
      const own = property === 'fill' ? style.fillOpacity : style.strokeOpacity;
      const opacity = Number(style.opacity) * Number.parseFloat(own);
      if (opacity > LEAST_OPACITY)
        paints.set(`${property} ${color} ${String(opacity)}`, { property, color, ...(opacity === 1 ? {} : { opacity }) });
    }
  }
  return [...paints.values()];
}

/** Empty paths (`d=""`) and boxes without a size paint nothing; the caps of a line without a length do (SVG 2 §13.5.4). */
function hasExtent(shape: SVGGraphicsElement, property: 'fill' | 'stroke', { strokeLinecap }: CSSStyleDeclaration): boolean {
  const { width, height } = shape.getBBox();
  if (property === 'fill') return width > 0 && height > 0;
  return width > 0 || height > 0 || (strokeLinecap !== 'butt' && (dom(shape).getAttribute('d') ?? '') !== '');
}
