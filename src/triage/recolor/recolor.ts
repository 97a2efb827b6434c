// A case under a change → the pairs of colours that would be seen.
import type { Opaque } from '../../colour/color.ts';
import type { Case } from '../cases/case.ts';
import { compositeFore, compositeLayers } from './composite-layers.ts';
import type { Recoloring } from './recoloring.ts';
import type { SeenPair } from './seen-pair.ts';
import { throughFilters } from './through-filters.ts';

export type Recolored =
  | { readonly kind: 'same' }
  | { readonly kind: 'pairs'; readonly pairs: readonly SeenPair[] }
  /** The change reaches colours that are not recomputed here (mixes, pictures, gradients, what a filter did). */
  | { readonly kind: 'unsure' };

const SAME: Recolored = { kind: 'same' };
const UNSURE: Recolored = { kind: 'unsure' };

export function pairsOf(one: Case): readonly SeenPair[] {
  return one.seenBacks.map((back) => ({ fore: one.seenFore, back }));
}

export function recolor(one: Case, change: Recoloring): Recolored {
  const cleared = change.clears?.(one);
  if (one.facts.kind === 'picture') return cleared === undefined ? SAME : { kind: 'pairs', pairs: [] };
  const backMoves = backsMove(one, change);
  const color = change.colorOf(one, -1);
  const opacity = change.opacityOf?.(one);
  if (color === null || backMoves === null) return UNSURE;
  const foreMoves = color !== undefined || (opacity !== undefined && opacity !== one.foreOpacity);
  if (!foreMoves && !backMoves && cleared === undefined) return SAME;
  const backs = change.redraws?.(one) === true ? (computedBack(one) ?? one.seenBacks) : backsUnder(one, change, backMoves);
  if (backs === null) return UNSURE;
  if (one.foreFixed && change.redraws?.(one) !== true) {
    // What was seen cannot be made again; on another backdrop it stays only if nothing shines through.
    if (cleared !== undefined || foreMoves || one.fore.color.alpha * one.foreOpacity * one.share < 1) return UNSURE;
    return { kind: 'pairs', pairs: backs.map((back) => ({ fore: one.seenFore, back })) };
  }
  const part = { opacity: opacity ?? one.foreOpacity, share: one.share };
  const left = cleared === undefined ? one.filters : one.filters.filter(({ selector }) => selector !== cleared);
  const through = throughFilters(left);
  return {
    kind: 'pairs',
    pairs: backs.map((under) => {
      const back = through(under);
      const drawn = color ?? one.fore.color;
      return { fore: one.isLifted ? compositeFore(drawn, part, back) : through(compositeFore(drawn, part, under)), back };
    }),
  };
}

/** What lies behind by its layers: where nothing was seen, there was no pair to read. */
function computedBack(one: Case): readonly Opaque[] | null {
  if (one.back.length === 0) return null;
  const back = compositeLayers(one.back, (layer) => layer.ref.color);
  return back === null ? null : [back];
}

/** Before filters. `seenBacks` itself when nothing behind changes; null when that cannot be told. */
function backsUnder(one: Case, change: Recoloring, moves: boolean): readonly Opaque[] | null {
  // Under filters what was seen is not what was painted.
  if (!moves && one.filters.length === 0) return one.seenBacks;
  if (one.backFixed) return moves || one.filters.length > 0 ? null : one.seenBacks;
  const back = compositeLayers(one.back, (layer, at) => {
    const color = change.colorOf(one, at);
    return color === undefined ? layer.ref.color : color;
  });
  return back === null ? null : [back];
}

/** Null when a layer changes in a way that cannot be told. */
function backsMove(one: Case, change: Recoloring): boolean | null {
  let moves = false;
  for (let at = 0; at < one.back.length; at += 1) {
    const color = change.colorOf(one, at);
    if (color === null) return null;
    if (color !== undefined) moves = true;
  }
  return moves;
}
