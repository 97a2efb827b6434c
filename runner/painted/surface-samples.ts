// Painted areas of the page and its picture → surface samples: the colour seen on each, and around it.
import { opaque } from '../../src/colour/color.ts';
import type { Opaque } from '../../src/colour/color.ts';
import { over, withOpacity } from '../../src/colour/composite.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { cieLightness, toOklch } from '../../src/colour/lightness.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import { shadowPeak } from '../../src/colour/shadow-profile.ts';
import type { Paint } from '../../src/samples/paint.ts';
import type { SurfaceSample } from '../../src/samples/sample.ts';
import type { WireArea } from '../page/wire/places.ts';
import { isLine, parseShadowList } from '../page/css-lists.ts';
import type { Dominant, Tally } from './dominant-colors.ts';
import { count, groupsOf, modeOf } from './dominant-colors.ts';
import type { Ownership } from './ownership.ts';
import { addOwnPixels, ownerAt, ownershipOf } from './ownership.ts';
import type { PaintedView } from './painted-view.ts';
import { placeFacts, UNTRACED } from './painted-view.ts';
import type { Shot } from './pixels.ts';
import { codesIn, distance, toColor } from './pixels.ts';
import type { Ring, RingWishes } from './ring.ts';
import { ringAround } from './ring.ts';
import { withoutVeils } from './unveil.ts';

/** Colours of a gradient or drawing that are kept. */
const PALETTE = 8;

export function surfaceSamples(painted: PaintedView): readonly SurfaceSample[] {
  const { places, seen, leastShare, viewport } = painted;
  const { areas } = places;
  const ownership = ownershipOf(
    areas.map((area) => area.rect),
    { width: seen.widthPx / seen.scale, height: seen.heightPx / seen.scale },
  );
  // Most areas are small ones that nobody asks about.
  const looked = new Map<number, { readonly tally: Tally; readonly mode: Dominant | null }>();
  const lookAt = (index: number): { readonly tally: Tally; readonly mode: Dominant | null } | null => {
    const area = areas[index];
    if (area === undefined || area.role === 'cover') return null;
    const known = looked.get(index);
    if (known !== undefined) return known;
    const tally = ownTally(seen, ownership, area, index);
    const look = { tally, mode: modeOf(tally) };
    looked.set(index, look);
    return look;
  };
  const keys: (string | null)[] = areas.map(() => null);
  return areas.flatMap((area, index): readonly SurfaceSample[] => {
    const share = (area.rect[2] * area.rect[3]) / (viewport.width * viewport.height);
    const look = share < leastShare ? null : lookAt(index);
    if (look === null || look.mode === null) return [];
    const { tally, mode } = look;
    keys[index] = area.key;
    // Cells of one row, items of one list: what lies side by side in one colour is one surface to the eye.
    const alike = (x: number, y: number): boolean => {
      const at = ownerAt(ownership, x, y);
      if (at === index || areas[at]?.up !== area.up) return false;
      const other = lookAt(at)?.mode;
      return other !== null && other !== undefined && distance(other.code, mode.code) <= 2;
    };
    const ring =
      area.role === 'canvas' ? null : ringAround(seen, area.rect, { skip: alike, ...unveiling(painted, ownership, area) });
    return [sampleOf(painted, area, { share, tally, ring, on: onWhat(area, areas, keys) })];
  });
}

/** What stands in front of a veil is judged against the page beneath it, as it would be without the veil. */
function unveiling({ places }: PaintedView, ownership: Ownership, area: WireArea): Pick<RingWishes, 'read'> {
  const { areas, veils } = places;
  if (veils.length === 0 || area.behind !== undefined || area.veil === true) return {};
  return {
    read: (x, y, code) => {
      const owner = areas[ownerAt(ownership, x, y)];
      const isPage = owner === undefined || owner.behind !== undefined || owner.veil === true;
      return isPage ? withoutVeils(veils, x, y, code) : code;
    },
  };
}

function ownTally(seen: Shot, ownership: Ownership, area: WireArea, index: number): Tally {
  const tally: Tally = new Map();
  addOwnPixels(ownership, index, area.rect, seen, tally);
  // A page wholly covered by what lies in it still has its colour somewhere.
  if (area.role === 'canvas' && tally.size === 0) for (const code of codesIn(seen, area.rect)) count(tally, code);
  return tally;
}

/** The nearest area below that became a sample. */
function onWhat(area: WireArea, areas: readonly WireArea[], keys: readonly (string | null)[]): string | null {
  for (let at = area.up; at !== -1; at = areas[at]?.up ?? -1) {
    const key = keys[at];
    if (key !== null && key !== undefined) return key;
  }
  return null;
}

interface SeenSurface {
  readonly share: number;
  readonly tally: Tally;
  readonly ring: Ring | null;
  readonly on: string | null;
}

function sampleOf(painted: PaintedView, area: WireArea, { share, tally, ring, on }: SeenSurface): SurfaceSample {
  const fill = fillOf(area, tally);
  const groups = groupsOf(tally, PALETTE);
  const mode = fill === 'flat' ? modeOf(tally) : (groups[0] ?? null);
  const color = toColor(mode?.code ?? 0);
  const around = ring === null ? color : toColor(ring.code);
  const lightness = cieLightness(color);
  const { chroma, hueDeg } = toOklch(color);
  const edge = edgeOf(area, color, around);
  return {
    kind: 'surface',
    ...placeFacts(painted.view, area),
    color: toHex(color),
    around: toHex(around),
    aroundShare: ring?.share ?? 1,
    ...(on === null ? {} : { on }),
    lightness,
    aroundLightness: cieLightness(around),
    chroma,
    hueDeg,
    area: share,
    tone: lightness < 50 ? 'dark' : 'light',
    fill,
    ...(fill === 'flat' ? {} : { palette: groups.map(({ code, share: part }) => ({ color: toHex(toColor(code)), share: part })) }),
    role: fill === 'picture' || area.role === 'cover' ? 'picture' : area.role,
    ...(area.stay === undefined ? {} : { stay: area.stay }),
    ...(edge === null ? {} : { edge }),
    paint: paintOf(painted, area, color),
    opacity: area.opacity ?? 1,
    layers: painted.layersOf(area.ground),
  };
}

/** Share of a fill near its prevailing colour from which a picture or gradient in it is a grain or an ornament; text covers the rest. */
const PREVAILS = 0.6;
/** Codes: about the just noticeable ΔE OK of .02. */
const NEAR = 5;

function fillOf(area: WireArea, tally: Tally): SurfaceSample['fill'] {
  if (area.drawn !== undefined) return 'gradient';
  if (area.image === undefined) return 'flat';
  const mode = modeOf(tally);
  let near = 0;
  let total = 0;
  for (const [code, times] of tally) {
    total += times;
    if (mode !== null && distance(code, mode.code) <= NEAR) near += times;
  }
  return near >= total * PREVAILS ? 'flat' : area.image;
}

function paintOf({ originOf, canvas }: PaintedView, area: WireArea, color: Opaque): Paint {
  if (area.drawn !== undefined) {
    return {
      property: area.drawn,
      color: toHex(color),
      origin: UNTRACED(`drawn in ${area.drawn === 'svg' ? 'an svg' : 'a canvas'}`),
    };
  }
  if (area.color !== undefined) {
    return { property: 'background-color', color: area.color, origin: originOf(area.selector, 'background-color', area.color) };
  }
  if (area.image !== undefined) {
    return { property: 'background-image', color: toHex(color), origin: originOf(area.selector, 'background-image', toHex(color)) };
  }
  // Nobody gave the page or the frame a background: the browser did.
  return { property: 'background-color', color: area.role === 'canvas' ? canvas : toHex(color), origin: { kind: 'system' } };
}

/** The border or shadow that sets the surface off most from both sides. */
function edgeOf(area: WireArea, color: Opaque, around: Opaque): NonNullable<SurfaceSample['edge']> | null {
  const setsOff = (edge: Opaque): number => {
    const lightness = cieLightness(edge);
    return Math.min(Math.abs(lightness - cieLightness(color)), Math.abs(lightness - cieLightness(around)));
  };
  const candidates = [
    ...(area.borders ?? []).flatMap((border) => {
      const paint = findColor(border.color);
      return paint === null ? [] : [{ kind: 'border' as const, color: over(withOpacity(paint, area.opacity ?? 1), color) }];
    }),
    ...innerLines(area).flatMap((line) => {
      const paint = findColor(line);
      return paint === null ? [] : [{ kind: 'border' as const, color: over(withOpacity(paint, area.opacity ?? 1), color) }];
    }),
    ...shadowEdges(area, around).map((edge) => ({ kind: 'shadow' as const, color: edge })),
  ];
  const best = candidates.reduce<(typeof candidates)[number] | null>(
    (kept, one) => (kept === null || setsOff(one.color) > setsOff(kept.color) ? one : kept),
    null,
  );
  return best === null ? null : { kind: best.kind, color: toHex(best.color) };
}

/** What an inner shadow without blur draws along a side is a line like a border. */
function innerLines({ shadow = '' }: WireArea): readonly string[] {
  return parseShadowList(shadow).flatMap((one) => (one.inset && isLine(one) ? [one.color] : []));
}

/** Outer shadows together at their peaks. */
function shadowEdges(area: WireArea, around: Opaque): readonly Opaque[] {
  const outer = parseShadowList(area.shadow ?? '').filter((shadow) => !shadow.inset);
  if (outer.length === 0) return [];
  const [, , width, height] = area.rect;
  const painted = outer.reduceRight<Opaque>((below, { color, x, y, blur, spread }) => {
    const paint = findColor(color);
    if (paint === null) return below;
    const { share } = shadowPeak({ width, height, sigma: blur / 2, spread, offset: [x, y], inset: false });
    return over(withOpacity(paint, share * (area.opacity ?? 1)), below);
  }, around);
  return [opaque(painted)];
}
