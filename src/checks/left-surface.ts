// A surface that the theme did not reach: by which bounds. `unthemed` tells it; `separation` says nothing of its step then.
import { deltaEOk } from '../colour/lightness.ts';
import { findColor } from '../colour/parse-color.ts';
import type { Paint } from '../samples/paint.ts';
import type { Tone } from '../samples/view.ts';
import type { OptionsOf, SampleOf } from './check.ts';

export const leftParameters = {
  leastChange: {
    default: 25,
    min: 1,
    max: 100,
    unit: 'L*',
    about: 'How much the lightness behind or around a place must differ from the reference theme to count as changed.',
    source: 'ours: light and dark themes differ by 70 and more, tints of one theme by less than 15',
  },
  leastStandOut: {
    default: 15,
    min: 1,
    max: 100,
    unit: 'L*',
    about: 'How much more a surface must differ in lightness from its surroundings than it does in the reference theme.',
    source: 'ours: an accent fill that suits both themes differs less or about as much; a forgotten panel by 80',
  },
  mostChroma: {
    default: 0.08,
    min: 0,
    max: 0.4,
    unit: 'chroma',
    about: 'Fills more saturated than this (OKLCH) are accents: that one stands out more in the dark is what neon judges.',
    source: 'ours: papers and pastel panels stay below .05, a yellow button is at .17',
  },
  leastTokenArea: {
    default: 0.01,
    min: 0,
    max: 1,
    unit: 'share',
    about:
      'Share of the viewport from which a neutral surface is left behind though a token paints it: the token has no value for this theme.',
    source: 'ours: as in `flipped`; smaller ones (stamps, codes to scan, chips) often keep their paper on purpose',
  },
} as const;

type Bounds = OptionsOf<typeof leftParameters>;
type Surface = SampleOf<'surface'>;

/** As they are unless configured. */
const BOUNDS: Bounds = {
  leastChange: leftParameters.leastChange.default,
  leastStandOut: leftParameters.leastStandOut.default,
  mostChroma: leftParameters.mostChroma.default,
  leastTokenArea: leftParameters.leastTokenArea.default,
};

/** OKLab distance up to which two colours are one: half of the just noticeable .02 (CSS Color 4 §13.2). */
export const SAME = 0.01;
/** L*; a panel made for the light page lies near it, a fill further off suits dark pages as well (ours: a grey alert). */
const NEAR_ITS_PAGE = 30;

/** What `unthemed` tells of a surface whose colour comes through a token or is not traced, or which the browser painted. */
export function isLeft(surface: Surface, before: Surface | null, tone: Tone, toneInReference: Tone): boolean {
  if (before === null) return isFrameOfBrowser(surface, tone, toneInReference);
  if (surface.stay !== undefined || distance(surface.color, before.color) > SAME || isTranslucent(surface.paint)) return false;
  return keptByToken(surface, tone, BOUNDS) && standsOut(surface, before, BOUNDS) !== null;
}

/** The browser paints a frame whose document does not know the scheme of what it lies in (CSS Color Adjust 1 §2): clear before, white now. */
export function isFrameOfBrowser(
  { role, paint, stay, tone: own }: Surface,
  tone: Tone,
  toneInReference: Tone | undefined,
): boolean {
  return role === 'box' && paint.origin.kind === 'system' && stay === undefined && tone !== toneInReference && own !== tone;
}

/**
 * A panel, bar, table row or frame that has the tone of the reference theme's page through a token, or in a document whose colours are not
 * traced.
 */
export function keptByToken(sample: Surface, tone: Tone, { leastTokenArea }: Pick<Bounds, 'leastTokenArea'>): boolean {
  if (sample.fill !== 'flat' || (sample.role !== 'box' && sample.role !== 'pseudo')) return false;
  const { kind } = sample.paint.origin;
  return kind !== 'literal' && kind !== 'system' && sample.tone !== tone && sample.area >= leastTokenArea;
}

/** @returns its step here and in the reference theme (L*), null where it fits in */
export function standsOut(
  sample: Surface,
  before: Surface,
  { leastChange, leastStandOut, mostChroma }: Omit<Bounds, 'leastTokenArea'>,
): { readonly now: number; readonly then: number } | null {
  const moved = Math.abs(sample.aroundLightness - before.aroundLightness);
  const now = Math.abs(sample.lightness - sample.aroundLightness);
  const then = Math.abs(before.lightness - before.aroundLightness);
  if (moved < leastChange || now < then + leastStandOut || sample.chroma > mostChroma) return null;
  return then > NEAR_ITS_PAGE ? null : { now, then };
}

export function isTranslucent(paint: Paint): boolean {
  const color = findColor(paint.color);
  return color !== null && color.alpha < 0.95;
}

export function distance(one: string, other: string): number {
  if (one === other) return 0;
  const [a, b] = [findColor(one), findColor(other)];
  return a === null || b === null ? Number.POSITIVE_INFINITY : deltaEOk(a, b);
}
