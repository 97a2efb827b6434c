// Where a painted colour came from: the CSS property that put it there and the token behind it (docs/architecture.md, tracing).

/** How a colour is tied to the custom properties of the page. */
export type Origin =
  /** Drawn with this custom property unchanged, or with its alpha scaled by `alpha` (0–1, 1 = as it is). */
  | {
      readonly kind: 'token';
      readonly property: string;
      readonly alpha: number;
      /** Where `property` is a component's own: the first one on the `var()` chain that holds for the page, unless it is the last. */
      readonly pageWide?: string;
      /** Custom property at the end of the `var()` chain (the ramp step), where it differs from `property`. */
      readonly step?: string;
      /** True when `var()` fell back, i.e. `property` itself is not declared here. */
      readonly fallback?: true;
    }
  /**
   * Moves when these custom properties change, but equals none of them (relative colour, mix of two). None are named where only its numbers
   * come from properties (`hsl(var(--h), 40%, 50%)`), or where they could not be told.
   */
  | { readonly kind: 'derived'; readonly properties: readonly string[] }
  /** Not dyed, but its values over all themes fit this token only (bakes tokens into literals). */
  | { readonly kind: 'inferred'; readonly token: string }
  /** Written out in a declaration; no custom property moves it. */
  | { readonly kind: 'literal' }
  /** A system colour or the browser's own default. */
  | { readonly kind: 'system' }
  /** Not traced; `why` says what stood in the way. */
  | { readonly kind: 'unknown'; readonly why: string };

/** A declaration in a style sheet of the page. */
export interface WrittenPlace {
  readonly property: string;
  readonly value: string;
  /** Selector of the rule, `style attribute`, `presentation attribute` (of a drawing), or `browser` for its own style sheet. */
  readonly rule: string;
  /** Path of the style sheet from the root of the app, its address elsewhere, or the source that its map names. */
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  readonly column?: number;
}

/** One colour put on the page by one CSS property of one element. */
export interface Paint {
  /** CSS property that decides it: `color`, `background-color`, `fill`, `border-top-color`, `box-shadow` … */
  readonly property: string;
  /** Computed colour as CSS text, alpha included; before any group opacity. */
  readonly color: string;
  readonly origin: Origin;
  /** Selector of the element that it is computed on, where that is not the sample's: text lies in a slot. */
  readonly on?: string;
  /** The declaration that wins and each custom property on its way; only where it was looked up. */
  readonly written?: readonly WrittenPlace[];
}

/** One layer of what lies behind a place, in painting order; the first is the canvas. */
export interface Layer {
  /** Element that paints the layer; null for the browser's canvas. */
  readonly selector: string | null;
  readonly kind: 'color' | 'gradient' | 'picture';
  /** The flat colour, absent for pictures and gradients. */
  readonly paint?: Paint;
  /** Product of the opacities of the element and its ancestors, 0–1. */
  readonly opacity: number;
  /** `mix-blend-mode` where it is not `normal`. */
  readonly blend?: string;
}
