// What the runner hands over for one view: captured with its samples, or failed with a reason.
import type { Note } from './note.ts';
import type { Sample } from './sample.ts';
import type { Rect, View } from './view.ts';

/** A custom property as the page computes it, on the root and wherever it is declared again. */
export interface PageProperty {
  readonly name: string;
  /** Computed text after `var()` substitution, on the first element that declares it. */
  readonly value: string;
  /** Selector of that element (`html` mostly); empty where none declares it, and `value` is the one colour that all its uses fall back to. */
  readonly at: string;
  /** Nearly all of the page lies in that element: what a component around the app sets holds for the page. */
  readonly wide?: true;
  /**
   * Some box of the page is painted with it, however small: the property at the end of its chain, its own name where it refers to none.
   * Absent where none is.
   */
  readonly paints?: string;
}

export interface CapturedView {
  readonly view: View;
  readonly status: 'captured';
  /** Duration of everything done for the view. */
  readonly ms: number;
  readonly page: { readonly title: string; readonly widthCssPx: number; readonly heightCssPx: number; readonly scale: number };
  /** PNG of the whole page. */
  readonly shot: Uint8Array;
  readonly samples: readonly Sample[];
  readonly properties: readonly PageProperty[];
  /** Places of the elements that `mask` names: their pixels are left out of picture comparison. CSS px, page coordinates. */
  readonly masks?: readonly Rect[];
  /** Configured selectors that found something in the page, read anew each time; absent where none is configured. */
  readonly ruled?: readonly string[];
  /** Anything worth knowing that is no failure: unsettled parts, disagreement with a fresh load, cut lists. */
  readonly notes: readonly Note[];
  /** Hash over all that samples, properties and notes follow from: the same the next night, they are as well. Absent where that cannot be said. */
  readonly fingerprint?: string;
  /** Samples, properties and notes are those of an earlier run. */
  readonly reused?: true;
}

/** What an earlier run stored of a view, for one that is still the same. */
export interface KnownView {
  readonly fingerprint: string;
  readonly notes: CapturedView['notes'];
  /** Read only when it is wanted. */
  readonly read: () => Promise<Pick<CapturedView, 'page' | 'samples' | 'properties' | 'notes' | 'masks'>>;
}

export interface FailedView {
  readonly view: View;
  readonly status: 'failed';
  readonly ms: number;
  /** Stable code of the error catalogue. */
  readonly code: string;
  readonly error: string;
}

export type ViewResult = CapturedView | FailedView;
