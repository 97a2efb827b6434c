// What computed styles say about a run's ink and background, and whether that can be relied on.
import type { Color, Opaque } from '../../src/colour/color.ts';
import { TRANSPARENT, WHITE, opaque } from '../../src/colour/color.ts';
import { isBlendMode, withOpacity } from '../../src/colour/composite.ts';
import { parseFilters } from '../../src/colour/filters.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import type { WireGround, WireRun } from '../page/wire/wire.ts';
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
  const chains = new Map<
    number,
    { chain: readonly GroundPaint[]; sure: boolean; plain: boolean; opacity: number; background: Opaque }
  >();
  const known = new Map<string, Formula>();
  const chainAt = (
    index: number,
  ): { chain: readonly GroundPaint[]; sure: boolean; plain: boolean; opacity: number; background: Opaque } => {
    const have = chains.get(index);
    if (have !== undefined) return have;
    const list = chainOf(grounds, index);
    const chain = list.map(toPaint);
    const made = {
      chain,
      sure: list.every(isComputable),
      plain: list.every(isPlain),
      opacity: chain.reduce((product, ground) => product * ground.opacity, 1),
      background: paintChain(canvas, chain, null),
    };
    chains.set(index, made);
    return made;
  };
  return (run) => {
    const key = `${run.ground} ${run.inkAlpha ?? 1} ${run.ink} ${run.doubts?.join() ?? ''} ${run.outline?.kind ?? ''}`;
    const have = known.get(key);
    if (have !== undefined) return have;
    const { chain, sure, plain, opacity, background } = chainAt(run.ground);
    const parsed = findColor(run.ink);
    const own = withOpacity(parsed ?? TRANSPARENT, run.inkAlpha ?? 1);
    const straight = plain && run.doubts === undefined && run.outline === undefined;
    const formula: Formula = {
      ink: paintChain(canvas, chain, own),
      background,
      alpha: own.alpha * opacity,
      laid: straight && parsed !== null ? own : null,
      sure: sure && parsed !== null && run.doubts === undefined,
    };
    known.set(key, formula);
    return formula;
  };
}

/** Colour filters are computed; the picture then has to show the same, or the text is looked at more closely. */
function isComputable({ doubts = [], filter }: WireGround): boolean {
  return doubts.every((doubt) => doubt === 'filter' && filter !== undefined);
}

/** What lies on it is laid on it as it is. */
function isPlain({ opacity, blend, doubts = [] }: WireGround): boolean {
  return opacity === undefined && blend === undefined && doubts.every((doubt) => doubt === 'picture' || doubt === 'gradient');
}

function toPaint(ground: WireGround): GroundPaint {
  const color: Color | null = ground.color === undefined ? null : findColor(ground.color);
  return {
    color,
    opacity: ground.opacity ?? 1,
    blend: ground.blend !== undefined && isBlendMode(ground.blend) ? ground.blend : 'normal',
    isolates: ground.isolates ?? false,
    filters: parseFilters(ground.filter ?? ''),
  };
}
