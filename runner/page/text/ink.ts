// The ink of text by computed styles, and what is painted around its glyphs.
import { alphaOf } from '../places/colors.ts';
import type { Entry } from '../scene/scene.ts';
import type { Doubt, WireRun } from '../wire/wire.ts';

export type Ink = Pick<WireRun, 'ink' | 'inkProperty' | 'fontSize' | 'fontWeight' | 'doubts' | 'outline'>;

/** A stroke of this share of the font size closes the openings of letters (ours: the eye of an e in common fonts). */
const CLOSES_EM = 0.12;
/** A shadow this sharp and dense is a rim, not a haze (reference "contrast and colour" §1, text-shadow). */
const RIM_BLUR_PX = 3;
const RIM_ALPHA = 0.9;

/** @param scale of transforms and zoom, see `scaleOf` */
export function inkOf(style: CSSStyleDeclaration, scale: number): Ink {
  const fill = fillOf(style);
  const clipped = style.backgroundClip.includes('text');
  const doubts: Doubt[] = [];
  if (clipped) doubts.push('clip-text');
  if (style.textShadow !== 'none') doubts.push('text-shadow');
  const outline = strokeOf(style) ?? (alphaOf(fill) === 0 ? undefined : rimOf(style));
  if (parseFloat(style.webkitTextStrokeWidth) > 0) doubts.push('text-stroke');
  return {
    ink: fill,
    inkProperty: clipped && alphaOf(fill) < 1 ? 'background-image' : fill === style.color ? 'color' : '-webkit-text-fill-color',
    fontSize: parseFloat(style.fontSize) * scale,
    fontWeight: Number(style.fontWeight),
    ...(doubts.length === 0 ? {} : { doubts }),
    ...(outline === undefined ? {} : { outline }),
  };
}

/** Forced colours reach pixels, not computed fill colours (reference "contrast and colour" §2); a placeholder has a colour of its own. */
function fillOf({ webkitTextFillColor: fill, color }: CSSStyleDeclaration): string {
  return fill !== color && matchMedia('(forced-colors: active)').matches ? color : fill;
}

export function svgInkOf(style: CSSStyleDeclaration, scale: number): Ink & Pick<WireRun, 'inkAlpha'> {
  const doubts: Doubt[] = [];
  const paintServer = style.fill.startsWith('url(') || style.fill.startsWith('context-');
  if (paintServer) doubts.push('paint-server');
  const stroked = style.stroke !== 'none' && alphaOf(style.stroke) > 0 && parseFloat(style.strokeWidth) > 0;
  if (stroked) doubts.push('text-stroke');
  const under = style.paintOrder.startsWith('stroke');
  const width = parseFloat(style.strokeWidth) / parseFloat(style.fontSize);
  const alpha = Number(style.fillOpacity);
  return {
    ink: style.fill === 'none' ? 'transparent' : style.fill,
    inkProperty: 'fill',
    ...(alpha === 1 ? {} : { inkAlpha: alpha }),
    fontSize: parseFloat(style.fontSize) * scale,
    fontWeight: Number(style.fontWeight),
    ...(doubts.length === 0 ? {} : { doubts }),
    ...(stroked ? { outline: { kind: under && width >= CLOSES_EM ? 'halo' : 'letter', color: style.stroke } } : {}),
  };
}

/**
 * WCAG 2.2, "contrast ratio", note on borders: a narrow one is used as the letter, one that fills the inner details of the
 * letters is background. A stroke painted over the fill can only be the former.
 */
function strokeOf(style: CSSStyleDeclaration): WireRun['outline'] {
  const width = parseFloat(style.webkitTextStrokeWidth);
  const color = style.webkitTextStrokeColor;
  if (!(width > 0) || alphaOf(color) === 0) return undefined;
  const under = style.paintOrder.startsWith('stroke');
  return { kind: under && width / parseFloat(style.fontSize) >= CLOSES_EM ? 'halo' : 'letter', color };
}

/** Shadows that go all round the glyphs act as a border (same note). */
function rimOf(style: CSSStyleDeclaration): WireRun['outline'] {
  if (style.textShadow === 'none') return undefined;
  const rims = shadowsOf(style.textShadow).filter((s) => s.blur <= RIM_BLUR_PX && alphaOf(s.color) >= RIM_ALPHA);
  const [first] = rims;
  if (first === undefined) return undefined;
  const around = rims.some((s) => s.x === 0 && s.y === 0 && s.blur > 0);
  const sides = [rims.some((s) => s.x > 0), rims.some((s) => s.x < 0), rims.some((s) => s.y > 0), rims.some((s) => s.y < 0)];
  return around || sides.every(Boolean) ? { kind: 'halo', color: first.color } : undefined;
}

interface TextShadow {
  readonly color: string;
  readonly x: number;
  readonly y: number;
  readonly blur: number;
}

/** Computed `text-shadow`: `COLOR X Y BLUR`, separated by commas outside parentheses. */
function shadowsOf(text: string): readonly TextShadow[] {
  return text.split(/,(?![^(]*\))/u).flatMap((part) => {
    const match = /^\s*(.+?)\s+(-?[\d.]+)px\s+(-?[\d.]+)px\s+(-?[\d.]+)px\s*$/u.exec(part);
    if (match === null) return [];
    return [{ color: match[1] ?? '', x: Number(match[2]), y: Number(match[3]), blur: Number(match[4]) }];
  });
}

/** How much larger than its computed size text is rendered: transforms of all ancestors times zoom (CSS Viewport 1). */
export function scales(): (entry: Entry) => number {
  const known = new Map<Entry, number>();
  const of = (entry: Entry): number => {
    const have = known.get(entry);
    if (have !== undefined) return have;
    const chain: Entry[] = [];
    let at: Entry | null = entry;
    let product = 1;
    for (; at !== null; at = at.up) {
      const done = known.get(at);
      if (done !== undefined) {
        product = done;
        break;
      }
      chain.push(at);
    }
    for (const link of chain.reverse()) {
      product *= ownScale(link);
      known.set(link, product);
    }
    return product;
  };
  return (entry) => of(entry) * (zoomOf(entry.el) ?? 1);
}

function zoomOf(el: Element): number | undefined {
  const zoom: unknown = Reflect.get(el, 'currentCSSZoom');
  return typeof zoom === 'number' ? zoom : undefined;
}

function ownScale({ style, own: { transform } }: Entry): number {
  let scale = 1;
  if (transform !== 'none') {
    const m = new DOMMatrix(transform);
    scale *= Math.sqrt(Math.abs(m.a * m.d - m.b * m.c));
  }
  const zoomed = style.scale;
  if (zoomed !== 'none' && zoomed !== '') {
    const [x = 1, y = x] = zoomed.split(' ').map(Number);
    scale *= Math.sqrt(Math.abs(x * y));
  }
  return scale;
}
