// What the page says about painted areas, shadows, graphics and pictures. Types only; both sides import them.
import type { WireGround, WireMarks, WireRect } from './ground.ts';

/** What every place has. */
export interface WirePlace extends WireMarks {
  readonly selector: string;
  readonly key: string;
  /** Border box as far as it is visible. */
  readonly rect: WireRect;
  /** Accessible name or short text, for messages. */
  readonly label?: string;
  /** Index into `grounds`: what lies beneath; -1: bare canvas. */
  readonly ground: number;
  /** Product of the opacities of the element and its ancestors, absent when 1. */
  readonly opacity?: number;
}

/** One painted box, in painting order: it covers what stands before it. */
export interface WireArea extends WirePlace {
  /** `cover`: painted, but no surface (images, small icons). */
  readonly role: 'box' | 'control' | 'chart' | 'pseudo' | 'canvas' | 'cover';
  /** Index of the nearest area it lies in; -1: none. */
  readonly up: number;
  /** Computed `background-color`; absent when transparent. */
  readonly color?: string;
  readonly image?: 'gradient' | 'picture';
  /** Visible borders and outline. */
  readonly borders?: readonly { readonly property: string; readonly color: string; readonly width: number }[];
  /** Computed `box-shadow`, absent when none. */
  readonly shadow?: string;
  /** Its colours are no declarations of the element but what is drawn in it. */
  readonly drawn?: 'canvas' | 'svg';
  /** It is one of `veils`. */
  readonly veil?: true;
}

/** A flat translucent colour between the page and the modal layer above it. */
export interface WireVeil {
  readonly rect: WireRect;
  readonly color: string;
  /** Of the element that paints it and all it lies in, absent when 1. */
  readonly opacity?: number;
}

export interface WireShadow extends WirePlace {
  readonly property: 'box-shadow' | 'text-shadow' | 'drop-shadow';
  /** Computed value of the property (`filter` for drop-shadow). */
  readonly value: string;
  /** Border box uncut: the shadow's own shape. */
  readonly box: WireRect;
  /** Colours of what casts it, where that is no box: text, strokes of a drawing. */
  readonly inks?: readonly string[];
  /** Filters that act on the painted shadow, innermost first; absent when none. */
  readonly filters?: readonly string[];
}

/** Something that may have painted what is seen. */
export interface WirePainter {
  /** Selector of the element, or of its pseudo-element. */
  readonly on: string;
  readonly property: string;
  readonly color: string;
  /** Of all that it lies in, 0–1; 1 unless set. */
  readonly opacity?: number;
}

export interface WireGraphicPaint {
  readonly property: string;
  readonly color: string;
  readonly opacity?: number;
  /** Painted around the box, never below it: an outer shadow (CSS Backgrounds 3 §6.1), an outline. */
  readonly outer?: true;
}

export interface WireGraphic extends WirePlace {
  readonly role: 'icon' | 'border';
  readonly paints: readonly WireGraphicPaint[];
  /** `inside`: what differs within the box (a tick, a thumb); `pixels`: what differs from around it. */
  readonly reading: 'paints' | 'pixels' | 'edge' | 'inside';
  /** Colour inside an edge: of the control's own background; absent when transparent. */
  readonly fill?: string;
  /** CSS px by which lines of an edge reach beyond the box; absent where none does. */
  readonly reach?: number;
  readonly exempt?: { readonly reason: 'inactive' | 'decoration' | 'behind'; readonly why: string };
  /** Where it is read from the picture: what may have painted it. */
  readonly painters?: readonly WirePainter[];
}

export interface WirePicture extends WirePlace {
  readonly medium: 'image' | 'video' | 'canvas' | 'background' | 'emoji' | 'svg-image';
  readonly source?: string;
  /** Innermost first. */
  readonly filters: readonly { readonly selector: string; readonly filter: string }[];
}

/** A target of a state, with what of its computed style can show focus. */
export interface WireTarget extends WirePlace {
  readonly outlineStyle: string;
  readonly outlineColor: string;
  readonly exempt?: { readonly reason: 'inactive' | 'behind'; readonly why: string };
}

/** A painted box too small to be a surface. */
export interface WireSpeck {
  readonly selector: string;
  /** Computed `background-color`. */
  readonly color: string;
}

export interface WirePlaces {
  readonly grounds: readonly WireGround[];
  readonly areas: readonly WireArea[];
  readonly specks: readonly WireSpeck[];
  readonly shadows: readonly WireShadow[];
  readonly graphics: readonly WireGraphic[];
  readonly pictures: readonly WirePicture[];
  readonly targets: readonly WireTarget[];
  /** Between the page and modal layers, lowest first. */
  readonly veils: readonly WireVeil[];
}
