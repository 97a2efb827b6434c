// The raw facts that a view yields, one object for each place. Types only; how they were collected is the runner's matter, and what they
// are worth is the checks': nothing here depends on what a configuration asks.
import type { Layer, Paint, WrittenPlace } from './paint.ts';
import type { Rect, Tone } from './view.ts';

/** Raised when a member is added, removed or changes its meaning; stored samples of another number are not reused. */
export const SAMPLE_FORMAT = 5;

/** Why WCAG 2.2 asks no contrast there, as the page itself shows it. `behind`: beneath a modal layer, see `Place`. */
export type ExemptReason = 'inactive' | 'hidden' | 'decoration' | 'behind';

/** What every sample has. */
interface Place {
  /** View id. */
  readonly view: string;
  /** Finds exactly one element in the page as captured. */
  readonly selector: string;
  /** Names the same place in every theme and from night to night; unique among the samples of one view. */
  readonly key: string;
  readonly rect: Rect;
  /** Text that appeared in the element's accessible name or content, at most 120 characters; for messages. */
  readonly label?: string;
  /** Indexes of the configured exemptions whose selector matches the element or an ancestor. */
  readonly exemptions?: readonly number[];
  /** From the configured owner rules that name a selector. */
  readonly owner?: string;
  /** Why it is not what the state shows: it lies beneath a modal layer. Checks pass over it, and compare nothing with it. */
  readonly behind?: string;
}

/** A run of text with one set of styles on one background. Colours are `#rrggbb` as seen, or CSS text outside sRGB. */
export interface TextSample extends Place {
  readonly kind: 'text';
  /** At most 120 characters. */
  readonly text: string;
  /** Ink as seen (composited), of the pair with the lowest contrast. */
  readonly color: string;
  /** Background as seen, of the pair with the lowest contrast. */
  readonly background: string;
  /** Distinct backgrounds met, at most 8, most frequent first. */
  readonly backgroundSpread: readonly string[];
  /** WCAG 2 contrast ratio over the run's area, unrounded. `min` is the 1 % quantile over pictures, `lowest` the single worst place. */
  readonly contrast: { readonly min: number; readonly max: number; readonly lowest?: number };
  readonly fontSize: number;
  readonly fontWeight: number;
  readonly large: boolean;
  readonly exempt: ExemptReason | null;
  /** Why it is exempt. */
  readonly why?: string;
  /** Why it could not be read what lies behind it; the contrast is then what computed styles say, and decides nothing. */
  readonly unread?: string;
  /** Whether colours come from computed styles or from pixels. */
  readonly basis: 'computed' | 'pixels';
  /** Computed and painted colours disagree by more than rounding; painted was taken. */
  readonly disagreement?: { readonly color: string; readonly background: string };
  readonly ink: Paint;
  /** Product of the opacities over the ink, 0–1. */
  readonly inkOpacity: number;
  /** The element that takes most of its strength, where one does: itself or one around it. */
  readonly fade?: Fade;
  /** What lies behind, in painting order, bottom first. Empty when not known. */
  readonly layers: readonly Layer[];
}

/** An element with an opacity of its own. */
export interface Fade {
  readonly selector: string;
  /** 0–1. */
  readonly opacity: number;
  /** The declaration first; where it was looked up. */
  readonly written?: readonly WrittenPlace[];
}

/** A painted box that others lie on. */
export interface SurfaceSample extends Place {
  readonly kind: 'surface';
  readonly color: string;
  /** What it lies on: prevailing colour of a ring of 16 px around it, near pixels counting more; through a veil the page beneath that. */
  readonly around: string;
  /** How much of the ring has that colour, 0–1; all of it when absent. */
  readonly aroundShare?: number;
  /** Key of the surface sample it lies on, where there is one. */
  readonly on?: string;
  /** CIE L* 0–100 of the composited colours. */
  readonly lightness: number;
  readonly aroundLightness: number;
  /** OKLCH chroma and hue (degrees; 0 where achromatic) of `color`. */
  readonly chroma: number;
  readonly hueDeg: number;
  /** Share of the viewport, may exceed 1 on long pages. */
  readonly area: number;
  readonly tone: Tone;
  readonly fill: 'flat' | 'gradient' | 'picture';
  /** Dominant colours and their shares (0–1) where one does not say it all (gradients, charts), most frequent first, at most 8. */
  readonly palette?: readonly { readonly color: string; readonly share: number }[];
  /** Part the surface plays, as far as told. */
  readonly role: 'box' | 'control' | 'picture' | 'chart' | 'pseudo' | 'canvas';
  /** Tone it must keep in every theme, from the configuration. */
  readonly stay?: Tone;
  /** Painted edge between it and its surroundings (border, outline or shadow), as the strongest colour in it. */
  readonly edge?: { readonly kind: 'border' | 'shadow'; readonly color: string };
  readonly paint: Paint;
  /** Product of opacities, 0–1. */
  readonly opacity: number;
  /** Layers beneath, bottom first (the surface's own paint left out). */
  readonly layers: readonly Layer[];
}

/** One shadow of a list. */
export interface ShadowSample extends Place {
  readonly kind: 'shadow';
  readonly property: 'box-shadow' | 'text-shadow' | 'drop-shadow';
  /** As painted at its peak, composited. */
  readonly color: string;
  readonly beneath: string;
  /** CIE L* at the peak minus L* beneath. */
  readonly lightnessGain: number;
  /** OKLCH chroma at the peak minus chroma beneath. */
  readonly chromaGain: number;
  /** CSS px as written (for `drop-shadow` this is the standard deviation). */
  readonly blur: number;
  readonly spread: number;
  readonly offset: readonly [x: number, y: number];
  readonly inset: boolean;
  /** Place in the list, 0 = first written = uppermost. */
  readonly index: number;
  readonly paint: Paint;
}

/** An icon, the mark or edge of a control, a focus indicator. */
export interface GraphicSample extends Place {
  readonly kind: 'graphic';
  readonly role: 'icon' | 'border' | 'focus';
  readonly color: string;
  readonly against: string;
  readonly contrast: number;
  readonly exempt: ExemptReason | null;
  readonly why?: string;
  /** A focus ring that the browser draws on a control nobody styled: not the author's matter (SC 1.4.11, "determined by the user agent"). */
  readonly byBrowser?: true;
  readonly paint: Paint;
  readonly layers: readonly Layer[];
  /** Product of opacities over the graphic, 0–1. */
  readonly opacity: number;
  /** Focus indicators: area whose pixels change by 3:1 and more, as a share of a 2 px outline of the control (SC 2.4.13). */
  readonly change?: { readonly perimeterShare: number };
}

export interface PictureFilter {
  readonly selector: string;
  /** As computed, e.g. `invert(1)`. */
  readonly filter: string;
  readonly origin: 'author';
  /** The declaration that wins and each custom property on its way; only of filters that turn a picture over, where it was looked up. */
  readonly written?: readonly WrittenPlace[];
}

/** An image, video, canvas or emoji and the filters that act on it. Not part of the exported samples. */
export interface PictureSample extends Place {
  readonly kind: 'picture';
  readonly medium: 'image' | 'video' | 'canvas' | 'background' | 'emoji' | 'svg-image';
  /** Address of the file shown, without data: contents; absent where there is none. */
  readonly source?: string;
  /** Share of its pixels outside its two most frequent colours, 0 (line art) to 1 (photo); absent when not read. */
  readonly detail?: number;
  /** Filter functions from the root down to the picture, in the order they are applied (innermost first). */
  readonly filters: readonly PictureFilter[];
  /** 8 × 8 relative luminances (0–1) of what is seen, row by row; empty when not read. */
  readonly luma: readonly number[];
}

export type Sample = TextSample | SurfaceSample | ShadowSample | GraphicSample | PictureSample;
export type SampleKind = Sample['kind'];
