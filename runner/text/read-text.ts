// Each line box of each text run: is what the computed styles say what the picture shows? Where it is, that is the result.
// Where it is not, or cannot be told, pictures without the text and with its ink as areas show what is there.
import type { Opaque } from '../../src/colour/color.ts';
import { laidOn, showsLaidInk } from '../../src/pictures/laid-ink.ts';
import type { Area, Pixels } from '../../src/pictures/pixels.ts';
import { areaInside } from '../../src/pictures/pixels.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { Codes } from '../../src/pictures/two-colors.ts';
import { showsTwoColors } from '../../src/pictures/two-colors.ts';
import { drawnSize, drawsUnfilled, largestFilledSquare } from '../../src/pictures/filled-square.ts';
import type { Pair, UnderGlyphs } from '../../src/pictures/under-glyphs.ts';
import { underGlyphs } from '../../src/pictures/under-glyphs.ts';
import type { WireRun } from '../page/wire/wire.ts';
import type { Formula } from './formula.ts';
import type { Open, Sight, Veiled } from './veiled-pictures.ts';
import { veiled } from './veiled-pictures.ts';

/** What was found out about one line box. */
export type Reading =
  /** The picture shows what the computed styles say. */
  | { readonly kind: 'computed' }
  | { readonly kind: 'painted'; readonly pairs: readonly Pair[] }
  /** Nothing of it can be seen. */
  | { readonly kind: 'unseen' }
  /** Something covers it, and no letter's worth is left in sight. */
  | { readonly kind: 'covered' }
  | { readonly kind: 'unknown'; readonly why: string };

/** Strokes of the heaviest common fonts are about a quarter of their size wide (ours). */
const SOLID_EM = 0.4;
const LEAST_SOLID_PX = 5;

export interface ReadText {
  /** By run and line box. */
  readonly readings: readonly (readonly Reading[])[];
  /** Text moved or changed meanwhile. */
  readonly moved: boolean;
  /** The page is on its way back to how it looked: what is asked of it next comes in the same frame. */
  readonly lifted: Promise<unknown>;
}

export async function readText(sight: Sight, runs: readonly WireRun[], formulaOf: (run: WireRun) => Formula): Promise<ReadText> {
  const readings: Reading[][] = runs.map((run) => run.rects.map(() => ({ kind: 'computed' })));
  const open: Open[] = [];
  for (const [run, wire] of runs.entries()) {
    const formula = formulaOf(wire);
    const colors = {
      background: codes(formula.background),
      ink: codes(formula.ink),
      inkAlpha: formula.alpha,
      solidPx: Math.max(LEAST_SOLID_PX, wire.fontSize * sight.scale * SOLID_EM),
    };
    for (const [box, rect] of wire.rects.entries()) {
      const area = areaInside(rect, sight.scale);
      const isShown = formula.sure && wire.outline === undefined && showsTwoColors(sight.normal, area, colors);
      if (!isShown && wire.far === true) readings[run] = wire.rects.map(() => FAR);
      else if (!isShown) open.push({ run, box, area });
    }
  }
  if (open.length === 0) return { readings, moved: false, lifted: Promise.resolve() };
  const put = (place: Open, reading: Reading): void => {
    const row = readings[place.run];
    if (row !== undefined) row[place.box] = reading;
  };
  const lift = (): Promise<unknown> => sight.tab.call('veil', { veil: 'off', runs: [] });
  try {
    const moved = await lookCloser(sight, runs, formulaOf, open, put);
    return { readings, moved, lifted: lift() };
  } catch (error) {
    if (!sight.tab.dead) await lift();
    throw error;
  }
}

/** @returns whether text moved or changed meanwhile */
async function lookCloser(
  sight: Sight,
  runs: readonly WireRun[],
  formulaOf: (run: WireRun) => Formula,
  open: readonly Open[],
  put: (place: Open, reading: Reading) => void,
): Promise<boolean> {
  const bare = await veiled(sight, 'bare', open);
  const moved = new Set(bare.moved);
  const left = open.filter((place) => {
    const reading = moved.has(place.run)
      ? MOVED
      : readLaid(sight, bare, place, {
          run: runOf(runs, place),
          formula: formulaOf(runOf(runs, place)),
        });
    if (reading !== null) put(place, reading);
    return reading === null;
  });
  if (left.length === 0) return hasMoved(sight, runs, moved);

  // Layers under a backdrop filter may come a frame late (seen on a busy machine): where no ink shows, look once more.
  let inked = await veiled(sight, 'ink', left);
  let doubtful = readInked({ sight, runs, formulaOf, bare, inked, moved, put }, left);
  if (doubtful.length > 0) {
    inked = await veiled(sight, 'ink', doubtful);
    doubtful = readInked({ sight, runs, formulaOf, bare, inked, moved, put }, doubtful);
  }
  if (doubtful.length > 0) await findGlyphs({ sight, runs, places: doubtful, bare, inked, put });
  return hasMoved(sight, runs, moved);
}

interface Inked {
  readonly sight: Sight;
  readonly runs: readonly WireRun[];
  readonly formulaOf: (run: WireRun) => Formula;
  readonly bare: Veiled;
  readonly inked: Veiled;
  /** Runs that moved meanwhile are added. */
  readonly moved: Set<number>;
  readonly put: (place: Open, reading: Reading) => void;
}

/** @returns places where the ink shows nowhere, or not all over the box */
function readInked({ sight, runs, formulaOf, bare, inked, moved, put }: Inked, places: readonly Open[]): readonly Open[] {
  return places.filter((place) => {
    const wire = runOf(runs, place);
    const without = bare.covering(place.area);
    if (without === null) return false;
    if (inked.moved.includes(place.run)) {
      moved.add(place.run);
      put(place, MOVED);
      return false;
    }
    const filled = isFilled(wire) && !inked.notInked.has(place.run) ? inked.covering(place.area) : null;
    const glyphs = underGlyphs({ normal: sight.normal, bare: without, inked: filled }, place.area);
    if (filled !== null) put(place, paintedOf(glyphs));
    else put(place, withoutArea(wire, formulaOf(wire), glyphs, fatInk(inked, without, place)));
    if (isShadowOnly(wire))
      put(place, {
        kind: 'unknown',
        why: 'only the shadow of its letters is painted',
      });
    return glyphs.glyphPixels === 0 || glyphs.unfilled > UNFILLED_SHARE;
  });
}

function hasMoved({ masked }: Sight, runs: readonly WireRun[], moved: ReadonlySet<number>): boolean {
  const isMasked = (run: number): boolean =>
    (runs[run]?.rects ?? []).every(([x, y, width, height]) =>
      masked.some(([left, top, wide, high]) => x < left + wide && x + width > left && y < top + high && y + height > top),
    );
  return [...moved].some((run) => !isMasked(run));
}

const FAR: Reading = {
  kind: 'unknown',
  why: 'it stands in a frame of another origin, and the picture does not show the colours that its styles say',
};

const MOVED: Reading = {
  kind: 'unknown',
  why: 'its lines moved while it was measured',
};

function runOf(runs: readonly WireRun[], place: Open): WireRun {
  const run = runs[place.run];
  if (run === undefined) throw new RangeError(`no run ${place.run}`);
  return run;
}

/** An ink laid straight on a picture or gradient: seen in full, it needs no picture of its own. @returns null where it is not so */
function readLaid(
  sight: Sight,
  bare: Veiled,
  place: Open,
  { run, formula: { laid } }: { readonly run: WireRun; readonly formula: Formula },
): Reading | null {
  const without = bare.covering(place.area);
  if (laid === null || without === null) return null;
  const ink = { codes: codes({ ...laid, alpha: 1 }), alpha: laid.alpha };
  if (!showsLaidInk(sight.normal, without, place.area, ink)) return null;
  // What shows is lower than small letters are: look whether something covers the rest.
  const least = LOWEST_EM * run.fontSize * sight.scale;
  const { width, height } = drawnSize({ bare: without, drawn: sight.normal }, place.area);
  if (height < least || (width < least && run.text.length > 1)) return null;
  const { pairs } = underGlyphs({ normal: sight.normal, bare: without, inked: null }, place.area);
  return {
    kind: 'painted',
    pairs: pairs.map(({ background, count }) => ({
      background,
      ink: laidOn(background, ink),
      count,
    })),
  };
}

/** Letters without ascenders are about half an em high (common practice in faces for reading). */
const LOWEST_EM = 0.45;

/** Up to here the box may be cut at its edges by rounding. */
const UNFILLED_SHARE = 0.005;

/** Highlights fill boxes of text nodes; other text is drawn fat instead. */
const isFilled = (wire: WireRun): boolean => wire.source === 'text' || wire.source === 'svg';

const paintedOf = (glyphs: UnderGlyphs): Reading =>
  glyphs.pairs.length === 0 ? { kind: 'unseen' } : { kind: 'painted', pairs: glyphs.pairs };

function isShadowOnly(wire: WireRun): boolean {
  return (
    wire.doubts?.includes('text-shadow') === true && findColor(wire.ink)?.alpha === 0 && wire.inkProperty !== 'background-image'
  );
}

/** Glyphs drawn fat show their ink in some pixel even where they are thin. */
function fatInk(inked: Veiled, without: Pixels, place: Open): number | null {
  const filled = inked.notInked.has(place.run) ? null : inked.covering(place.area);
  return filled === null ? null : (underGlyphs({ normal: filled, bare: without, inked: null }, place.area).strongest?.ink ?? null);
}

/** From this size on some pixel is covered by a stroke in full (measured: within 2 codes at 16 px). */
const FULL_COVER_CSS_PX = 16;

/** One ink for the whole box: as computed where that is sure, else from the pixel that shows it best. */
function withoutArea(wire: WireRun, formula: Formula, glyphs: UnderGlyphs, fat: number | null): Reading {
  if (glyphs.glyphPixels === 0) return { kind: 'unseen' };
  const strongest = fat ?? (wire.fontSize < FULL_COVER_CSS_PX ? null : glyphs.strongest?.ink);
  const ink = formula.sure ? packed(formula.ink) : strongest;
  if (ink === null || ink === undefined) return { kind: 'unknown', why: 'its ink cannot be told from thin glyphs' };
  return {
    kind: 'painted',
    pairs: glyphs.pairs.map((pair) => ({ ...pair, ink })),
  };
}

/**
 * Where the ink equals what lies behind, glyphs leave no trace when they go; neither do those under a cover. Drawn in a
 * marker colour they do.
 */
async function findGlyphs({ sight, runs, places, bare, inked, put }: Search): Promise<void> {
  const marked = await veiled(sight, 'marker', places);
  for (const place of places) {
    const wire = runs[place.run];
    const without = bare.covering(place.area);
    const shown = marked.covering(place.area);
    if (wire === undefined || without === null || shown === null || marked.notInked.has(place.run)) continue;
    const filled = isFilled(wire) && !inked.notInked.has(place.run) ? inked.covering(place.area) : null;
    const glyphs = underGlyphs({ normal: shown, bare: without, inked: filled }, place.area);
    if (isShadowOnly(wire)) continue;
    const pictures = filled === null ? null : { bare: without, filled, drawn: shown };
    if (pictures !== null && glyphs.pairs.length > 0 && isSliver(pictures, place.area, wire.fontSize * sight.scale)) {
      put(place, drawsUnfilled(pictures, place.area) ? paintedOf(glyphs) : { kind: 'covered' });
    } else if (filled !== null || glyphs.pairs.length === 0) put(place, paintedOf(glyphs));
    else if (underGlyphs({ normal: sight.normal, bare: without, inked: null }, place.area).glyphPixels === 0) {
      put(place, {
        kind: 'painted',
        pairs: glyphs.pairs.map((pair) => ({ ...pair, ink: pair.background })),
      });
    }
  }
}

/**
 * A letter takes a square of about this side: the advance of a digit, the height of x and a stem's start (ours; common practice in
 * faces for reading). Where a cover leaves no such square of the line box, nobody reads what is left.
 */
const LETTER_EM = 0.6;
/** Narrow or low boxes: nearly all of them must be in sight. */
const NEARLY_ALL = 0.9;

function isSliver(pictures: { readonly bare: Pixels; readonly filled: Pixels }, box: Area, fontSizePx: number): boolean {
  const letter = Math.min(LETTER_EM * fontSizePx, NEARLY_ALL * (box.right - box.left), NEARLY_ALL * (box.bottom - box.top));
  return largestFilledSquare(pictures, box) < Math.floor(letter);
}

interface Search {
  readonly sight: Sight;
  readonly runs: readonly WireRun[];
  readonly places: readonly Open[];
  readonly bare: Veiled;
  readonly inked: Veiled;
  readonly put: (place: Open, reading: Reading) => void;
}

export function codes(color: Opaque): Codes {
  const code = (v: number): number => Math.min(255, Math.max(0, v * 255));
  return [code(color.r), code(color.g), code(color.b)];
}

/** 0xRRGGBB, nearest. */
export function packed(color: Opaque): number {
  const [r, g, b] = codes(color);
  return (Math.round(r) << 16) | (Math.round(g) << 8) | Math.round(b);
}
