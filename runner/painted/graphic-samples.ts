// Icons, edges and marks of controls, and the picture → graphic samples with their contrast (WCAG 2.2 SC 1.4.11).
import type { Color, Opaque } from '../../src/colour/color.ts';
import { over, withOpacity } from '../../src/colour/composite.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { LEAST_GRAPHIC_CONTRAST } from '../../src/colour/graphic-requirement.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { Layer, Paint } from '../../src/samples/paint.ts';
import type { GraphicSample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { WireGraphic } from '../page/wire/places.ts';
import { modeOf, tallyOf } from './dominant-colors.ts';
import { ownGround } from './own-ground.ts';
import type { PaintedView } from './painted-view.ts';
import { isChangedOnTheWay, placeFacts, UNTRACED } from './painted-view.ts';
import type { Code, Shot } from './pixels.ts';
import { codesIn, toColor } from './pixels.ts';
import { ringAround } from './ring.ts';

/** CSS px around a graphic that count as what it touches. */
const TOUCHING = 3;
/** The pixels that differ most, up to this share, are taken for what is drawn; anti-aliased edges come after them (ours). */
const DRAWN_SHARE = 0.03;
/** The same of a slider, whose thumb is about as wide as it is high: of the square at its end (ours). */
const THUMB_SHARE = 0.12;

/** Share of a mark on each side that its edge may take (ours). */
const WITHIN = 0.12;
/** Times its height that a track is long at most, unless a page stretches it (ours). */
const TRACK_SHAPE = 2.5;

/** Of one channel, 0–1: anti-aliased edges keep thin lines from being quite the colour that they are declared in (ours). */
const SAME_COLOUR = 8 / 255;

/** What is drawn, against what, and the declaration it came from. */
interface Pair {
  readonly ink: Opaque;
  readonly against: Opaque;
  readonly paint: PaintedWith | null;
  /** What of the mark itself lies behind: a tick is drawn on its box. */
  readonly beneath?: PaintedWith | null;
}

interface PaintedWith {
  readonly property: string;
  readonly color: string;
  readonly on?: string;
}

export function graphicSamples(painted: PaintedView): readonly GraphicSample[] {
  return painted.places.graphics.flatMap((place): readonly GraphicSample[] => {
    const pair = pairOf(painted, place);
    return pair === null ? [] : [sampleOf(painted, place, pair)];
  });
}

function sampleOf(painted: PaintedView, place: WireGraphic, { ink, against, paint, beneath = null }: Pair): GraphicSample {
  const layers = painted.layersOf(place.ground);
  return {
    kind: 'graphic',
    ...placeFacts(painted.view, place),
    role: place.role,
    color: toHex(ink),
    against: toHex(against),
    contrast: contrastRatio({ ink, background: against }),
    exempt: place.exempt?.reason ?? null,
    ...(place.exempt === undefined ? {} : { why: place.exempt.why }),
    paint: tracedPaint(painted, place, ink, paint),
    layers: beneath === null ? layers : [...layers, layerOf(painted, place, beneath)],
    opacity: place.opacity ?? 1,
  };
}

function layerOf({ originOf }: PaintedView, place: WireGraphic, { property, color, on = place.selector }: PaintedWith): Layer {
  return { selector: on, kind: 'color', opacity: 1, paint: { property, color, origin: originOf(on, property, color) } };
}

function tracedPaint({ originOf }: PaintedView, place: WireGraphic, ink: Opaque, paint: Pair['paint']): Paint {
  if (paint === null) return { property: 'color', color: toHex(ink), origin: UNTRACED('read from pixels') };
  const { property, color, on = place.selector } = paint;
  return { property, color, origin: originOf(on, property, color), ...(on === place.selector ? {} : { on }) };
}

function pairOf(painted: PaintedView, place: WireGraphic): Pair | null {
  switch (place.reading) {
    case 'inside':
      return insidePair(painted, place);
    case 'pixels': {
      const against = outsideOf(painted, place.rect);
      const seen = pixelPair(painted, place, against, place.role === 'border' ? thumbShare(place.rect) : DRAWN_SHARE);
      // A thin round line has no pixel of its own colour; the declared one counts where it is what was drawn.
      return isChangedOnTheWay(painted, place) ? seen : best([seen, ...paintsOn(place, against), ...linesSeen(place, seen)]);
    }
    case 'edge':
      return edgePair(painted, place, outsideOf(painted, place.rect, place.reach));
    case 'paints': {
      const against = outsideOf(painted, place.rect);
      // Specified colours count, not anti-aliased ones (Understanding 1.4.3); filters change what was specified.
      if (isChangedOnTheWay(painted, place)) return pixelPair(painted, place, against);
      const inks = paintsOn(place, against).map(({ ink }) => ink);
      return best(paintsOn(place, ownGround(painted.seen, place.rect, against, inks) ?? against));
    }
  }
}

/** @param reach CSS px around it that lines of its own take */
function outsideOf({ seen }: PaintedView, rect: Rect, reach = 0): Opaque {
  return toColor(ringAround(seen, rect, { from: 1 + Math.ceil(reach), width: TOUCHING })?.code ?? 0);
}

/** Of an icon in several colours the one counts that is told best. */
function paintsOn({ paints, opacity = 1 }: WireGraphic, against: Opaque): readonly Pair[] {
  return paints.flatMap((paint) => {
    const color = findColor(paint.color);
    return color === null ? [] : [{ ink: over(withOpacity(color, opacity * (paint.opacity ?? 1)), against), against, paint }];
  });
}

function pixelPair({ seen }: PaintedView, place: WireGraphic, against: Opaque, least = DRAWN_SHARE): Pair {
  const [paint] = place.paints;
  const ink = drawnColor(codesIn(seen, place.rect), against, least);
  return { ink, against, paint: painterOf(place, ink, against) ?? paint ?? null };
}

/** Of what may have painted it the one whose colour is there. */
function painterOf({ painters = [] }: Pick<WireGraphic, 'painters'>, ink: Opaque, against: Opaque): Pair['paint'] {
  const near = painters.flatMap(({ on, property, color: text, opacity = 1 }) => {
    const color = findColor(text);
    const off = color === null ? Infinity : farthest(over(withOpacity(color, opacity), against), ink);
    return off <= SAME_COLOUR ? [{ off, paint: { on, property, color: text } }] : [];
  });
  return near.toSorted((one, other) => one.off - other.off)[0]?.paint ?? null;
}

const farthest = (one: Opaque, other: Opaque): number =>
  Math.max(Math.abs(one.r - other.r), Math.abs(one.g - other.g), Math.abs(one.b - other.b));

function insidePair(painted: PaintedView, place: WireGraphic): Pair | null {
  const { seen } = painted;
  const [x, y, width, height] = place.rect;
  // A stretched track has its thumb at one end.
  const long = Math.min(width, height * TRACK_SHAPE);
  const [besideX, besideY] = [long * WITHIN, height * WITHIN];
  const inner: Rect = [x + besideX, y + besideY, width - 2 * besideX, height - 2 * besideY];
  const mode = modeOf(tallyOf(codesIn(seen, inner)));
  if (mode === null) return null;
  const against = toColor(mode.code);
  const ink = drawnColor(codesIn(seen, inner), against, DRAWN_SHARE * (long / width));
  const paint = painterOf(place, ink, against);
  const outside = outsideOf(painted, place.rect);
  const solid = place.painters?.filter(({ opacity }) => opacity === undefined) ?? [];
  // What looks like the page may be the page.
  const beneath = farthest(against, outside) <= SAME_COLOUR ? null : painterOf({ painters: solid }, against, outside);
  const isDeclared = paint === null && !isChangedOnTheWay(painted, place);
  return { ...((isDeclared ? blendedPair(place, ink, against) : null) ?? { ink, against, paint }), beneath };
}

/** A line around or in the mark that something within it draws, in the colour it is declared in. */
function linesSeen({ painters = [] }: WireGraphic, { ink, against, paint }: Pair): readonly Pair[] {
  const isLine = ({ property }: PaintedWith): boolean => property !== 'background-color' && property !== 'fill';
  // What is seen may be a face that a hidden line would blend to.
  if (paint !== null && !isLine(paint)) return [];
  const line = blendedPair({ painters: painters.filter(isLine) }, ink, against);
  return line === null ? [] : [line];
}

/** A thin tick has hardly a pixel of its own colour: what is declared counts where what is seen blends it with the ground by half or more. */
function blendedPair({ painters = [] }: Pick<WireGraphic, 'painters'>, ink: Opaque, against: Opaque): Pair | null {
  const blends = painters.flatMap(({ on, property, color: text, opacity = 1 }) => {
    const color = findColor(text);
    const declared = color === null ? against : over(withOpacity(color, opacity), against);
    const whole = farthest(declared, against);
    const share = whole === 0 ? 0 : farthest(ink, against) / whole;
    if (share < LEAST_BLEND || share > 1) return [];
    const blended = over({ ...declared, alpha: share }, against);
    const off = farthest(blended, ink);
    return off <= SAME_COLOUR ? [{ off, pair: { ink: declared, against, paint: { on, property, color: text } } }] : [];
  });
  return blends.toSorted((one, other) => one.off - other.off)[0]?.pair ?? null;
}

const LEAST_BLEND = 0.5;

/** The thumb of a long slider is a small part of it. */
function thumbShare([, , width, height]: Rect): number {
  return Math.min(DRAWN_SHARE, THUMB_SHARE * (Math.min(width, height) / Math.max(width, height)));
}

/** The colour that differs most from what it lies on, strays left out. */
function drawnColor(codes: readonly Code[], against: Opaque, least = DRAWN_SHARE): Opaque {
  const tally = tallyOf(codes);
  const total = [...tally.values()].reduce((sum, times) => sum + times, 0);
  const ranked = [...tally]
    .map(([code, times]) => ({ code, times, contrast: contrastRatio({ ink: toColor(code), background: against }) }))
    .sort((one, other) => other.contrast - one.contrast);
  let passed = 0;
  for (const { code, times } of ranked) {
    passed += times;
    if (passed >= total * least) return toColor(code);
  }
  return against;
}

/** A field is told by its border against either side, or by its own face against the page, whichever is stronger. */
function edgePair(painted: PaintedView, place: WireGraphic, outside: Opaque): Pair | null {
  const opacity = place.opacity ?? 1;
  const on = (color: Color, ground: Opaque): Opaque => over(withOpacity(color, opacity), ground);
  const changed = isChangedOnTheWay(painted, place);
  if (changed) {
    const [paint] = place.paints;
    return { ink: drawnColor(rimOf(painted.seen, place), outside), against: outside, paint: paint ?? null };
  }
  const fill = place.fill === undefined ? null : findColor(place.fill);
  const face = fill === null ? outside : on(fill, outside);
  const own = place.fill === undefined ? null : { property: 'background-color', color: place.fill };
  const line = place.exempt?.reason === 'decoration';
  return best([
    ...place.paints.flatMap((paint): readonly Pair[] => {
      const color = findColor(paint.color);
      if (color === null) return [];
      const isOuter = paint.outer === true;
      const ink = on(color, isOuter ? outside : face);
      const outward: Pair = { ink, against: outside, paint };
      const inward: Pair = { ink, against: face, paint, beneath: opacity < 1 ? null : own };
      // What lies below a clear ring is not the face: where the face does not tell it either, what is around it explains more.
      const isClearRing = isOuter && color.alpha * opacity < 1;
      return line || (isClearRing && !isTold(inward)) ? [outward] : [outward, inward];
    }),
    ...(fill === null || line ? [] : [{ ink: face, against: outside, paint: own }]),
  ]);
}

/** CSS px: a border, or as much of the face; the words of a field begin further in. */
const RIM = 3;

function rimOf(seen: Shot, { rect, reach = 0 }: WireGraphic): readonly Code[] {
  const [x, y, width, height] = [rect[0] - reach, rect[1] - reach, rect[2] + 2 * reach, rect[3] + 2 * reach];
  const rim = RIM + reach;
  const strips: readonly Rect[] = [
    [x, y, width, rim],
    [x, y + height - rim, width, rim],
    [x, y + rim, rim, height - 2 * rim],
    [x + width - rim, y + rim, rim, height - 2 * rim],
  ];
  return strips.flatMap((strip) => codesIn(seen, strip));
}

function best(pairs: readonly Pair[]): Pair | null {
  return pairs.reduce<Pair | null>((kept, one) => (kept === null || ratioOf(one) > ratioOf(kept) ? one : kept), null);
}

function ratioOf({ ink, against }: Pair): number {
  return contrastRatio({ ink, background: against });
}

function isTold(pair: Pair): boolean {
  return ratioOf(pair) >= LEAST_GRAPHIC_CONTRAST;
}
