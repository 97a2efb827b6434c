// Painted boxes of the page in painting order: surfaces, and what else covers them.
import { dom } from '../dom.ts';
import { isTransparent } from './colors.ts';
import { paintOrder } from '../scene/paint-order.ts';
import type { PlaceFacts } from './place-facts.ts';
import { CONTROLS, opacityOf, placeOf } from './place-facts.ts';
import type { Pseudo } from './places.ts';
import { borderBox, generatedStyle, pseudoBox, toRect, visiblePart } from './places.ts';
import type { Entry } from '../scene/scene.ts';
import type { WireArea } from '../wire/places.ts';

/** CSS px; smaller boxes neither are surfaces nor hide any. */
const LEAST_SIDE = 8;
/** Drawings up to this size are icons (CSS px, ours: the largest icons of common sets are 48). */
export const ICON_SIDE = 48;
/** Links up to this height look like controls, taller ones like cards (CSS px, ours). */
const LINK_HEIGHT = 80;
/** Areas of one page at most; long tables paint thousands of equal cells. */
const MOST = 3000;

/** Elements that show something of their own and are no surfaces. */
const SHOWN = new Set(['img', 'video', 'object', 'embed', 'iframe']);
/** What stands for numbers: bars in it are not surfaces. */
const DIAGRAMS = '[role=img], meter, progress, [role=meter], [role=progressbar], canvas, svg';

export function collectAreas(facts: PlaceFacts): readonly WireArea[] {
  const [root] = facts.scene.entries;
  if (root === undefined) return [];
  const canvas = canvasOf(facts, root);
  const areas: WireArea[] = [canvas.area];
  const indexOf = new Map<Entry, number>([[root, 0]]);
  for (const entry of paintOrder(facts.scene.entries)) {
    if (areas.length >= MOST) break;
    if (entry === canvas.painter || !entry.visible || opacityOf(entry) < 0.01 || entry.style.display === 'contents') continue;
    const area = areaOf(facts, entry, indexOf);
    if (area !== null) {
      if (area.role !== 'cover') indexOf.set(entry, areas.length);
      areas.push(area);
    }
    for (const which of ['::before', '::after'] as const) {
      const generated = generatedArea(facts, entry, which, indexOf);
      if (generated !== null) areas.push(generated);
    }
  }
  return areas;
}

/** The background of the root, or else of the body, is the page's (CSS Backgrounds 3 §2.11.2). */
function canvasOf(facts: PlaceFacts, root: Entry): { readonly area: WireArea; readonly painter: Entry } {
  const body = facts.scene.entries.find((entry) => entry.up === root && dom(entry.el).localName === 'body');
  const paints = ({ style }: Entry): boolean => !isTransparent(style.backgroundColor) || style.backgroundImage !== 'none';
  const painter = !paints(root) && body !== undefined && paints(body) ? body : root;
  const { whole, within } = facts.scene;
  const fill = fillOf(painter.style);
  return {
    painter,
    area: {
      ...placeOf(facts, painter, 'canvas'),
      ...fill,
      selector: facts.identity.selectorOf(root),
      ground: -1,
      rect: toRect(whole),
      role: within === undefined ? 'canvas' : fill.color === undefined && fill.image === undefined ? 'cover' : 'box',
      up: -1,
    },
  };
}

function areaOf(facts: PlaceFacts, entry: Entry, indexOf: ReadonlyMap<Entry, number>): WireArea | null {
  const { el, style } = entry;
  if (isInsideDrawing(el)) return null;
  const drawing = dom(el).localName === 'svg' || dom(el).localName === 'canvas';
  const shown = drawing || SHOWN.has(dom(el).localName);
  const fill = fillOf(style);
  if (!shown && fill.color === undefined && fill.image === undefined) return null;
  const rect = visiblePart(borderBox(entry), entry.clip);
  if (rect === null || Math.min(rect[2], rect[3]) < LEAST_SIDE) return null;
  const edges = bordersOf(style);
  const { boxShadow } = style;
  return {
    ...placeOf(facts, entry, 'face'),
    ...fill,
    rect,
    role: roleOf(entry, drawing, shown, rect[2], rect[3]),
    up: nearestAbove(entry, indexOf),
    ...(edges.length === 0 ? {} : { borders: edges }),
    ...(boxShadow === 'none' ? {} : { shadow: boxShadow }),
    ...(facts.isVeil(entry) ? { veil: true } : {}),
    ...(drawing ? { drawn: dom(el).localName === 'canvas' ? 'canvas' : 'svg' } : {}),
  };
}

function isInsideDrawing(el: Element): boolean {
  const { ownerSVGElement = null } = dom(el) as Partial<SVGElement>;
  return ownerSVGElement !== null;
}

function roleOf({ el }: Entry, drawing: boolean, shown: boolean, width: number, height: number): WireArea['role'] {
  if (drawing && Math.min(width, height) > ICON_SIDE) return 'chart';
  if (shown) return 'cover';
  if (dom(el).closest(DIAGRAMS) !== null) return 'chart';
  if (dom(el).closest(CONTROLS) !== null) return 'control';
  return dom(el).closest('a[href]') !== null && height <= LINK_HEIGHT ? 'control' : 'box';
}

function generatedArea(facts: PlaceFacts, entry: Entry, which: Pseudo, indexOf: ReadonlyMap<Entry, number>): WireArea | null {
  const style = generatedStyle(entry, which);
  if (style === null) return null;
  const fill = fillOf(style);
  if (fill.color === undefined && fill.image === undefined) return null;
  const box = pseudoBox(entry, which, style);
  const rect = box === null ? null : visiblePart(box, style.position === 'absolute' ? entry.inside.absolute : entry.inside.flow);
  if (rect === null || Math.min(rect[2], rect[3]) < LEAST_SIDE) return null;
  const place = placeOf(facts, entry, `face${which}`);
  const opacity = opacityOf(entry) * Number(style.opacity);
  const inDiagram = dom(entry.el).closest(DIAGRAMS) !== null;
  const inControl = dom(entry.el).closest(CONTROLS) !== null;
  return {
    ...place,
    ...fill,
    selector: `${place.selector}${which}`,
    ground: facts.grounds.of(entry),
    ...(opacity === 1 ? {} : { opacity }),
    rect,
    ...(facts.isVeil(entry, which) ? { veil: true } : {}),
    role: inDiagram ? 'chart' : inControl ? 'control' : 'pseudo',
    up: indexOf.get(entry) ?? nearestAbove(entry, indexOf),
  };
}

function nearestAbove(entry: Entry, indexOf: ReadonlyMap<Entry, number>): number {
  for (let at = entry.up; at !== null; at = at.up) {
    const index = indexOf.get(at);
    if (index !== undefined) return index;
  }
  return -1;
}

function fillOf(style: CSSStyleDeclaration): Pick<WireArea, 'color' | 'image'> {
  const { backgroundColor: color, backgroundImage: image } = style;
  const plain = isTransparent(color);
  if ((plain && image === 'none') || style.backgroundClip.includes('text')) return {};
  return {
    ...(plain ? {} : { color }),
    ...(image === 'none'
      ? {}
      : {
          image: /url\(|image-set\(|cross-fade\(|element\(/u.test(image) ? 'picture' : 'gradient',
        }),
  };
}

const SIDES = ['Top', 'Right', 'Bottom', 'Left'] as const;

/** One entry per colour. */
export function bordersOf(style: CSSStyleDeclaration): NonNullable<WireArea['borders']> {
  const found = new Map<string, { property: string; color: string; width: number }>();
  const add = (property: string, color: string, width: number, line: string): void => {
    if (width < 0.5 || line === 'none' || line === 'hidden' || isTransparent(color)) return;
    const known = found.get(color);
    if (known === undefined || known.width < width) found.set(color, { property, color, width });
  };
  const widths = style.borderWidth;
  for (const side of widths === '0px' ? [] : SIDES) {
    const width = Number.parseFloat(style[`border${side}Width`]);
    add(`border-${side.toLowerCase()}-color`, style[`border${side}Color`], width, style[`border${side}Style`]);
  }
  const line = style.outlineStyle;
  if (line !== 'none') add('outline-color', style.outlineColor, Number.parseFloat(style.outlineWidth), line);
  return [...found.values()];
}
