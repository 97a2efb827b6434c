// What the comparison with an accepted picture yields: where pixels differ, and what explains it. Types only.
import type { Rect } from './view.ts';

/** A part of the page that differs. */
export interface Region {
  /**
   * `changed`: other pixels at the same place of the content; `inserted`, `removed`: rows that only the current or the accepted
   * picture has.
   */
  readonly kind: 'changed' | 'inserted' | 'removed';
  /** Where it lies in the current picture, device px; a removed part has height 0 there. */
  readonly current: Rect;
  /** Where it lies in the accepted picture, device px; an inserted part has height 0 there. */
  readonly accepted: Rect;
  readonly pixels: number;
}

/** One thing that happened between the accepted and the current picture. */
export type Change =
  /** A colour changed; `token` is the one whose value or alias changed, null for a literal. `property` names the CSS property. */
  | {
      readonly kind: 'recoloured';
      readonly token: string | null;
      readonly property: string;
      readonly from: string;
      readonly to: string;
    }
  /** The place uses another token (or a token instead of a literal …) than before. */
  | { readonly kind: 'rewired'; readonly property: string; readonly from: string; readonly to: string }
  | { readonly kind: 'text'; readonly from: string; readonly to: string }
  /** CSS px; `by` is the way it went, `grew` the change of its size. */
  | {
      readonly kind: 'moved';
      readonly by: readonly [x: number, y: number];
      readonly grew: readonly [width: number, height: number];
    }
  | { readonly kind: 'added' }
  | { readonly kind: 'removed' }
  /** An image, video, canvas … shows something else. */
  | { readonly kind: 'picture' }
  | { readonly kind: 'unexplained' };

export type ChangeKind = Change['kind'];

/** A change at the places where it shows in one view. */
export interface Explanation {
  readonly change: Change;
  /** The same for the same change on any page: explanations with one group are one cause. */
  readonly group: string;
  /** Element it shows at most, and that element's sample key. */
  readonly selector: string;
  readonly key: string;
  /** Around all its changed pixels, CSS px of the current page. */
  readonly rect: Rect;
  /** Changed pixels it accounts for. */
  readonly pixels: number;
  /** Elements it shows at. */
  readonly places: number;
}

/** A view held against its accepted picture. Only `changed` has anything in its lists. */
export interface Difference {
  readonly changedPixels: number;
  readonly totalPixels: number;
  readonly regions: readonly Region[];
  /** Most pixels first. */
  readonly explanations: readonly Explanation[];
}
