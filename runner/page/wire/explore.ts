// What a first look at an app (runner/explore/first-look.ts) reads inside the page. Types only.

/** A style rule that sets colours, custom properties or `color-scheme`. */
export interface WireRule {
  /** Nested rules are written out. */
  readonly selector: string;
  /** It styles the root or the body as the page stands. */
  readonly root: boolean;
  /** Conditions of the `@media` rules around it, outermost first. */
  readonly media: readonly string[];
  /** Custom properties it declares, with their dashes. */
  readonly properties: readonly string[];
  /** Declarations of colours besides those. */
  readonly colors: number;
  /** Value of `color-scheme`, '' where it is not set. */
  readonly scheme: string;
  readonly lightDark: boolean;
  /** Address of the style sheet, '' for one in the page. */
  readonly sheet: string;
}

export interface WireStyles {
  readonly rules: readonly WireRule[];
  /** Conditions of all `@media` rules that are about the width. */
  readonly widths: readonly string[];
  /** Addresses of style sheets of another origin, which the page may not read. */
  readonly unread: readonly string[];
  /** In use below the root and the body: classes, and attributes as `name=value`. */
  readonly classes: readonly string[];
  readonly attributes: readonly string[];
  /** The page says that it fits small screens (`<meta name=viewport>`). */
  readonly fitsSmall: boolean;
}

/** Something to press or choose from that may switch the theme. */
export interface WireControl {
  readonly selector: string;
  readonly kind: 'press' | 'choose';
  readonly label: string;
  /** Of a list, its options; empty for what is pressed. */
  readonly values: readonly string[];
}

/** What scripts leave behind when they switch a theme. */
export interface WireTraces {
  /** The root, the body and large boxes near them. */
  readonly elements: readonly { readonly on: string; readonly attributes: Readonly<Record<string, string>> }[];
  readonly storage: Readonly<Record<string, string>>;
  readonly cookies: Readonly<Record<string, string>>;
  readonly query: Readonly<Record<string, string>>;
}

export interface WirePaint {
  /** A number for each visible element in document order that changes when any of its painted colours does. */
  readonly marks: readonly number[];
  /** Style sheets that the page links to and that hold no rule. */
  readonly lostSheets: number;
}

export interface ExploreCalls {
  /** @param texts style sheets the page may not read itself, with their addresses */
  readonly exploreStyles: {
    readonly args: { readonly texts: readonly { readonly sheet: string; readonly text: string }[] };
    readonly result: WireStyles;
  };
  readonly explorePaint: { readonly args: { readonly most: number }; readonly result: WirePaint };
  readonly exploreControls: { readonly args: { readonly most: number }; readonly result: readonly WireControl[] };
  readonly exploreTraces: { readonly args: null; readonly result: WireTraces };
  /** Presses a control, or chooses a value of it, as a visitor would; false where it is not there any more. */
  readonly exploreUse: { readonly args: { readonly selector: string; readonly value: string | null }; readonly result: boolean };
}
