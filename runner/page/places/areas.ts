// Painted boxes of the page in painting order: surfaces, and what else covers them.
import { dom } from '../dom.ts';
import { isTransparent } from './colors.ts';
import { colorSchemeOf } from '../scene/color-scheme.ts';
import { contentBox } from '../scene/content-box.ts';
import { paintOrder } from '../scene/paint-order.ts';
import type { PlaceFacts } from './place-facts.ts';
import { isInControl, withinOf } from './in-control.ts';
import { LEAST_OPACITY, opacityOf, placeOf } from './place-facts.ts';
import { imageLayers, lineColors } from './image-layers.ts';
import type { Pseudo } from './places.ts';
import { borderBox, generatedStyle, pseudoBox, toRect, visiblePart } from './places.ts';
import type { Specks } from './specks.ts';
import type { Entry } from '../scene/scene.ts';
import type { WireArea } from '../wire/places.ts';

/** CSS px; smaller boxes neither are surfaces nor hide any. */
const LEAST_SIDE = 8;
/** Drawings up to this size are icons (CSS px, ours: the largest icons of common sets are 48). */
export const ICON_SIDE = 48;
/** Areas of one page at most; long tables paint thousands of equal cells. */
const MOST = 3000;

/** Elements that show something of their own and are no surfaces. */
const SHOWN = new Set(['img', 'video', 'object', 'embed', 'iframe']);
const FRAMES = new Set(['iframe', 'frame']);
/** What stands for numbers: bars in it are not surfaces. */
const DIAGRAMS = '[role=img], meter, progress, [role=meter], [role=progressbar], canvas, svg';

/** @param specks takes what is too small */
export function collectAreas(facts: PlaceFacts, specks: Specks): readonly WireArea[] {
  const [root] = facts.scene.entries;
  if (root === undefined) return [];
  const canvases = paintersOf(facts.scene.entries);
  const taken = new Set(canvases.values());
  const areas: WireArea[] = [pageCanvas(facts, canvases.get(root) ?? root)];
  const indexOf = new Map<Entry, number>([[root, 0]]);
  const ownArea = (entry: Entry): WireArea | null => {
    const painter = canvases.get(entry);
    if (painter !== undefined) return entry === root ? null : frameCanvas(facts, entry, painter, indexOf);
    return taken.has(entry) ? null : areaOf(facts, entry, indexOf, specks);
  };
  for (const entry of paintOrder(facts.scene.entries)) {
    if (areas.length >= MOST) break;
    if (!entry.visible || opacityOf(entry) < LEAST_OPACITY || entry.style.display === 'contents') continue;
    const area = ownArea(entry);
    if (area !== null) {
      if (area.role !== 'cover') indexOf.set(entry, areas.length);
      areas.push(area);
    }
    for (const which of ['::before', '::after'] as const) {
      const generated = generatedArea(facts, entry, which, { indexOf, specks });
      if (generated !== null) areas.push(generated);
    }
  }
  return areas;
}

/**
 * Root of each document → what paints its canvas: the background of the root, or else of the body (CSS Backgrounds 3 §2.11.2).
 */
function paintersOf(entries: readonly Entry[]): ReadonlyMap<Entry, Entry> {
  const paints = ({ style }: Entry): boolean => !isTransparent(style.backgroundColor) || style.backgroundImage !== 'none';
  const painters = new Map<Entry, Entry>();
  for (const entry of entries) {
    const { up } = entry;
    if (up === null || up.shown !== entry.shown) painters.set(entry, entry);
    else if (painters.get(up) === up && !paints(up) && dom(entry.el).localName === 'body' && paints(entry)) painters.set(up, entry);
  }
  return painters;
}

function pageCanvas(facts: PlaceFacts, painter: Entry): WireArea {
  const { whole, within } = facts.scene;
  const fill = fillOf(painter.style);
  const isClear = within !== undefined && isBare(fill) && colorSchemeOf(painter) === within.scheme;
  const [x, y, width, height] = toRect(whole);
  return {
    ...placeOf(facts, painter, 'canvas'),
    ...fill,
    ground: -1,
    // A frame that lets through what it lies on covers nothing.
    rect: isClear ? [x, y, 0, 0] : [x, y, width, height],
    role: within === undefined ? 'canvas' : isClear ? 'cover' : 'box',
    up: -1,
  };
}

/** A frame's document paints a canvas of its own over the frame, unless it has no background and the scheme of what it lies in. */
function frameCanvas(facts: PlaceFacts, root: Entry, painter: Entry, indexOf: ReadonlyMap<Entry, number>): WireArea | null {
  const { up: holder } = root;
  const fill = fillOf(painter.style);
  if (holder === null || (isBare(fill) && colorSchemeOf(root) === colorSchemeOf(holder))) return null;
  const rect = visiblePart(contentBox(holder), holder.clip);
  if (rect === null || Math.min(rect[2], rect[3]) < LEAST_SIDE) return null;
  return { ...placeOf(facts, painter, 'face'), ...fill, rect, role: 'box', up: nearestAbove(root, indexOf) };
}

const isBare = ({ color, image }: Pick<WireArea, 'color' | 'image'>): boolean => color === undefined && image === undefined;

function areaOf(facts: PlaceFacts, entry: Entry, indexOf: ReadonlyMap<Entry, number>, specks: Specks): WireArea | null {
  const { el, style } = entry;
  if (isInsideDrawing(el)) return null;
  const drawing = dom(el).localName === 'svg' || dom(el).localName === 'canvas';
  const shown = drawing || SHOWN.has(dom(el).localName);
  const fill = fillOf(style);
  const bare = isBare(fill);
  if (!shown && bare) return null;
  const rect = visiblePart(borderBox(entry), entry.clip);
  if (rect === null) return null;
  if (Math.min(rect[2], rect[3]) < LEAST_SIDE) {
    specks.add(entry, style);
    return null;
  }
  const edges = bordersOf(style);
  const { boxShadow } = style;
  return {
    ...placeOf(facts, entry, 'face'),
    ...fill,
    rect,
    // A frame with a background of its own shows it wherever its document lets it through.
    role: roleOf(facts, entry, drawing, shown && (bare || !FRAMES.has(dom(el).localName)), rect[2], rect[3]),
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

function roleOf(
  facts: PlaceFacts,
  entry: Entry,
  drawing: boolean,
  shown: boolean,
  width: number,
  height: number,
): WireArea['role'] {
  if (drawing && Math.min(width, height) > ICON_SIDE) return 'chart';
  if (shown) return 'cover';
  if (dom(entry.el).closest(DIAGRAMS) !== null) return 'chart';
  return facts.frames.has(entry) || isInControl(entry, height) ? 'control' : 'box';
}

function generatedArea(
  facts: PlaceFacts,
  entry: Entry,
  which: Pseudo,
  { indexOf, specks }: { readonly indexOf: ReadonlyMap<Entry, number>; readonly specks: Specks },
): WireArea | null {
  const style = generatedStyle(entry, which);
  if (style === null) return null;
  const fill = fillOf(style);
  const opacity = opacityOf(entry) * Number(style.opacity);
  if (isBare(fill) || opacity < LEAST_OPACITY) return null;
  const box = pseudoBox(entry, which, style);
  const rect = box === null ? null : visiblePart(box, style.position === 'absolute' ? entry.inside.absolute : entry.inside.flow);
  if (rect === null) return null;
  if (Math.min(rect[2], rect[3]) < LEAST_SIDE) {
    specks.add(entry, style, which);
    return null;
  }
  const place = placeOf(facts, entry, `face${which}`);
  const inDiagram = dom(entry.el).closest(DIAGRAMS) !== null;
  return {
    ...place,
    ...fill,
    selector: `${place.selector}${which}`,
    ground: facts.grounds.of(entry),
    ...(opacity === 1 ? {} : { opacity }),
    rect,
    ...(facts.isVeil(entry, which) ? { veil: true } : {}),
    role: inDiagram ? 'chart' : withinOf(entry).control !== null ? 'control' : 'pseudo',
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
  const { backgroundColor: color } = style;
  const image = imageLayers(style)
    .filter(({ line }) => line === null)
    .map((layer) => layer.image)
    .join();
  const plain = isTransparent(color);
  if ((plain && image === '') || style.backgroundClip.includes('text')) return {};
  return {
    ...(plain ? {} : { color }),
    ...(image === ''
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
  for (const color of lineColors(style)) add('background-image', color, 1, 'solid');
  const line = style.outlineStyle;
  if (line !== 'none') add('outline-color', style.outlineColor, Number.parseFloat(style.outlineWidth), line);
  return [...found.values()];
}
