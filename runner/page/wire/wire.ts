// What travels between Node and the page, as JSON. Types only; both sides import them.
import type { Note } from '../../../src/samples/note.ts';
import type { DyeCalls } from './dye.ts';
import type { ExploreCalls } from './explore.ts';
import type { WearCalls } from './wear.ts';
import type { WirePlaces } from './places.ts';
import type { WireRulesBehind } from './written.ts';
import type { Doubt, WireCover, WireGround, WireLayer, WireMarks, WireRect } from './ground.ts';

export type { Doubt, WireCover, WireGround, WireLayer, WireMarks, WireRect };

/** Configured selectors, matched in the page against an element and its ancestors. */
export interface Rules {
  /** Selectors of the exemptions, in the order of the configuration. */
  readonly exempt: readonly string[];
  /** Owner rules that name a selector and apply to the page. */
  readonly owners: readonly { readonly selector: string; readonly owner: string }[];
  readonly stay: readonly { readonly selector: string; readonly tone: 'light' | 'dark' }[];
  /** Selectors of what pictures are not compared on. */
  readonly mask: readonly string[];
}

/** How a theme is put on in place. */
export interface WireTheme {
  readonly attributes?: readonly { readonly on: string; readonly name: string; readonly value: string }[];
  readonly class?: { readonly on: string; readonly add: readonly string[]; readonly remove: readonly string[] };
}

export type RunSource = 'text' | 'svg' | 'pseudo' | 'marker' | 'value' | 'placeholder';

/** Text of one node with one set of computed styles. */
export interface WireRun extends WireMarks {
  readonly source: RunSource;
  readonly text: string;
  readonly selector: string;
  readonly key: string;
  /** Line boxes, cut to what is not clipped away. */
  readonly rects: readonly WireRect[];
  /** Index into `grounds`; -1: bare canvas. */
  readonly ground: number;
  /** Computed ink (`-webkit-text-fill-color`, `fill`), CSS text. */
  readonly ink: string;
  /** CSS property that decides the ink. */
  readonly inkProperty: 'color' | '-webkit-text-fill-color' | 'fill' | 'background-image';
  /** Selector of the element whose style it is, where that is not the one the text belongs to (slots). */
  readonly inkOn?: string;
  /** Opacity that applies to the ink alone (`fill-opacity`, a pseudo-element's own), absent when 1. */
  readonly inkAlpha?: number;
  /** CSS px as rendered, transforms and zoom included. */
  readonly fontSize: number;
  readonly fontWeight: number;
  readonly doubts?: readonly Doubt[];
  /** Painted around the glyphs as part of them, or as a halo behind them. */
  readonly outline?: { readonly kind: 'letter' | 'halo'; readonly color: string };
  readonly exempt?: { readonly reason: 'inactive' | 'decoration' | 'behind'; readonly why: string };
  /** It stands in a far frame: the page's own in-page code cannot show it otherwise. */
  readonly far?: true;
}

export interface WireText {
  readonly grounds: readonly WireGround[];
  readonly runs: readonly WireRun[];
  /** Computed colour of the canvas below everything. */
  readonly canvas: string;
  /** Generated text whose place only the browser's layout tree knows; see `placePseudo`. */
  readonly pseudo: readonly WirePseudoHost[];
}

/** An element with generated text. */
export interface WirePseudoHost {
  /**
   * Its place among all elements of its document, shadow trees included, in tree order; before it the places of the frames
   * it lies in, outermost first.
   */
  readonly path: readonly number[];
  readonly which: '::before' | '::after' | '::marker';
}

/** The same with the text and the boxes the layout tree has for it. */
export interface PlacedPseudo extends WirePseudoHost {
  readonly text: string;
  /** In the coordinates of its document. */
  readonly rects: readonly WireRect[];
}

/** A frame whose document the in-page code of the page around it cannot get at. */
export interface WireFarFrame {
  readonly selector: string;
  readonly key: string;
  readonly address: string;
  /** Of the frame's viewport, page coordinates. */
  readonly origin: readonly [x: number, y: number];
  /** What of it can be seen. */
  readonly clip: WireRect;
  /** What it lies on, among the grounds of text and among those of places. */
  readonly ground: number;
  readonly placeGround: number;
  /** Scheme of the element that holds it: a document of another one is not transparent (CSS Color Adjust 1 §2). */
  readonly scheme: 'light' | 'dark';
  readonly behind?: string;
}

/** Where a far frame lies, for the in-page code that reads it. */
export type FarPlace = Pick<WireFarFrame, 'selector' | 'key' | 'origin' | 'clip' | 'scheme' | 'behind'> & {
  /** Of the whole page. */
  readonly page: readonly [width: number, height: number];
};

export interface WirePage {
  readonly title: string;
  /** What says that there is more to come; null where nothing does. */
  readonly loading: string | null;
  readonly width: number;
  readonly height: number;
  /** Places that move and show no change in the document: canvases and running lines. */
  readonly restlessPlaces: readonly WireRect[];
  /** Those of them that are drawn by script alone: what they show is no part of the document. */
  readonly canvases: readonly WireRect[];
  readonly masked: readonly WireRect[];
}

/** One member for each collector (collectors.ts). */
export interface Collected {
  readonly page: WirePage;
  readonly text: WireText;
  readonly places: WirePlaces;
  readonly farFrames: readonly WireFarFrame[];
}

export interface CollectArguments {
  readonly rules: Rules;
  /** Set where the document is that of a far frame. */
  readonly within?: FarPlace;
  /** What lies below is in no picture, and so it is not read, CSS px. */
  readonly downToCssPx?: number;
}

/** An element on which, or around which, an exemption or owner is configured. */
export interface MarkedPlace extends Pick<WireMarks, 'exemptions' | 'owner'> {
  readonly selector: string;
}

/**
 * How text is shown while pictures are taken: `bare` not at all; `ink` each box of the given runs filled with the run's own
 * ink; `marker` their glyphs in a colour that nothing else has; `off` as the page wants it.
 */
export type Veil = 'bare' | 'ink' | 'marker' | 'off';

/** What the document is made of: SHA-256 in lower-case hex, or the text itself where the page may not hash. */
export interface WireSource {
  readonly hash: string | null;
  readonly text: string | null;
  /** The style sheets' lengths: where they are the same, so are the lines of their rules. */
  readonly lengths: string;
}

/** Where the tab is, and what it shows there first. */
export interface WireLanded {
  readonly href: string;
  /** Address its document came from, redirects of the server followed; scripts cannot change it. */
  readonly loadedFrom: string;
  /** Of its document; 0 where the browser does not tell. */
  readonly status: number;
  readonly title: string;
  /** First heading that is seen, '' where there is none. */
  readonly heading: string;
  /** A field for a password is seen. */
  readonly asksPassword: boolean;
}

/** What a page shows in the place of its content. */
export interface WireContent {
  /** Its words and the names of its fields, without what all pages of the app share. */
  readonly text: string;
  /** Fields for a password that are seen. */
  readonly passwords: number;
  /** One of them says that it is for a new one. */
  readonly asksForNew: boolean;
  /** There is little besides. */
  readonly isAll: boolean;
}

/** Calls that Node makes into the page. */
export interface PageCalls extends ExploreCalls, DyeCalls, WearCalls {
  readonly landed: { readonly args: null; readonly result: WireLanded };
  /** Null where no field for a password is seen, unless it is asked for whatever there is. */
  readonly shownContent: { readonly args: { readonly whatever: boolean }; readonly result: WireContent | null };
  /** Stops transitions, hides the caret. `ticks` is false where the page may run no scripts, so that no timer comes to us either. */
  readonly freeze: { readonly args: { readonly on: boolean; readonly ticks?: boolean }; readonly result: null };
  /** Brings everything into view once, so that what waits for being seen appears; ends at the top. */
  readonly scrollThrough: {
    readonly args: { readonly most: number; readonly unless: string | null };
    readonly result: { readonly grew: boolean; readonly stands: string };
  };
  /** Waits until fonts, pictures and the document rest. */
  readonly rest: {
    readonly args: { readonly quietMs: number; readonly grows: boolean; readonly withinMs: number };
    /** With what says that the page is still loading, null where nothing does. */
    readonly result: { readonly restless: readonly Note[]; readonly loading: string | null };
  };
  /** Takes the theme before off and puts this one on. */
  readonly putOn: { readonly args: WireTheme; readonly result: { readonly missing: readonly string[] } };
  /** Finds the elements a state acts on and holds them and their ancestors for `held` (entry.ts). */
  readonly hold: {
    readonly args: { readonly selector: string };
    readonly result: { readonly targets: number; readonly held: number };
  };
  /** Puts all interactive elements into passes; the result is their number. Until `endWalk` only their texts are collected. */
  readonly planWalk: { readonly args: { readonly kind: PassingAct }; readonly result: number };
  /** As `hold`, for the elements of one pass. */
  readonly holdPass: {
    readonly args: { readonly pass: number };
    readonly result: { readonly targets: number; readonly held: number };
  };
  readonly endWalk: { readonly args: null; readonly result: null };
  /** The events a pointer or keyboard would cause on the held targets. */
  readonly act: { readonly args: { readonly kind: PassingAct }; readonly result: null };
  /** Takes them back and lets go. */
  readonly undoAct: { readonly args: { readonly kind: PassingAct }; readonly result: null };
  /** Brings the first held target into view; where to click, or null when something else lies there. */
  readonly clickPoint: { readonly args: null; readonly result: { readonly x: number; readonly y: number } | null };
  readonly watchPress: { readonly args: null; readonly result: null };
  /** Whether the pointer went down on the first held target since; true where nothing is watched, as on another page. */
  readonly wasPressed: { readonly args: null; readonly result: boolean };
  readonly clickByScript: { readonly args: null; readonly result: null };
  /** Addresses that the page links to. */
  readonly links: { readonly args: null; readonly result: readonly string[] };
  readonly toTop: { readonly args: null; readonly result: null };
  /** Scrolls down to this place, CSS px, or as far as the page goes. */
  readonly scrollDown: { readonly args: { readonly topCssPx: number }; readonly result: null };
  /** Of the whole page, CSS px. */
  readonly ruled: { readonly args: { readonly selectors: readonly string[] }; readonly result: readonly string[] };
  readonly size: { readonly args: null; readonly result: { readonly width: number; readonly height: number } };
  /** What the document is made of (source.ts). */
  readonly source: { readonly args: { readonly origin: string }; readonly result: WireSource };
  readonly rulesBehind: {
    readonly args: { readonly places: readonly (readonly [selector: string, property: string])[] };
    readonly result: WireRulesBehind;
  };
  /** Values as the browser writes them; null for those that it does not take. */
  readonly parsed: {
    readonly args: readonly (readonly [property: string, value: string])[];
    readonly result: readonly (string | null)[];
  };
  /** Of all trees that are known. */
  readonly countNodes: { readonly args: null; readonly result: number };
  readonly collect: { readonly args: CollectArguments; readonly result: Collected };
  /** Which exemptions and owners hold where, for a page that needs not be read. */
  readonly marks: { readonly args: CollectArguments; readonly result: readonly MarkedPlace[] };
  /** Adds runs for generated text to those collected; grounds may be added too. */
  readonly placePseudo: {
    readonly args: { readonly placed: readonly PlacedPseudo[] };
    readonly result: { readonly runs: readonly WireRun[]; readonly grounds: readonly WireGround[] };
  };
  /** What lies beneath runs (indexes) by painting order, bottom first, the canvas left out. */
  readonly beneath: { readonly args: { readonly runs: readonly number[] }; readonly result: readonly (readonly WireLayer[])[] };
  /** Shows text otherwise; the result names runs (indexes) whose boxes moved since they were collected. */
  readonly veil: {
    readonly args: { readonly veil: Veil; readonly runs: readonly number[] };
    readonly result: { readonly moved: readonly number[]; readonly notInked: readonly number[] };
  };
  /** Runs that moved or changed while they were shown otherwise. */
  readonly movedUnderVeil: { readonly args: null; readonly result: readonly number[] };
}

export type PassingAct = 'hover' | 'focus' | 'active';

export type PageCall = keyof PageCalls;
