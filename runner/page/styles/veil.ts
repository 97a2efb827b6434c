// Shows the page without its text, or with the boxes of chosen runs filled, without touching layout or document: style sheets
// made by script, custom highlights, and, where nothing else reaches, inline styles. All of it is taken back.
import { splitOutside } from '../css-lists.ts';
import { dom } from '../dom.ts';
import { alphaOf } from '../places/colors.ts';
import { partedColors } from '../text/first-parts.ts';
import { addSheet, removeSheet } from '../rest/freeze.ts';
import { contentBoxes, lineBoxes } from '../text/line-boxes.ts';
import type { FoundRun } from '../text/runs.ts';
import type { Entry, Scene } from '../scene/scene.ts';
import { shadowOf } from '../scene/shadow-trees.ts';
import type { Veil, WireRect } from '../wire/wire.ts';

// No ::first-letter: a rule for it makes a box of it. It inherits.
const BARE = `
*,*::before,*::after,*::marker,*::placeholder,*::file-selector-button{
-webkit-text-fill-color:transparent!important;-webkit-text-stroke-color:transparent!important;text-shadow:none!important;
text-decoration-color:transparent!important;text-emphasis-color:transparent!important;transition:none!important}
text,tspan,textPath{fill:transparent!important;stroke:transparent!important}`;

/** Forced colours paint a placeholder whatever its fill, and the words in place of a picture. */
const BARE_FORCED = '*::placeholder{opacity:0!important}';

/** Nothing in a harbour, or elsewhere, is painted in this by chance next to text. */
const MARKER = 'rgb(255, 0, 254)';

/** Glyphs this much fatter cover whole pixels; strokes take no room in layout. */
const STROKE = '-webkit-text-stroke-width:3px!important';
const GENERATED = '*::before,*::after,*::marker,*::placeholder,*::file-selector-button';

export interface Veiled {
  readonly moved: readonly number[];
  /** Runs whose ink cannot be shown as an area. */
  readonly notInked: readonly number[];
}

export interface VeilOn {
  /**
   * Scripts may write text anew at any time: the veil is put over the new text before it is painted.
   * @param chosen runs by their index among `found`
   */
  put(kind: Veil, scene: Scene, found: readonly FoundRun[], chosen: readonly number[]): Veiled;
  /** Runs that moved or changed since the veil was put on. */
  moved(): readonly number[];
}

export function openVeil(): VeilOn {
  let lift: () => void = () => undefined;
  let moved = new Set<number>();
  let rewriting = new MutationObserver(() => undefined);
  const put: VeilOn['put'] = (kind, scene, found, chosen) => {
    lift();
    const undo: (() => void)[] = [];
    lift = () => {
      lift = () => undefined;
      for (const step of undo.splice(0).reverse()) step();
    };
    if (kind === 'off') return { moved: [], notInked: [] };
    try {
      return cover(kind, scene, found, chosen, undo);
    } catch (error) {
      lift();
      throw error;
    }
  };
  return {
    put: (kind, scene, found, chosen) => {
      rewriting.disconnect();
      const veiled = put(kind, scene, found, chosen);
      moved = new Set(veiled.moved);
      if (kind === 'off') return veiled;
      rewriting = new MutationObserver(() => {
        for (const run of put(kind, scene, found, chosen).moved) moved.add(run);
      });
      for (const root of scene.roots) rewriting.observe(root, { subtree: true, childList: true, characterData: true });
      return veiled;
    },
    moved: () => [...moved],
  };
}

/** @param undo gets what takes it back, step by step */
function cover(
  kind: Exclude<Veil, 'off'>,
  scene: Scene,
  found: readonly FoundRun[],
  chosen: readonly number[],
  undo: (() => void)[],
): Veiled {
  const runs = chosen.flatMap((index) => {
    const run = found[index];
    return run === undefined ? [] : [{ index, run }];
  });
  const isForced = kind === 'bare' && matchMedia('(forced-colors: active)').matches;
  for (const root of scene.roots) sheet(root, isForced ? BARE + BARE_FORCED : BARE, undo);
  if (isForced)
    for (const { run } of runs) if (dom(run.entry.el).localName === 'img') setInline(run.entry.el, 'opacity', '0', undo);
  clipToText(scene, kind === 'bare' ? 'none' : 'area', undo);
  const notInked = kind === 'bare' ? [] : fill(kind, scene, runs, undo);
  insist(
    runs.map(({ run }) => run),
    undo,
  );
  return { moved: runs.filter(({ run }) => hasMoved(run, scene)).map(({ index }) => index), notInked };
}

function sheet(root: Document | ShadowRoot, css: string, undo: (() => void)[]): void {
  const added = addSheet(root, css);
  undo.push(() => {
    removeSheet(root, added);
  });
}

function setInline(el: Element, property: string, value: string, undo: (() => void)[]): void {
  const { style } = dom(el as HTMLElement);
  const before = style.getPropertyValue(property);
  const priority = style.getPropertyPriority(property);
  const had = dom(el).hasAttribute('style');
  style.setProperty(property, value, 'important');
  undo.push(() => {
    if (before === '') style.removeProperty(property);
    else style.setProperty(property, before, priority);
    if (!had) dom(el).removeAttribute('style');
  });
}

/** A background that shows through glyphs only: gone without text, a whole area as ink. */
function clipToText(scene: Scene, as: 'none' | 'area', undo: (() => void)[]): void {
  for (const { el, style } of scene.entries) {
    if (!style.backgroundClip.includes('text')) continue;
    if (as === 'area') setInline(el, 'background-clip', 'border-box', undo);
    else {
      const clips = splitOutside(style.backgroundClip, ',');
      const images = splitOutside(style.backgroundImage, ',');
      const kept = images.map((image, i) => (clips[i % clips.length] === 'text' ? 'none' : image));
      setInline(el, 'background-image', kept.join(', '), undo);
      if (clips[(images.length - 1) % clips.length] === 'text') setInline(el, 'background-color', 'transparent', undo);
    }
  }
}

interface Chosen {
  readonly index: number;
  readonly run: FoundRun;
}

function fill(kind: 'ink' | 'marker', scene: Scene, runs: readonly Chosen[], undo: (() => void)[]): readonly number[] {
  const groups = new Map<string, { view: Entry['shown']['window']; color: string; ranges: Range[] }>();
  const notInked: number[] = [];
  const views = new Map<Window, number>();
  let generated = false;
  const isParted = partedColors(scene);
  for (const { index, run } of runs) {
    const color = kind === 'marker' ? MARKER : inkText(run, isParted);
    if (color === null) {
      notInked.push(index);
      continue;
    }
    const { entry, wire } = run;
    const node = liveNode(run);
    if (node !== null) {
      const view = entry.shown.window;
      const number = views.get(view) ?? views.size;
      views.set(view, number);
      const group = groups.get(`${number} ${color}`) ?? { view, color, ranges: [] };
      const range = dom(entry.shown.document).createRange();
      range.selectNodeContents(node);
      group.ranges.push(range);
      groups.set(`${number} ${color}`, group);
    } else if (wire.source === 'value') {
      setInline(entry.el, '-webkit-text-stroke', `3px ${color}`, undo);
    } else generated = true;
  }
  const rules: string[] = [];
  if (generated)
    rules.push(`${GENERATED}{${STROKE};-webkit-text-stroke-color:${kind === 'marker' ? MARKER : 'currentcolor'}!important}`);
  let count = 0;
  for (const { view, color, ranges } of groups.values()) {
    const name = `gloam-ink-${count}`;
    count += 1;
    const highlight = new view.Highlight(...ranges);
    highlight.priority = 2147483647;
    view.CSS.highlights.set(name, highlight);
    undo.push(() => {
      view.CSS.highlights.delete(name);
    });
    rules.push(`::highlight(${name}){${paintOf(kind, color)};text-shadow:none;text-decoration-color:transparent}`);
  }
  for (const root of scene.roots) sheet(root, rules.join('\n'), undo);
  return notInked;
}

/**
 * Ink fills the box. `currentcolor` is the highlight's own colour: then the glyphs stay, in the colour of their box.
 * The marker paints the glyphs.
 */
function paintOf(kind: 'ink' | 'marker', color: string): string {
  if (kind === 'marker') return `color:${color};background-color:transparent`;
  return color === 'currentcolor' ? 'background-color:currentcolor' : `color:transparent;background-color:${color}`;
}

/** CSS text that paints a run's ink as an area; null where there is none. */
function inkText({ wire, node, entry }: FoundRun, isParted: (entry: Entry) => boolean): string | null {
  if (wire.inkProperty === 'background-image') return alphaOf(wire.ink) === 0 ? 'transparent' : wire.ink;
  if (wire.doubts?.includes('paint-server') === true) return null;
  if (wire.source === 'svg')
    return wire.inkAlpha === undefined ? wire.ink : `rgb(from ${wire.ink} r g b / calc(alpha * ${wire.inkAlpha}))`;
  // The colour of each part of the run: first letters and lines may have their own.
  if (node !== null && alphaOf(wire.ink) === 1 && isParted(entry)) return 'currentcolor';
  // Generated text shares one rule: only `currentcolor` fits all.
  return node === null && wire.source !== 'value' && wire.inkProperty !== 'color' ? null : wire.ink;
}

/** Inline `!important` of the page is stronger than any sheet. */
function insist(runs: readonly FoundRun[], undo: (() => void)[]): void {
  const seen = new Set<Element>();
  for (const { entry, wire } of runs) {
    if (seen.has(entry.el)) continue;
    seen.add(entry.el);
    const property = wire.source === 'svg' ? 'fill' : '-webkit-text-fill-color';
    if (alphaOf(entry.style.getPropertyValue(property)) > 0) setInline(entry.el, property, 'transparent', undo);
    if (entry.style.textShadow !== 'none') setInline(entry.el, 'text-shadow', 'none', undo);
  }
}

/** A script that writes the same text anew (a clock that stands still) puts another node in the place of the one that was found. */
function liveNode({ node, entry }: FoundRun): Node | null {
  if (node === null || dom(node).isConnected) return node;
  return (
    [...dom(shadowOf(entry.el) ?? entry.el).childNodes].find(
      ({ nodeType, nodeValue }) => nodeType === 3 && nodeValue === dom(node).nodeValue,
    ) ?? node
  );
}

const STILL_CSS_PX = 0.1;

function hasMoved(run: FoundRun, scene: Scene): boolean {
  const { entry, wire } = run;
  const node = liveNode(run);
  // Generated text hangs on its element; the box of that is what can be asked.
  if (node === null && wire.source !== 'value' && wire.source !== 'placeholder') return false;
  const now: readonly WireRect[] = node === null ? contentBoxes(entry, scene) : lineBoxes(node, entry, scene);
  if (wire.selector.endsWith('::file-selector-button') || dom(entry.el).localName === 'input') return false;
  return (
    now.length !== wire.rects.length ||
    now.some((rect, i) => rect.some((v, j) => Math.abs(v - (wire.rects[i]?.[j] ?? NaN)) > STILL_CSS_PX))
  );
}
