// What the page of `gloam tokens --page` shows: made by the command, written into the page as JSON. Types only.
import type { Ramp } from './ramps.ts';

export interface TokenSheet {
  readonly reference: string;
  readonly themes: readonly string[];
  readonly ramps: readonly Ramp[];
  readonly colors: readonly SheetColor[];
  readonly pairs: readonly SheetPair[];
  /** Each ramp with itself and with every other. */
  readonly distances: readonly SheetDistance[];
  readonly faults: readonly SheetFault[];
  /** Sentences about the size of the set, its names on the pages, and the run that tells uses. */
  readonly about: readonly string[];
}

export interface SheetColor {
  readonly token: string;
  readonly isStep: boolean;
  /** Places on pages; null where no run tells them. */
  readonly uses: number | null;
  readonly users: number;
  /** One a theme, in order; null where it has no colour. */
  readonly themes: readonly (SheetCell | null)[];
}

export interface SheetCell {
  /** CSS text. */
  readonly color: string;
  /** Contrast ratios; of a translucent colour as seen on that ground. */
  readonly onWhite: number;
  readonly onBlack: number;
  /** The token at the end of its chain, where that is another. */
  readonly step?: string;
}

export interface SheetPair {
  readonly ink: string;
  readonly surface: string;
  readonly required: number;
  /** Places on pages. */
  readonly uses: number;
  /** Contrast the configuration declares; null where pages alone tell of the pair. */
  readonly declared: number | null;
  /** One a theme, in order. */
  readonly themes: readonly SheetPairCell[];
}

/** How far apart two steps of these ramps must stand for a contrast. */
export interface SheetDistance {
  readonly ink: string;
  readonly surface: string;
  /** One a theme, in order: smallest distances from which on every two steps reach 3, 4.5 and 7; null where none does. */
  readonly themes: readonly (readonly (number | null)[])[];
}

export type SheetPairCell =
  | { readonly verdict: 'pass' | 'fail'; readonly contrast: number; readonly ink: string; readonly surface: string }
  | { readonly verdict: 'unknown'; readonly why: string };

export interface SheetFault {
  readonly level: 'error' | 'warning' | 'note';
  readonly what: string;
  readonly token: string;
  readonly themes: readonly string[];
  readonly message: string;
  /** `file:line`, empty where it cannot be told. */
  readonly place: string;
}
