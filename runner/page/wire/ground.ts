// What all facts about places share: rectangles, marks, and what lies beneath. Types only; both sides import them.

/** `[left, top, width, height]` in CSS px, page coordinates. */
export type WireRect = readonly [x: number, y: number, width: number, height: number];

/** Who says what about a place. */
export interface WireMarks {
  readonly exemptions?: readonly number[];
  readonly owner?: string;
  readonly stay?: 'light' | 'dark';
  /** Why it is not what the state shows: a modal layer lies above it. */
  readonly behind?: string;
}

/** Why computed styles alone do not tell what is seen. */
export type Doubt =
  | 'picture'
  | 'gradient'
  | 'blend'
  | 'filter'
  | 'backdrop-filter'
  | 'mask'
  | 'clip-path'
  | 'clip-text'
  | 'text-shadow'
  | 'text-stroke'
  | 'paint-server'
  | 'first-line'
  | 'forced-colors';

/** Paints all of a box in one colour. */
export interface WireCover {
  readonly property: 'background-image' | 'box-shadow';
  readonly color: string;
}

/**
 * What one element adds between the canvas and what lies on it. Grounds form chains from the page's root; elements that add
 * nothing share the ground of their parent.
 */
export interface WireGround {
  /** Index of the ground below; -1: the canvas. */
  readonly up: number;
  readonly selector: string;
  /** Computed `background-color`; absent when transparent. */
  readonly color?: string;
  /** On the background, bottom first; absent where there are none. */
  readonly covers?: readonly WireCover[];
  readonly image?: 'gradient' | 'picture';
  /** Where the images are painted, if not all over the element. */
  readonly imageArea?: WireRect;
  /** Opacity of the element itself, absent when 1. The element and what it holds form a group. */
  readonly opacity?: number;
  /** `mix-blend-mode`, absent when `normal`. */
  readonly blend?: string;
  /** Set where the element isolates blending inside it. */
  readonly isolates?: true;
  /** `filter` where it is made of colour functions alone: what it does to a flat colour can be computed. */
  readonly filter?: string;
  readonly doubts?: readonly Doubt[];
}

/** A painted box beneath a run; see `WireGround` for what is shared. */
export interface WireLayer {
  readonly selector: string;
  readonly color?: string;
  readonly covers?: readonly WireCover[];
  readonly image?: 'gradient' | 'picture';
  /** Of the element and all it lies in, 0–1. */
  readonly opacity: number;
  readonly blend?: string;
}
