// Icons, and the edges and marks by which controls are told (WCAG 2.2 SC 1.4.11).
import { dom } from '../dom.ts';
import { bordersOf, ICON_SIDE } from './areas.ts';
import { isTransparent } from './colors.ts';
import { edgesOf, FIELDS, mayBeField, reachOf } from './field-edges.ts';
import { isIconFont } from '../text/glyphs.ts';
import type { PlaceFacts } from './place-facts.ts';
import { textBeside, withinOf } from './in-control.ts';
import { accessibleName, LEAST_OPACITY, opacityOf, placeOf } from './place-facts.ts';
import { borderBox, generatedStyle, visiblePart } from './places.ts';
import type { Box, Entry } from '../scene/scene.ts';
import { hasWords, markBox, paintersOf, standInOf } from './mark-painters.ts';
import { svgPaints } from './svg-paints.ts';
import type { WireGraphic } from '../wire/places.ts';

type Exempt = NonNullable<WireGraphic['exempt']>;

/** CSS px; smaller drawings are dots and carets. */
const LEAST_ICON = 6;
/** Glyphs without a meaning of their own: Private Use Areas (Unicode §23.5). */
const PRIVATE_USE = /^[\s\p{Private_Use}]+$/u;

const SLIDERS = 'input[type=range], [role=slider]';
const MARKS = `input[type=checkbox], input[type=radio], [role=switch], [role=checkbox], [role=radio], ${SLIDERS}`;

export function collectGraphics(facts: PlaceFacts): readonly WireGraphic[] {
  const lines = new Map<string, number>();
  const { frames } = facts;
  const framed = new Set(frames.values());
  return facts.scene.entries.flatMap((entry): readonly WireGraphic[] => {
    if (!entry.visible || (opacityOf(entry) < LEAST_OPACITY && !dom(entry.el).matches(MARKS))) return [];
    const field = frames.get(entry);
    const found = field !== undefined ? [edgeOf(facts, entry, field)] : framed.has(entry) ? [] : foundAt(facts, entry, lines);
    if (found.length === 0) return [];
    return found.flatMap(({ kind, box = borderBox(entry), isStandIn = false, ...graphic }) => {
      const rect = visiblePart(box, entry.clip);
      if (rect === null) return [];
      const { opacity, ...place } = placeOf(facts, entry, kind);
      // What stands in for a control is seen, however little of the control is.
      return [{ ...place, ...(opacity === undefined || isStandIn ? {} : { opacity }), ...graphic, rect }];
    });
  });
}

type FoundGraphic = Pick<WireGraphic, 'role' | 'paints' | 'reading' | 'fill' | 'reach' | 'painters'> & {
  readonly kind: string;
  readonly exempt?: Exempt;
  /** Where it is; the element's own box unless set. */
  readonly box?: Box;
  /** Something else draws it. */
  readonly isStandIn?: boolean;
};

function foundAt(facts: PlaceFacts, entry: Entry, lines: Map<string, number>): readonly FoundGraphic[] {
  const icon = iconOf(facts, entry);
  if (icon !== null) return [icon];
  const control = controlOf(facts, entry);
  if (control !== null) return control;
  const line = lineOf(facts, entry, lines);
  return line === null ? [] : [line];
}

function iconOf(facts: PlaceFacts, entry: Entry): FoundGraphic | null {
  const { el, style, shown } = entry;
  if (el instanceof shown.window.SVGElement && el.ownerSVGElement !== null) return null;
  const box = dom(el).getBoundingClientRect();
  if (Math.max(box.width, box.height) > ICON_SIDE || Math.min(box.width, box.height) < LEAST_ICON) return null;
  const icon = (paints: WireGraphic['paints'], reading: WireGraphic['reading']): FoundGraphic => {
    const exempt = facts.inactiveOf(entry) ?? decoration(entry);
    return { kind: 'icon', role: 'icon', paints, reading, ...(exempt === null ? {} : { exempt }) };
  };
  if (el instanceof shown.window.SVGSVGElement) {
    const paints = svgPaints(el, shown.window);
    return paints === null ? icon([], 'pixels') : paints.length === 0 ? null : icon(paints, 'paints');
  }
  if (style.maskImage !== '' && style.maskImage !== 'none' && !isTransparent(style.backgroundColor)) {
    return icon([{ property: 'background-color', color: style.backgroundColor }], 'paints');
  }
  const glyph = glyphOf(entry);
  if (glyph !== null) return icon([glyph], 'paints');
  const image =
    el instanceof shown.window.HTMLImageElement || (/url\(/u.test(style.backgroundImage) && dom(el).textContent.trim() === '');
  return image && !dom(el).matches(`${FIELDS}, ${MARKS}`) ? icon([], 'pixels') : null;
}

/** A glyph of an icon font, as own text or generated. */
function glyphOf(entry: Entry): WireGraphic['paints'][number] | null {
  const { el, style } = entry;
  const text = dom(el).childElementCount === 0 ? dom(el).textContent.trim() : '';
  if (text !== '' && (PRIVATE_USE.test(text) || isIconFont(style.fontFamily))) return { property: 'color', color: style.color };
  if (text !== '') return null;
  for (const which of ['::before', '::after'] as const) {
    const generated = generatedStyle(entry, which);
    const content = /^"(.*)"$/u.exec(generated?.content ?? '')?.[1] ?? '';
    if (generated !== null && content !== '' && PRIVATE_USE.test(content)) return { property: 'color', color: generated.color };
  }
  return null;
}

/** An icon beside a text that says the same carries nothing of its own; alone in a control, or with a name, it does. */
function decoration(entry: Entry): Exempt | null {
  const { el } = entry;
  const { holder } = withinOf(entry);
  if (holder !== null) {
    const beside = textBeside(holder, el).replace(/[\p{Private_Use}\s]/gu, '');
    return beside === '' ? null : { reason: 'decoration', why: 'stands beside the text of its control' };
  }
  if (dom(el).getAttribute('role') === 'presentation' || dom(el).closest('[aria-hidden=true]') !== null) {
    return { reason: 'decoration', why: 'hidden from assistive technology' };
  }
  return accessibleName(el) === '' ? { reason: 'decoration', why: 'has no name and stands in no control' } : null;
}

/**
 * What tells a control apart from the page: the edge of a field, the box or track of a check box, radio button, switch, slider,
 * and the tick or thumb in it. Null: no control; empty: one that the browser draws, or without a boundary.
 */
function controlOf(facts: PlaceFacts, entry: Entry): readonly FoundGraphic[] | null {
  const { el, style } = entry;
  if (!mayBeField(el)) return null;
  if (dom(el).matches(FIELDS)) {
    const edge = edgeOf(facts, entry, entry);
    // Without any boundary there is nothing to identify it by but its text (Understanding 1.4.11, "Boundaries").
    return edge.paints.length > 0 || edge.fill !== undefined ? [edge] : [];
  }
  if (!dom(el).matches(MARKS)) return null;
  const inactive = facts.inactiveOf(entry);
  const exempt = inactive === undefined ? {} : { exempt: inactive };
  if (isForAssistanceOnly(entry)) {
    // Tracks of sliders lie beside them, not in their labels.
    const standIn = dom(el).matches(SLIDERS) ? null : standInOf(facts, entry);
    if (standIn === null) return [];
    const drawn: FoundGraphic = {
      kind: 'mark',
      role: 'border',
      paints: [],
      reading: 'pixels',
      isStandIn: true,
      ...standIn,
      ...exempt,
    };
    return hasInside(el) ? [drawn, { ...drawn, kind: 'inside', reading: 'inside' }] : [drawn];
  }
  if (dom(el).localName === 'input' && style.appearance !== 'none') return [];
  // Where it holds its words as well, these are no part of the mark.
  const isLong = hasWords(entry);
  const part = isLong ? markBox(facts, entry) : null;
  const box = part ?? borderBox(entry);
  const mark: FoundGraphic = {
    kind: 'mark',
    role: 'border',
    paints: part === null ? bordersOf(style) : [],
    painters: paintersOf(facts, entry, box),
    reading: 'pixels',
    ...(part === null ? fillOf(style) : {}),
    ...exempt,
    box,
  };
  return hasInside(el) && (part !== null || !isLong) ? [mark, { ...mark, kind: 'inside', reading: 'inside' }] : [mark];
}

/** Kept for the keyboard and assistive technology, seen through or cut to nothing (common practice): something else draws it. */
function isForAssistanceOnly(entry: Entry): boolean {
  if (opacityOf(entry) < LEAST_OPACITY) return true;
  const { clipPath, position } = entry.style;
  const { left, top, right, bottom } = borderBox(entry);
  const isCut = position === 'absolute' && /^rect\((?:0px,? ?|1px,? ?){4}\)$/u.test(entry.style.getPropertyValue('clip'));
  return isCut || clipPath === 'inset(50%)' || (right - left <= 1 && bottom - top <= 1);
}

/** @param entry the field, or the frame around it */
function edgeOf(facts: PlaceFacts, entry: Entry, field: Entry): FoundGraphic {
  const inactive = facts.inactiveOf(field);
  const exempt = inactive === undefined ? {} : { exempt: inactive };
  const reach = reachOf(entry.style);
  const drawn = { paints: edgesOf(entry.style), ...fillOf(entry.style), ...(reach === 0 ? {} : { reach }) };
  return { kind: 'edge', role: 'border', reading: 'edge', ...drawn, ...exempt };
}

function fillOf({ backgroundColor }: CSSStyleDeclaration): Pick<FoundGraphic, 'fill'> {
  return isTransparent(backgroundColor) ? {} : { fill: backgroundColor };
}

/** A tick is there when checked, a thumb always. */
function hasInside(el: Element): boolean {
  return dom(el).matches(
    '[role=switch], input[type=checkbox]:checked, input[type=radio]:checked, [role=checkbox][aria-checked=true], [role=radio][aria-checked=true]',
  );
}

/** Lines of places made alike, e.g. cells of a table: a few stand for all. */
const LINES_ALIKE = 4;

/** Other borders ask for no contrast; they are told so that one left from another theme is noticed. */
function lineOf({ scene }: PlaceFacts, entry: Entry, lines: Map<string, number>): FoundGraphic | null {
  const { el } = entry;
  const made = [el, dom(el).parentElement].map((at) => `${dom(at)?.localName ?? ''} ${dom(at)?.getAttribute('class') ?? ''}`);
  const kind = `${made.join(' in ')} ${dom(el).id} ${dom(el).getAttribute('style') ?? ''}`;
  const count = lines.get(kind) ?? 0;
  if (count >= LINES_ALIKE) return null;
  const paints = bordersOf(entry.style);
  if (paints.length === 0 || el === scene.entries[0]?.el || withinOf(entry).holder !== null) return null;
  lines.set(kind, count + 1);
  return {
    kind: 'line',
    role: 'border',
    paints,
    reading: 'edge',
    exempt: { reason: 'decoration', why: 'separates, identifies nothing' },
  };
}
