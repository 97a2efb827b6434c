// What gloam asks of a page of a browser. Behind these verbs stands the browser's protocol, which nothing else here speaks; what is asked in
// the words of the web alone (loading, cookies, frames) goes to the driver library itself. What not every browser can do is declared in
// `can`: who needs it looks there first, and tells in a note what is not known for want of it.
import type { Rect } from '../../src/samples/view.ts';

/**
 * What not every browser can do.
 * - `matched-rules`: which rules match an element, and where they stand in their files
 * - `forced-states`: pseudo-classes that hold without a pointer on the element
 * - `generated-text`: where text of `::before`, `::after` and markers lies
 * - `closed-trees`: closed shadow trees can be handed to a script
 * - `far-frames`: frames of another origin can be entered
 */
export const CAPABILITIES = ['matched-rules', 'forced-states', 'generated-text', 'closed-trees', 'far-frames'] as const;
export type Capability = (typeof CAPABILITIES)[number];

/** Promises of all verbs reject with what the browser said, and with its end when it ends. */
export interface PageDriver {
  readonly can: ReadonlySet<Capability>;
  /** CSS px, and device px per CSS px. */
  setViewport(viewport: { readonly widthCssPx: number; readonly heightCssPx: number; readonly scale: number }): Promise<void>;
  /**
   * Has at least this much of the page painted, CSS px from its top left, while the page's own viewport stays.
   * @returns false where the browser paints its viewport alone
   */
  paintAtLeast(widthCssPx: number, heightCssPx: number): Promise<boolean>;
  /** PNG. @param clip CSS px in the page; the viewport when absent @param isPainted false where it lies beyond what is painted */
  picture(clip?: Rect, isPainted?: boolean): Promise<Buffer>;
  setMedia(features: Readonly<Record<string, string>>): Promise<void>;
  /** Nothing is hovered: in a document of a process of its own, the pointer is at the top left until it is moved (measured). */
  pointerAway(): Promise<void>;
  /** Pointer to the place, button down and up, pointer away. CSS px in the viewport. */
  clickAt(place: { readonly x: number; readonly y: number }): Promise<void>;
  /** In the page's own world, as if a visitor had asked for it. @param file for its messages @returns what it threw; null: nothing */
  runScript(text: string, file: string): Promise<string | null>;
  /** At the start of each document to come, before its own scripts. @param world name of one of its own; absent: the page's */
  beforeEachLoad(source: string, world?: string): Promise<LoadScript>;
  /** Sends headers to one origin and to no other. */
  sendHeaders(access: { readonly origin: string; readonly headers: Readonly<Record<string, string>> }): Promise<void>;
  /** Whatever the origin keeps beyond the life of the tab, cookies aside. */
  forgetStorage(origin: string): Promise<void>;
  /** Called when the main document is another; not of changes of the address within it. */
  onNewDocument(then: () => void): void;
  /** Of the main document: scripts there share its DOM, and have built-ins of their own. */
  world(name: string): Promise<World>;
  /** Leaves frames that worlds were entered in. Does not wait for them. */
  leaveFrames(): void;
  /** Needs `matched-rules` or `forced-states`. Elements are named by numbers that hold until it is closed. */
  openStyles(): Promise<Styles>;
  /** Needs `generated-text`. */
  layout(): Promise<LayoutSnapshot>;
  /** Nodes of all documents and shadow trees that the page may know of, and closed ones; quick. Needs `closed-trees`. */
  countNodes(): Promise<number>;
  /** Roots of closed shadow trees, outer ones first, for `World.hand`. Needs `closed-trees`. */
  closedTrees(): Promise<readonly number[]>;
}

export interface LoadScript {
  remove(): Promise<void>;
}

export type Evaluated = { readonly value: unknown } | { readonly thrown: string };

/** A world of its own in one document. */
export interface World {
  /** Promises are waited for; the value travels as JSON. */
  evaluate(expression: string): Promise<Evaluated>;
  /** Elements that expressions give, as `Styles` names them. Those that give none are left out. */
  nodes(expressions: readonly string[]): Promise<readonly number[]>;
  /** Calls a function with each of the roots as `this`. @returns what it answered; null for roots of other documents */
  hand(roots: readonly number[], functionText: string): Promise<readonly unknown[]>;
  /** The world of the same name in the frame that an expression gives. Null: it cannot be entered. Needs `far-frames`. */
  frame(expression: string): Promise<World | null>;
}

/** The browser's own view of styles, while it is open. */
export interface Styles {
  /** Of the main document. Numbers that were told before are void once it is asked for again. */
  root(): Promise<number>;
  /** The first that matches below a node; null: none. */
  find(below: number, selector: string): Promise<number | null>;
  findAll(below: number, selector: string): Promise<readonly number[]>;
  /** Root of the shadow tree, or document of the frame; null: neither. */
  inside(node: number): Promise<number | null>;
  matched(node: number): Promise<MatchedStyles>;
  /** Until it is closed. */
  force(node: number, pseudoClasses: readonly string[]): Promise<void>;
  /** Of a style sheet, by its id. */
  text(styleSheetId: string): Promise<string>;
  /** Families that glyphs of the element are taken from. */
  fonts(node: number): Promise<readonly string[]>;
  /** Of the page so far, by id. */
  readonly sheets: ReadonlyMap<string, SheetHeader>;
  /** What was forced holds no longer. */
  close(): Promise<void>;
}

export interface SheetHeader {
  /** Address, for `style` elements of the page; empty for those that scripts made. */
  readonly sourceURL: string;
  /** It stands in the page. */
  readonly isInline: boolean;
  /** Scripts changed it: its text is what they made of it. */
  readonly isMutable: boolean;
  readonly sourceMapURL?: string;
  /** Where the text starts in its file: `style` elements stand somewhere in the page. 0-based. */
  readonly startLine: number;
  readonly startColumn: number;
  /** Of its text. */
  readonly length: number;
}

export interface MatchedProperty {
  readonly name: string;
  readonly value: string;
  readonly important?: boolean;
  readonly disabled?: boolean;
  readonly parsedOk?: boolean;
  /** 0-based, in the text of the style sheet; absent for what a shorthand stands for. */
  readonly range?: { readonly startLine: number; readonly startColumn: number };
}

export interface MatchedStyle {
  readonly styleSheetId?: string;
  readonly cssProperties: readonly MatchedProperty[];
}

export interface MatchedRule {
  readonly rule: {
    readonly origin: string;
    readonly selectorList: { readonly text: string };
    /** Of the rules it is nested in, innermost first. */
    readonly nestingSelectors?: readonly string[];
    readonly style: MatchedStyle;
    readonly layers?: readonly { readonly text: string }[];
  };
}

export interface MatchedLevel {
  readonly inlineStyle?: MatchedStyle;
  /** Of a drawing; told of the asked element alone. */
  readonly attributesStyle?: MatchedStyle;
  readonly matchedCSSRules?: readonly MatchedRule[];
}

/** Rules in the order of the cascade, lowest first. */
export interface MatchedStyles extends MatchedLevel {
  readonly pseudoElements?: readonly { readonly pseudoType: string; readonly matches: readonly MatchedRule[] }[];
  /** Of the elements above, nearest first. */
  readonly inherited?: readonly MatchedLevel[];
}

/** One document of a layout; numbers without a comment are indexes. */
export interface LayoutDocument {
  readonly nodes: {
    readonly parentIndex?: readonly number[];
    readonly nodeType?: readonly number[];
    /** Into the strings. */
    readonly nodeName?: readonly number[];
    readonly shadowRootType?: { readonly index: readonly number[]; readonly value: readonly number[] };
    readonly contentDocumentIndex?: { readonly index: readonly number[]; readonly value: readonly number[] };
  };
  readonly layout: { readonly nodeIndex: readonly number[]; readonly text: readonly number[] };
  readonly textBoxes: { readonly layoutIndex: readonly number[]; readonly bounds: readonly (readonly number[])[] };
}

export interface LayoutSnapshot {
  readonly documents: readonly LayoutDocument[];
  readonly strings: readonly string[];
}
