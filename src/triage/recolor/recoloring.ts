// What a change does to the colours of the cases it touches; asked for each colour of each of them.
import type { Color } from '../../colour/color.ts';
import type { CheckId } from '../../samples/finding.ts';
import type { Case } from '../cases/case.ts';
import { ascending } from '../counting.ts';
import type { SeenPair } from './seen-pair.ts';

export interface Recoloring {
  /** Ids of all cases whose colours may change, ascending. */
  readonly touched: readonly number[];
  /** `at`: −1 for the fore, else the layer. @returns undefined: stays as it is; null: changes in a way that cannot be told */
  colorOf(one: Case, at: number): Color | null | undefined;
  /** Share of a case's samples that it touches, 0–1; all when absent. */
  partOf?(one: Case): number;
  /** Undefined: stays. */
  opacityOf?(one: Case): number | undefined;
  /** Custom property that would paint the fore, where the change gives it one. */
  paintedBy?(one: Case): string | undefined;
  /** True where the fore is drawn anew, so that it does not matter how it was made before. */
  redraws?(one: Case): boolean;
  /** True for a passing place that comes to look as another does for which the same is reported already: no new breakage. */
  isKnownElsewhere?(one: Case, check: CheckId, after: readonly SeenPair[]): boolean;
  /** True for a failing place that gets the token it should have, which fails in its own places too: that is another fault. */
  sharesFault?(one: Case, check: CheckId): boolean;
  /** Selector of the element whose filter is taken away. */
  clears?(one: Case): string | undefined;
}

/** Two changes at once; each speaks of what it touches, and where both do, the later one. */
export function bothRecolorings(one: Recoloring, other: Recoloring): Recoloring {
  const [first, then] = [inItsPlaces(one), inItsPlaces(other)];
  return {
    touched: ascending([...one.touched, ...other.touched]),
    partOf: (each) => Math.min(1, shareOf(first(each), each) + shareOf(then(each), each)),
    colorOf: (each, at) => {
      const later = then(each)?.colorOf(each, at);
      return later === undefined ? first(each)?.colorOf(each, at) : later;
    },
    opacityOf: (each) => then(each)?.opacityOf?.(each) ?? first(each)?.opacityOf?.(each),
    paintedBy: (each) => then(each)?.paintedBy?.(each) ?? first(each)?.paintedBy?.(each),
    redraws: (each) => (first(each)?.redraws?.(each) ?? false) || (then(each)?.redraws?.(each) ?? false),
    isKnownElsewhere: (each, check, after) =>
      (first(each)?.isKnownElsewhere?.(each, check, after) ?? false) ||
      (then(each)?.isKnownElsewhere?.(each, check, after) ?? false),
    sharesFault: (each, check) =>
      (first(each)?.sharesFault?.(each, check) ?? false) || (then(each)?.sharesFault?.(each, check) ?? false),
    clears: (each) => then(each)?.clears?.(each) ?? first(each)?.clears?.(each),
  };
}

function inItsPlaces(one: Recoloring): (each: Case) => Recoloring | undefined {
  const touched = new Set(one.touched);
  return ({ id }) => (touched.has(id) ? one : undefined);
}

function shareOf(one: Recoloring | undefined, each: Case): number {
  return one === undefined ? 0 : (one.partOf?.(each) ?? 1);
}
