// What may paint a check box, radio button, switch or slider: the control itself, its generated boxes, what it holds, and what a component
// lays beside it at the same place. Which of them was seen, the picture says.
import { isTransparent } from './colors.ts';
import { edgesOf } from './field-edges.ts';
import type { PlaceFacts } from './place-facts.ts';
import { textBeside } from './in-control.ts';
import { LEAST_OPACITY, opacityOf } from './place-facts.ts';
import { dom } from '../dom.ts';
import { borderBox, generatedStyle, pseudoBox } from './places.ts';
import type { Box, Entry, Scene } from '../scene/scene.ts';
import { svgPaints } from './svg-paints.ts';
import type { WirePainter } from '../wire/places.ts';

const PSEUDO = ['::before', '::after'] as const;
/** CSS px around a control that belong to it: thumbs stick out of their tracks (ours). */
const AROUND = 2;
/** Elements in what holds a control, beyond which only what the control itself holds is looked at (ours). */
const MOST = 40;

/** @param room where its mark is @returns in painting order, as far as the tree tells it */
export function paintersOf(facts: PlaceFacts, control: Entry, room: Box): readonly WirePainter[] {
  return partsOf(facts.scene, control).flatMap((part) => (isIn(borderBox(part), room) ? paintedBy(facts, part) : []));
}

/** A mark is at most so many times as wide as it is high (ours: tracks of switches about twice; a row or a chip with words is longer). */
const MARK_SHAPE = 2.5;

/** What covers so much of a control lies over its words as well, 0–1 (ours: the tint of a pointer over a row). */
const LAID_OVER = 0.8;

const areaOf = ({ left, top, right, bottom }: Box): number => Math.max(0, right - left) * Math.max(0, bottom - top);

/** Whether it holds words that are seen; those for assistive technology alone take no room in a track. */
export function hasWords(control: Entry): boolean {
  const { left, top, right, bottom } = borderBox(control);
  return right - left > MARK_SHAPE * (bottom - top) && textBeside(control, null) !== '';
}

/**
 * Where the mark of a control is that holds its words as well: around what is painted in it and holds none of them.
 * @returns null where nothing is
 */
export function markBox(facts: PlaceFacts, control: Entry): Box | null {
  const parts = below(facts.scene, control, MOST)?.slice(1) ?? [];
  const all = areaOf(borderBox(control));
  const boxes = parts.flatMap((part) => {
    if (paintedBy(facts, part).length === 0 || textBeside(part, null) !== '') return [];
    const box = borderBox(part);
    return areaOf(box) < 1 || areaOf(box) > all * LAID_OVER ? [] : [box];
  });
  return boxes.length === 0 ? null : around(boxes);
}

/** What a label draws in place of a control that lies hidden. */
export interface StandIn {
  readonly box: Box;
  readonly painters: readonly WirePainter[];
}

/**
 * Boxes of the label, and generated ones in it, that hold no words; drawings are left out, which may be pictures beside the words.
 * @returns null where it draws none: the words alone tell
 */
export function standInOf(facts: PlaceFacts, control: Entry): StandIn | null {
  const label = labelEntry(facts.scene, control);
  const parts = label === null ? [] : (below(facts.scene, label, MOST) ?? []);
  const all = label === null ? 0 : areaOf(borderBox(label));
  const boxes: Box[] = [];
  const painters: WirePainter[] = [];
  for (const part of parts) {
    if (part === control || part.el instanceof part.shown.window.SVGElement || !part.visible) continue;
    const own = part === label || textBeside(part, null) !== '' ? null : borderBox(part);
    for (const painter of paintedBy(facts, part)) {
      const which = PSEUDO.find((each) => painter.on.endsWith(each));
      const style = which === undefined ? null : generatedStyle(part, which);
      if (which === undefined && own === null) continue;
      const box = which === undefined ? own : style === null ? null : pseudoBox(part, which, style);
      // Ticks and dots lie within, turned about as may be.
      if (box === null || areaOf(box) < LEAST_MARK) painters.push(painter);
      else if (areaOf(box) <= all * LAID_OVER) {
        boxes.push(box);
        painters.push(painter);
      }
    }
  }
  return boxes.length === 0 ? null : { box: around(boxes), painters };
}

/** CSS px²; less is a line, a tick or a dot (ours). */
const LEAST_MARK = 36;

/** By `for`, or around it. */
function labelEntry({ entries }: Scene, { el }: Entry): Entry | null {
  // Of what takes no label there is none.
  const labels = dom(el as HTMLInputElement).labels as NodeListOf<HTMLLabelElement> | null | undefined;
  const label = labels?.[0] ?? dom(el).closest('label');
  return entries.find((entry) => entry.el === label) ?? null;
}

function around(boxes: readonly Box[]): Box {
  return {
    left: Math.min(...boxes.map(({ left }) => left)),
    top: Math.min(...boxes.map(({ top }) => top)),
    right: Math.max(...boxes.map(({ right }) => right)),
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)),
  };
}

function partsOf(scene: Scene, control: Entry): readonly Entry[] {
  const { up } = control;
  const around = up === null || up.shown !== control.shown ? null : below(scene, up, MOST);
  return around ?? below(scene, control, MOST) ?? [control];
}

/** With the element itself; null where there are more. What an element holds comes right after it. */
function below({ entries }: Scene, top: Entry, most: number): readonly Entry[] | null {
  const from = entries.indexOf(top);
  const found = [top];
  for (const entry of entries.slice(from + 1, from + most + 1)) {
    if (!isBelow(entry, top)) return found;
    found.push(entry);
  }
  return found.length > most ? null : found;
}

function isBelow(entry: Entry, top: Entry): boolean {
  for (let at = entry.up; at !== null; at = at.up) if (at === top) return true;
  return false;
}

function isIn(box: Box, room: Box): boolean {
  return (
    box.left >= room.left - AROUND &&
    box.top >= room.top - AROUND &&
    box.right <= room.right + AROUND &&
    box.bottom <= room.bottom + AROUND
  );
}

function paintedBy({ identity }: PlaceFacts, part: Entry): readonly WirePainter[] {
  const opacity = opacityOf(part);
  if (!part.visible || opacity < LEAST_OPACITY) return [];
  const on = identity.selectorOf(part);
  const { el, style, shown } = part;
  if (el instanceof shown.window.SVGSVGElement) {
    return (svgPaints(el, shown.window) ?? []).map((paint) => painter(on, paint, opacity * (paint.opacity ?? 1)));
  }
  if (el instanceof shown.window.SVGElement) return [];
  const own = boxPaints(style).map((paint) => painter(on, paint, opacity));
  const generated = PSEUDO.flatMap((which) => {
    const made = generatedStyle(part, which);
    const seen = made === null ? 0 : opacity * Number(made.opacity);
    return made === null || seen < LEAST_OPACITY ? [] : boxPaints(made).map((paint) => painter(`${on}${which}`, paint, seen));
  });
  return [...own, ...generated];
}

interface BoxPaint {
  readonly property: string;
  readonly color: string;
}

function boxPaints(style: CSSStyleDeclaration): readonly BoxPaint[] {
  const { backgroundColor } = style;
  const face = isTransparent(backgroundColor) ? [] : [{ property: 'background-color', color: backgroundColor }];
  return [...face, ...edgesOf(style)];
}

function painter(on: string, { property, color }: BoxPaint, opacity: number): WirePainter {
  return { on, property, color, ...(opacity === 1 ? {} : { opacity }) };
}
