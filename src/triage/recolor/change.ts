// Changes that could mend findings, each in one layer: types only.
import type { Color } from '../../colour/color.ts';
import type { ComponentSwap } from '../../samples/finding.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import type { Role } from '../cases/case.ts';
import type { PaintRef } from '../cases/paint-ref.ts';

/**
 * Places that a declaration in the page is taken to paint. `fore`: what is drawn (ink, glyph, edge, shadow) in these cases.
 * `surface`: these elements' own paint, where it is seen and where others lie on it.
 */
export type UseSite =
  | { readonly side: 'fore'; readonly ref: PaintRef; readonly cases: readonly number[] }
  | { readonly side: 'surface'; readonly ref: PaintRef; readonly cases: readonly number[]; readonly elements: ReadonlySet<number> };

/** What is drawn on a surface takes another token along with it. */
export interface InkUse {
  readonly role: Role;
  /** Key of the paint it replaces (`refKey`). */
  readonly from: string;
  readonly token: number;
}

export interface ValueChange {
  readonly kind: 'value';
  readonly token: number;
  readonly themes: readonly number[];
  readonly color: Color;
  /** What its properties are to say, where it is built from some. */
  readonly components?: readonly ComponentSwap[];
  /** Other tokens that are built from these properties, and the colours that they get. */
  readonly shared?: readonly { readonly token: number; readonly color: Color }[];
}

export type Change =
  | ValueChange
  | { readonly kind: 'alias'; readonly token: number; readonly themes: readonly number[]; readonly target: number }
  /** `inks`: for surfaces only. `partner`: the token belongs to what lies there; should it be at fault itself, that is another matter. */
  | {
      readonly kind: 'use';
      readonly site: UseSite;
      readonly token: number;
      readonly inks: readonly InkUse[];
      readonly partner: boolean;
    }
  /** A focus indicator where there is none. */
  | { readonly kind: 'indicator'; readonly site: UseSite; readonly token: number }
  /** An outline for a control that its face alone does not tell from the page. */
  | { readonly kind: 'outline'; readonly site: UseSite; readonly token: number }
  /** Takes opacity away from what stands in front. */
  | { readonly kind: 'opacity'; readonly site: UseSite }
  /** Takes back some of what a declaration takes off the alpha of a token; `alpha`: what is left of the token's own, 0–1. */
  | { readonly kind: 'alpha'; readonly site: UseSite; readonly alpha: number }
  /** Makes a shadow that glows black, as dense as it is; a halo goes. */
  | { readonly kind: 'unglow'; readonly site: UseSite }
  /** Takes a filter away from the page. */
  | {
      readonly kind: 'filter';
      /** Of the element; of several that differ by their place among their siblings alone, what finds them all. */
      readonly selector: string;
      /** Elements that have it. */
      readonly selectors: readonly string[];
      readonly filter: string;
      /** The declaration first, then the hops; empty where it was not looked up. */
      readonly written: readonly WrittenPlace[];
      readonly themes: readonly number[];
      readonly cases: readonly number[];
    }
  /** A token that does not exist yet would serve these cases. */
  | { readonly kind: 'add'; readonly cases: readonly number[] }
  | { readonly kind: 'rebuild'; readonly token: number; readonly themes: readonly number[] };
