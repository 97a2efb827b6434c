// Do the sums agree with what was seen? Where they do, a case can be recomputed under a change; where not, what was seen stands.
import type { Opaque } from '../../colour/color.ts';
import type { CaseFilter, CaseLayer } from './case.ts';
import { arrivingShare, compositeFore, compositeLayers, looksAlike } from '../recolor/composite-layers.ts';
import type { PaintRef } from './paint-ref.ts';
import { throughFilters } from '../recolor/through-filters.ts';

/** A shadow’s share is fitted to what was seen: only rounding is left, a little of it for each of the two colours. */
const FITTED_GRACE = 1.2 / 255;

export interface Painting {
  readonly fore: PaintRef;
  readonly foreOpacity: number;
  /** Null where it is not known what lies behind. */
  readonly back: readonly CaseLayer[] | null;
  readonly isShadow: boolean;
}

export interface Sight {
  readonly fore: Opaque;
  /** At least one. */
  readonly backs: readonly Opaque[];
}

export interface Settled {
  readonly share: number;
  readonly back: readonly CaseLayer[];
  readonly filters: readonly CaseFilter[];
  readonly isLifted: boolean;
  readonly foreFixed: boolean;
  readonly backFixed: boolean;
  readonly seenFore: Opaque;
  readonly seenBacks: readonly Opaque[];
}

/** @param filters over everything, innermost first; taken into account only where they explain what was seen */
export function settleCase(painting: Painting, sight: Sight, filters: readonly CaseFilter[]): Settled {
  const plain = settle(painting, sight, [], false);
  if (filters.length === 0 || (!plain.foreFixed && !plain.backFixed)) return plain;
  const known = painting.back === null ? { ...painting, back: guessed(sight, filters) } : painting;
  const agrees = (one: Settled): boolean => !one.foreFixed && !one.backFixed;
  return [false, true].map((isLifted) => settle(known, sight, filters, isLifted)).find(agrees) ?? plain;
}

function settle(painting: Painting, sight: Sight, filters: readonly CaseFilter[], isLifted: boolean): Settled {
  const { fore, foreOpacity, isShadow } = painting;
  const through = throughFilters(filters);
  const back = painting.back ?? [];
  const firstBack = sight.backs[0] ?? sight.fore;
  const computed = back.length === 0 ? null : compositeLayers(back, (layer) => layer.ref.color);
  const agrees = computed !== null && sight.backs.every((color) => looksAlike(color, through(computed)));
  const under = agrees ? computed : firstBack;
  const share = isShadow ? shareOf(painting, sight, filters) : 1;
  const part = { opacity: foreOpacity, share };
  const made = isLifted ? compositeFore(fore.color, part, through(under)) : through(compositeFore(fore.color, part, under));
  const foreFixed = fore.kind === 'unknown' || !looksAlike(made, sight.fore, isShadow ? FITTED_GRACE : undefined);
  return {
    share,
    back,
    filters,
    isLifted,
    foreFixed,
    backFixed: !agrees,
    seenFore: foreFixed ? sight.fore : made,
    seenBacks: agrees ? [through(computed)] : sight.backs,
  };
}

/** Applied twice, inverting filters lead about back to where they started; other filters do not agree with what was seen and drop out. */
function shareOf({ fore }: Painting, sight: Sight, filters: readonly CaseFilter[]): number {
  const undo = throughFilters(filters);
  return arrivingShare(fore.color, { seen: undo(sight.fore), beneath: undo(sight.backs[0] ?? sight.fore) });
}

function guessed(sight: Sight, filters: readonly CaseFilter[]): readonly CaseLayer[] {
  const [first] = sight.backs;
  if (first === undefined) return [];
  return [{ ref: { kind: 'literal', color: throughFilters(filters)(first) }, opacity: 1, blend: 'normal' }];
}
