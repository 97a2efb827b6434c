// What computed styles say about a run's ink and background, and whether that can be relied on.
import type { Color, Opaque } from '../../src/colour/color.ts';
import { TRANSPARENT, WHITE, opaque } from '../../src/colour/color.ts';
import { isBlendMode, over, withOpacity } from '../../src/colour/composite.ts';
import { parseFilters } from '../../src/colour/filters.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { WireGround, WireRect, WireRun } from '../page/wire/wire.ts';
import type { GroundPaint } from './ground-color.ts';
import { paintChain } from './ground-color.ts';
import { chainOf } from './layers.ts';

export interface Formula {
  readonly ink: Opaque;
  readonly background: Opaque;
  /** Alpha of the ink over its background, groups included. */
  readonly alpha: number;
  /**
   * The ink as it is laid straight on what lies behind it, whatever that is; null where groups, filters, shadows or outlines
   * come between.
   */
  readonly laid: Color | null;
  /** False where something computed styles do not tell about takes part: pictures, filters, shadows … */
  readonly sure: boolean;
}

/** @returns a function of a run; equal runs share one result */
export function formulas(grounds: readonly WireGround[], canvasText: string): (run: WireRun) => Formula {
  const canvas = opaque(findColor(canvasText) ?? WHITE);
  const chains = new Map<number, Chain>();
  const known = new Map<string, Formula>();
  const chainAt = (index: number): Chain => {
    const have = chains.get(index);
    if (have !== undefined) return have;
    const list = chainOf(grounds, index);
    const chain = list.map(toPaint);
    const made = {
      chain,
      sure: list.every(isComputable),
      images: list.every((ground) => isComputable(besideImage(ground)))
        ? list.flatMap(({ imageArea }) => (imageArea === undefined ? [] : [imageArea]))
        : null,
      plain: list.every(isPlain),
      opacity: chain.reduce((product, ground) => product * ground.opacity, 1),
      background: paintChain(canvas, chain, null),
    };
    chains.set(index, made);
    return made;
  };
  return (run) => {
    const { chain, sure, images, plain, opacity, background } = chainAt(run.ground);
    const isSure = sure || (images !== null && images.every((image) => !run.rects.some((rect) => meets(rect, image))));
    const key = `${run.ground} ${isSure} ${run.inkAlpha ?? 1} ${run.ink} ${run.doubts?.join() ?? ''} ${run.outline?.kind ?? ''}`;
    const have = known.get(key);
    if (have !== undefined) return have;
    const parsed = findColor(run.ink);
    const own = withOpacity(parsed ?? TRANSPARENT, run.inkAlpha ?? 1);
    const straight = plain && run.doubts === undefined && run.outline === undefined;
    const formula: Formula = {
      ink: paintChain(canvas, chain, own),
      background,
      alpha: own.alpha * opacity,
      laid: straight && parsed !== null ? own : null,
      sure: isSure && parsed !== null && run.doubts === undefined,
    };
    known.set(key, formula);
    return formula;
  };
}

interface Chain {
  readonly chain: readonly GroundPaint[];
  readonly sure: boolean;
  /** Where images lie, if they alone are in doubt and none lies all over what it is painted on. */
  readonly images: readonly WireRect[] | null;
  readonly plain: boolean;
  readonly opacity: number;
  readonly background: Opaque;
}

function meets([x, y, width, height]: WireRect, [left, top, wide, high]: WireRect): boolean {
  return x < left + wide && left < x + width && y < top + high && top < y + height;
}

/** Colour filters are computed; the picture then has to show the same, or the text is looked at more closely. */
function isComputable({ doubts = [], filter }: WireGround): boolean {
  return doubts.every((doubt) => doubt === 'filter' && filter !== undefined);
}

/** As it is where its images are not. */
function besideImage(ground: WireGround): WireGround {
  if (ground.imageArea === undefined) return ground;
  return { ...ground, doubts: ground.doubts?.filter((doubt) => doubt !== 'picture' && doubt !== 'gradient') ?? [] };
}

/** What lies on it is laid on it as it is. */
function isPlain({ opacity, blend, doubts = [] }: WireGround): boolean {
  return opacity === undefined && blend === undefined && doubts.every((doubt) => doubt === 'picture' || doubt === 'gradient');
}

function toPaint(ground: WireGround): GroundPaint {
  const own: Color | null = ground.color === undefined ? null : findColor(ground.color);
  const color = (ground.covers ?? []).reduce<Color | null>((below, { color: text }) => {
    const cover = findColor(text);
    return cover === null ? below : over(cover, below ?? TRANSPARENT);
  }, own);
  return {
    color,
    opacity: ground.opacity ?? 1,
    blend: ground.blend !== undefined && isBlendMode(ground.blend) ? ground.blend : 'normal',
    isolates: ground.isolates ?? false,
    filters: parseFilters(ground.filter ?? ''),
  };
}
