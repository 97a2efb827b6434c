// Text runs of the page with their line boxes, computed ink and ground.
import { dom } from '../dom.ts';
import { addControlText } from './controls.ts';
import { isGraphic, isIconFont, shownText } from './glyphs.ts';
import { inkOf, svgInkOf } from './ink.ts';
import { borderBoxes, lineBoxes } from './line-boxes.ts';
import { pseudoHosts } from './pseudo.ts';
import type { RunMaker } from './runs.ts';
import type { Entry } from '../scene/scene.ts';
import { isFolded } from '../scene/scene.ts';
import { shadowOf } from '../scene/shadow-trees.ts';
import type { WireText } from '../wire/wire.ts';

export function collectText(maker: RunMaker): WireText {
  for (const entry of maker.scene.entries) {
    if (!entry.visible || entry.style.contentVisibility === 'hidden') continue;
    addNodes(entry, maker);
    addControlText(entry, maker);
    if (dom(entry.el).localName === 'use') addUsed(entry, entry.el as SVGUseElement, maker);
  }
  return {
    grounds: maker.grounds.list,
    runs: maker.found.map((run) => run.wire),
    canvas: canvasColor(),
    pseudo: pseudoHosts(maker.scene),
  };
}

function addNodes(entry: Entry, maker: RunMaker): void {
  if (dom(entry.el).namespaceURI === SVG && dom(entry.el).closest(KEPT) !== null) return;
  if (isFolded(entry)) return;
  const folds = dom(entry.el).localName === 'details' ? entry.shown.window.getComputedStyle(entry.el, '::details-content') : null;
  let ink: ReturnType<typeof inkOf> | null = null;
  for (const node of textNodes(entry)) {
    const text = shownText(dom(node).nodeValue ?? '');
    if (text === '' || isGraphic(text)) continue;
    const rects = lineBoxes(node, entry, maker.scene);
    if (rects.length === 0) continue;
    if (ink === null) {
      if (isIconFont(entry.style.fontFamily)) return;
      ink = folds === null ? inkOfEntry(entry, maker) : inkOf(folds, maker.scaleOf(entry));
    }
    const source = dom(entry.el).namespaceURI === SVG ? 'svg' : 'text';
    const place = dom(node).parentNode === entry.el ? entry : ownerOf(node, entry);
    const ground = folds === null ? maker.grounds.of(entry) : maker.grounds.ofPseudo(entry, '::details-content', folds);
    maker.add({ source, entry, place, node, text, rects, ground, ink, ...optionalPicture(entry) });
  }
}

/** What is kept here is drawn where something refers to it, and only there (SVG 2 §5.5, §5.6). */
const KEPT = 'defs, symbol, clipPath, mask, pattern, marker';

/**
 * Text drawn by reference stands in a tree of the browser's own, which nobody can ask: its box is that of the reference, and its ink is
 * read from the picture.
 */
function addUsed(entry: Entry, use: SVGUseElement, maker: RunMaker): void {
  const id = /^#(.+)$/u.exec(use.href.baseVal)?.[1];
  const root = use.getRootNode();
  const kept = id === undefined || !('getElementById' in dom(root)) ? null : dom(root as Document | ShadowRoot).getElementById(id);
  const drawn = kept === null ? [] : dom(kept).localName === 'text' ? [kept] : [...dom(kept).querySelectorAll('text')];
  const text = shownText(drawn.map((each) => dom(each).textContent).join(' '));
  const [first] = drawn;
  if (first === undefined || text === '') return;
  const own = entry.shown.window.getComputedStyle(first);
  const ink = { ...svgInkOf(own, maker.scaleOf(entry)), doubts: ['paint-server' as const] };
  maker.add({ source: 'svg', entry, text, rects: borderBoxes(entry, maker.scene), ground: maker.grounds.of(entry), ink });
}

/** Text laid out in an element: its children in the flat tree. */
function textNodes({ el }: Entry): readonly Node[] {
  const nodes: Node[] = [];
  // A host shows its shadow tree, text that stands in that directly too; its own text is where a slot takes it.
  for (let node = dom(shadowOf(el) ?? el).firstChild; node !== null; node = dom(node).nextSibling)
    if (dom(node).nodeType === Node.TEXT_NODE) nodes.push(node);
  if (dom(el).localName !== 'slot') return nodes;
  const assigned = (el as HTMLSlotElement).assignedNodes();
  return assigned.length === 0 ? nodes : assigned.filter((node) => dom(node).nodeType === Node.TEXT_NODE);
}

function ownerOf(node: Node, entry: Entry): Entry {
  for (let at: Entry | null = entry; at !== null; at = at.up) if (at.el === dom(node).parentNode) return at;
  return entry;
}

const SVG = 'http://www.w3.org/2000/svg';

function inkOfEntry(entry: Entry, maker: RunMaker): ReturnType<typeof inkOf> {
  const { el, style } = entry;
  if (dom(el).namespaceURI !== SVG) return inkOf(style, maker.scaleOf(entry));
  const matrix = (el as SVGTextElement).getScreenCTM();
  return svgInkOf(style, matrix === null ? 1 : Math.sqrt(Math.abs(matrix.a * matrix.d - matrix.b * matrix.c)));
}

/** WCAG 2.2 SC 1.4.3, "Incidental": text that is part of a picture with significant other visual content. */
function optionalPicture(entry: Entry): { exempt?: { reason: 'decoration'; why: string } } {
  if (dom(entry.el).namespaceURI !== SVG) return {};
  const root = (entry.el as SVGElement).ownerSVGElement;
  if (root?.querySelector('image') === null || root === null) return {};
  return { exempt: { reason: 'decoration', why: 'part of a picture' } };
}

/** CSS Color Adjust 1: the canvas of a dark root is dark; Chromium paints it #121212. */
export function canvasColor(): string {
  if (matchMedia('(forced-colors: active)').matches)
    return matchMedia('(prefers-color-scheme: dark)').matches ? 'rgb(0, 0, 0)' : 'rgb(255, 255, 255)';
  const scheme = getComputedStyle(dom(document).documentElement).colorScheme;
  const dark = scheme.includes('dark') && (!scheme.includes('light') || matchMedia('(prefers-color-scheme: dark)').matches);
  return dark ? 'rgb(18, 18, 18)' : 'rgb(255, 255, 255)';
}
