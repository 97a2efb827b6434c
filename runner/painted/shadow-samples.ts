// Shadows as declared, the geometry of what casts them, and the picture → shadow samples at their painted peaks.
import type { Color, Opaque } from '../../src/colour/color.ts';
import { over, withOpacity } from '../../src/colour/composite.ts';
import { applyFilters, parseFilters } from '../../src/colour/filters.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { cieLightness, toOklch } from '../../src/colour/lightness.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import { shadowPeak } from '../../src/colour/shadow-profile.ts';
import type { ShadowSample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { WireShadow } from '../page/wire/places.ts';
import type { WrittenShadow } from '../page/css-lists.ts';
import { parseDropShadows, parseShadowList } from '../page/css-lists.ts';
import { modeOf, tallyOf } from './dominant-colors.ts';
import { fadesSomewhere, paintedShare } from './halo.ts';
import type { PaintedView } from './painted-view.ts';
import { computedGround, placeFacts } from './painted-view.ts';
import { codesIn, toColor } from './pixels.ts';
import { ringAround } from './ring.ts';

/** Shares below this cannot be told from rounding. */
const LEAST_SHARE = 0.005;

export function shadowSamples(painted: PaintedView): readonly ShadowSample[] {
  return painted.places.shadows.flatMap((place) => {
    const list = place.property === 'drop-shadow' ? parseDropShadows(place.value) : parseShadowList(place.value);
    return samplesOf(painted, place, list);
  });
}

/** Each shadow falls on what those written after it have painted. */
function samplesOf(painted: PaintedView, place: WireShadow, list: readonly WrittenShadow[]): readonly ShadowSample[] {
  const filters = (place.filters ?? []).flatMap(parseFilters);
  const around = outerGround(painted, place, Math.max(...list.map((shadow) => reachOf(place, shadow)), 1));
  const grounds = {
    inner: innerGround(painted, place),
    outer: groundBetween(painted, place, { list, filters, around }) ?? around,
  };
  const found: ShadowSample[] = [];
  let outer = grounds.outer;
  let inner = grounds.inner;
  for (const [back, shadow] of [...list].reverse().entries()) {
    const written = findColor(shadow.color);
    if (written === null) continue;
    // Grounds are read after filters, so the shadow's colour goes through them too.
    const color = applyFilters(written, filters);
    const index = list.length - 1 - back;
    const beneath = shadow.inset ? inner : outer;
    const share = shareOf(painted, place, shadow, color, shadow.inset ? grounds.inner : grounds.outer);
    if (share < LEAST_SHARE) continue;
    const peak = over(withOpacity(color, share * (place.opacity ?? 1)), beneath);
    if (shadow.inset) inner = peak;
    else outer = peak;
    found.push(sampleAt(painted, place, shadow, index, peak, beneath));
  }
  return found.reverse();
}

/** L*: neighbours this much lighter than the ground are not what a shadow falls on (ours; two cards of one theme differ by less). */
const BRIGHT = 25;

interface Fall {
  readonly list: readonly WrittenShadow[];
  readonly filters: ReturnType<typeof parseFilters>;
  /** What prevails around the box. */
  readonly around: Opaque;
}

/** Where bright neighbours touch a box, the ground that its shadow falls on between them, if it can be seen to fade there. */
function groundBetween(painted: PaintedView, place: WireShadow, { list, filters, around }: Fall): Opaque | null {
  if (place.property !== 'box-shadow') return null;
  const ground = computedGround(painted, place);
  if (ground === null || cieLightness(around) - cieLightness(ground) < BRIGHT) return null;
  const fades = list.some((shadow) => {
    const written = findColor(shadow.color);
    if (written === null || shadow.inset) return false;
    return fadesSomewhere(
      {
        pixels: painted.seen,
        region: grown(place.box, Math.min(reachOf(place, shadow), 6)),
        hole: place.box,
        inks: [],
        ground,
        color: applyFilters(written, filters),
      },
      peakShare(place, shadow),
    );
  });
  return fades ? ground : null;
}

function peakShare(place: WireShadow, shadow: WrittenShadow): number {
  const [, , width, height] = place.box;
  const { x, y, spread, inset } = shadow;
  return shadowPeak({ width, height, sigma: sigmaOf(place, shadow), spread, offset: [x, y], inset }).share;
}

function sampleAt(
  { view, originOf }: PaintedView,
  place: WireShadow,
  shadow: WrittenShadow,
  index: number,
  peak: Opaque,
  beneath: Opaque,
): ShadowSample {
  const property = place.property === 'drop-shadow' ? 'filter' : place.property;
  return {
    kind: 'shadow',
    ...placeFacts(view, place),
    key: `${place.key}:${String(index)}`,
    property: place.property,
    color: toHex(peak),
    beneath: toHex(beneath),
    lightnessGain: cieLightness(peak) - cieLightness(beneath),
    chromaGain: toOklch(peak).chroma - toOklch(beneath).chroma,
    blur: shadow.blur,
    spread: shadow.spread,
    offset: [shadow.x, shadow.y],
    inset: shadow.inset,
    index,
    paint: { property, color: shadow.color, origin: originOf(place.selector, property, shadow.color) },
  };
}

/** Share of the shadow's alpha at its visible peak: by formula for boxes, from pixels for letters and strokes; painted wins. */
function shareOf(painted: PaintedView, place: WireShadow, shadow: WrittenShadow, color: Color, ground: Opaque): number {
  const reach = reachOf(place, shadow);
  const inks = place.inks;
  if (inks !== undefined) {
    const found = inks.flatMap((ink) => findColor(ink) ?? []);
    return paintedShare({ pixels: painted.seen, region: grown(place.rect, reach), hole: null, inks: found, ground, color });
  }
  const share = peakShare(place, shadow);
  if (shadow.inset || share < LEAST_SHARE) return share;
  // Clipped away or covered by a neighbour, it is not seen: then no pixel around the box has its colour.
  const seen = paintedShare({
    pixels: painted.seen,
    region: grown(place.box, Math.min(reach, 6)),
    hole: place.box,
    inks: [],
    ground,
    color,
  });
  return seen < share / 4 ? seen : share;
}

function sigmaOf({ property }: WireShadow, { blur }: WrittenShadow): number {
  return property === 'drop-shadow' ? blur : blur / 2;
}

/** CSS px from what casts it to where nothing of it is left. */
function reachOf(place: WireShadow, shadow: WrittenShadow): number {
  return Math.ceil(3 * sigmaOf(place, shadow) + Math.max(0, shadow.spread) + Math.max(Math.abs(shadow.x), Math.abs(shadow.y)));
}

function grown([x, y, width, height]: Rect, by: number): Rect {
  return [x - by, y - by, width + 2 * by, height + 2 * by];
}

/**
 * Letters lie on what prevails among them, boxes on what prevails around them. A shadow with much blur leaves nothing flat
 * there: then computed styles tell, or what begins beyond its reach.
 */
function outerGround(painted: PaintedView, place: WireShadow, reach: number): Opaque {
  const { seen } = painted;
  if (place.property === 'text-shadow') {
    const among = modeOf(tallyOf(codesIn(seen, place.rect, 4000)));
    if (among !== null && among.share >= PREVAILS) return toColor(among.code);
  } else {
    const near = ringAround(seen, place.box);
    if (near !== null && near.exact >= PREVAILS) return toColor(near.code);
  }
  const computed = computedGround(painted, place);
  if (computed !== null) return computed;
  return toColor(ringAround(seen, place.box, { from: reach })?.code ?? 0);
}

/** Share of pixels that a flat ground has at least (ours: glyphs cover up to a third of a line, small shadows half of a ring). */
const PREVAILS = 0.3;

function innerGround({ seen }: PaintedView, place: WireShadow): Opaque {
  return toColor(modeOf(tallyOf(codesIn(seen, place.rect, 4000)))?.code ?? 0);
}
