// The document as one list of rendered elements in flat-tree order (shadow trees and slots resolved, same-origin frames entered),
// with what every collector needs: computed style, clip, offset of the frame. Walked once for all collectors.

import { dom } from '../dom.ts';
import { contentBox } from './content-box.ts';
import { documentIn } from './frame-documents.ts';
import type { FarPlace } from '../wire/wire.ts';
import { shadowOf } from './shadow-trees.ts';

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A document shown in the page: the page itself or a same-origin frame. */
export interface Shown {
  readonly document: Document;
  readonly window: Window & typeof globalThis;
  /** Added to client coordinates inside it to get page coordinates. */
  readonly dx: number;
  readonly dy: number;
  /** Element that holds the frame; null for the page. */
  readonly holder: Entry | null;
}

export interface Entry {
  readonly el: Element;
  /** Parent in the flat tree; for the root of a frame, the frame element. */
  readonly up: Entry | null;
  readonly style: CSSStyleDeclaration;
  /** What several collectors ask of it; each read of a computed style costs. */
  readonly own: OwnGroup;
  readonly shown: Shown;
  /** What overflow of ancestors leaves of the page for the element's own box; page coordinates. */
  readonly clip: Box;
  /** The same for what it holds, by how that is positioned. */
  readonly inside: Clips;
  readonly visible: boolean;
}

/** What makes an element paint as a group, or lie apart from the flow. */
export type OwnGroup = Pick<CSSStyleDeclaration, 'position' | 'opacity' | 'transform' | 'filter' | 'isolation' | 'mixBlendMode'>;

export function ownGroup({ position, opacity, transform, filter, isolation, mixBlendMode }: CSSStyleDeclaration): OwnGroup {
  return { position, opacity, transform, filter, isolation, mixBlendMode };
}

export interface Clips {
  readonly flow: Box;
  readonly absolute: Box;
  readonly fixed: Box;
}

export interface Scene {
  readonly entries: readonly Entry[];
  readonly roots: readonly (Document | ShadowRoot)[];
  readonly width: number;
  readonly height: number;
  /** What of the page belongs to the document: all, or the part that a far frame shows. */
  readonly whole: Box;
  /** Frames whose documents cannot be got at from here. */
  readonly far: readonly Entry[];
  /** Set where the document is that of a far frame. */
  readonly within?: FarPlace;
}

/** CSS px, past any page. */
const FAR = 1e7;

export function pageSize(): { width: number; height: number } {
  const root = dom(document).documentElement;
  const body = dom(document).body as HTMLElement | null;
  // In quirks mode the body scrolls in place of the root (CSSOM View §6).
  const height = Math.max(dom(root).scrollHeight, dom(document).compatMode === 'BackCompat' ? (dom(body)?.scrollHeight ?? 0) : 0);
  return {
    width: Math.max(dom(root).scrollWidth, innerWidth),
    height: Math.max(height, innerHeight),
  };
}

function sizeDownTo(mostCssPx: number): readonly [number, number] {
  const { width, height } = pageSize();
  return [width, Math.min(height, mostCssPx)];
}

/** @param downToCssPx what lies below counts as clipped away */
export function readScene(within?: FarPlace, downToCssPx = FAR): Scene {
  const [width, height] = within?.page ?? sizeDownTo(downToCssPx);
  const entries: Entry[] = [];
  const roots: (Document | ShadowRoot)[] = [document];
  const far: Entry[] = [];
  const [x, y, wide, high] = within?.clip ?? [0, 0, width, height];
  const whole: Box = { left: x, top: y, right: x + wide, bottom: y + high };
  const [dx, dy] = within?.origin ?? [scrollX, scrollY];
  const page: Shown = { document, window, dx, dy, holder: null };

  // An explicit stack: pages nest deeper than a call stack.
  const stack: { el: Element; up: Entry | null; shown: Shown }[] = [{ el: dom(document).documentElement, up: null, shown: page }];
  for (;;) {
    const next = stack.pop();
    if (next === undefined) break;
    const { el, up, shown } = next;
    const style = shown.window.getComputedStyle(el);
    if (style.display === 'none') continue;
    if (up !== null && isClosed(up, el)) continue;
    const entry = enter(el, up, style, shown, whole);
    entries.push(entry);

    const inner = childrenOf(el, entry, roots, far);
    for (let i = inner.elements.length - 1; i >= 0; i -= 1) {
      const child = inner.elements[i];
      if (child !== undefined) stack.push({ el: child, up: entry, shown: inner.shown });
    }
  }
  return {
    entries,
    roots,
    width,
    height,
    whole,
    far,
    ...(within === undefined ? {} : { within }),
  };
}

/** Content that is there but not shown: skipped by `content-visibility`, folded away in `details`. */
function isClosed(up: Entry, el: Element): boolean {
  if (up.style.contentVisibility === 'hidden') return true;
  if (dom(up.el).localName !== 'details' || (up.el as HTMLDetailsElement).open) return false;
  if (el === dom(up.el).querySelector(':scope > summary')) return false;
  return isFolded(up);
}

/** A closed `details` keeps its content, unless a rule shows it (CSS Pseudo-Elements 4, ::details-content). */
export function isFolded({ el, shown }: Pick<Entry, 'el' | 'shown'>): boolean {
  if (dom(el).localName !== 'details' || (el as HTMLDetailsElement).open) return false;
  return shown.window.getComputedStyle(el, '::details-content').contentVisibility !== 'visible';
}

function childrenOf(
  el: Element,
  entry: Entry,
  roots: (Document | ShadowRoot)[],
  far: Entry[],
): { elements: ArrayLike<Element>; shown: Shown } {
  const { shown } = entry;
  const tree = shadowOf(el);
  if (tree !== null) {
    roots.push(tree);
    return { elements: tree.children, shown };
  }
  if (el instanceof shown.window.HTMLSlotElement) {
    if (el.assignedNodes().length > 0) return { elements: el.assignedElements(), shown };
  }
  const document = documentIn(el);
  if (document !== null || dom(el).localName === 'iframe' || dom(el).localName === 'frame') {
    const inner = frameOf(el, document, entry);
    if (inner === null) {
      far.push(entry);
      return { elements: [], shown };
    }
    roots.push(inner.document);
    return { elements: [dom(inner.document).documentElement], shown: inner };
  }
  return { elements: dom(el).children, shown };
}

function frameOf(el: Element, inner: Document | null, entry: Entry): Shown | null {
  const view = dom(inner)?.defaultView;
  if (inner === null || view === null || view === undefined) return null;
  const box = dom(el).getBoundingClientRect();
  const padLeft = dom(el).clientLeft + parseFloat(entry.style.paddingLeft);
  const padTop = dom(el).clientTop + parseFloat(entry.style.paddingTop);
  return {
    document: inner,
    window: view,
    dx: box.left + entry.shown.dx + padLeft,
    dy: box.top + entry.shown.dy + padTop,
    holder: entry,
  };
}

function enter(el: Element, up: Entry | null, style: CSSStyleDeclaration, shown: Shown, whole: Box): Entry {
  const outer = outerClips(up, shown, whole);
  const own = ownGroup(style);
  const { position } = own;
  const clip = position === 'fixed' ? outer.fixed : position === 'absolute' ? outer.absolute : outer.flow;
  const every = holdsPositioned(own, style);
  const most = every || position !== 'static';
  const visible = style.visibility === 'visible';
  const inner = clips(el, up, style, shown) ? cut(clip, paddingBox(el, style, shown)) : clip;
  const inside = {
    flow: inner,
    absolute: most ? inner : outer.absolute,
    fixed: every ? inner : outer.fixed,
  };
  return { el, up, style, own, shown, clip, inside, visible };
}

function outerClips(up: Entry | null, shown: Shown, whole: Box): Clips {
  if (up === null) return { flow: whole, absolute: whole, fixed: whole };
  if (up.shown === shown) return up.inside;
  const frame = cut(up.clip, contentBox(up));
  return { flow: frame, absolute: frame, fixed: frame };
}

/** Ancestors that are containing blocks of fixed descendants too (CSS Transforms 1 §3, Filter Effects 1 §5, CSS Contain 2). */
function holdsPositioned({ transform, filter }: OwnGroup, style: CSSStyleDeclaration): boolean {
  return (
    transform !== 'none' || filter !== 'none' || style.perspective !== 'none' || /paint|layout|strict|content/u.test(style.contain)
  );
}

function clips(el: Element, up: Entry | null, style: CSSStyleDeclaration, shown: Shown): boolean {
  const { overflowX, overflowY, display } = style;
  if (overflowX === 'visible' && overflowY === 'visible') return false;
  if (display === 'inline' || display === 'contents') return false;
  // The root's overflow, or else the body's, is the viewport's (CSS Overflow 3 §3.3).
  if (el === dom(shown.document).documentElement) return false;
  return !(el === dom(shown.document).body && up?.style.overflowX === 'visible');
}

function paddingBox(el: Element, style: CSSStyleDeclaration, shown: Shown): Box {
  const r = dom(el).getBoundingClientRect();
  const html = el instanceof shown.window.HTMLElement ? el : null;
  // Scale of transforms between layout and screen.
  const sx = html !== null && dom(html).offsetWidth > 0 ? r.width / dom(html).offsetWidth : 1;
  const sy = html !== null && dom(html).offsetHeight > 0 ? r.height / dom(html).offsetHeight : 1;
  const x = r.left + shown.dx + dom(el).clientLeft * sx;
  const y = r.top + shown.dy + dom(el).clientTop * sy;
  const width = html === null ? r.width : dom(html).clientWidth * sx;
  const height = html === null ? r.height : dom(html).clientHeight * sy;
  const openX = style.overflowX === 'visible';
  const openY = style.overflowY === 'visible';
  return {
    left: openX ? -FAR : x,
    top: openY ? -FAR : y,
    right: openX ? FAR : x + width,
    bottom: openY ? FAR : y + height,
  };
}

export function cut(a: Box, b: Box): Box {
  return {
    left: Math.max(a.left, b.left),
    top: Math.max(a.top, b.top),
    right: Math.min(a.right, b.right),
    bottom: Math.min(a.bottom, b.bottom),
  };
}
