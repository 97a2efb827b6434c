// What the pointer meets: whether a layer keeps it from what lies beneath, and whether a box is met at all.
import { dom } from '../dom.ts';
import type { Entry, Scene, Shown } from './scene.ts';
import { shadowOf } from './shadow-trees.ts';

export interface On {
  readonly scene: Scene;
  /** Place in painting order. */
  readonly order: ReadonlyMap<Entry, number>;
  readonly entryOf: ReadonlyMap<Element, Entry>;
}

export function hasAbove(entry: Entry, is: (at: Entry) => boolean): boolean {
  for (let at: Entry | null = entry; at !== null; at = at.up) if (is(at)) return true;
  return false;
}

/** Shares of the viewport's sides where the pointer is tried. */
const PROBES = [0.04, 0.25, 0.5, 0.75, 0.96] as const;
/** Of those places, so many may let the pointer through (ours: cut-outs that point at something). */
const MOST_THROUGH = 0.35;

export function takesPointer(veil: Entry, { order, entryOf }: On, holder: Entry | undefined): boolean {
  const place = order.get(veil) ?? Infinity;
  const { innerWidth: width, innerHeight: height } = veil.shown.window;
  let through = 0;
  for (const x of PROBES) {
    for (const y of PROBES) {
      const hit = hitAt(veil.shown, width * x, height * y);
      const entry = hit === null ? undefined : entryOf.get(hit);
      if (entry !== undefined && entry !== holder && (order.get(entry) ?? 0) < place) through += 1;
    }
  }
  return through <= PROBES.length ** 2 * MOST_THROUGH;
}

/** The pointer meets it in its middle, or where more of it is in sight. */
export function isMet({ el, shown }: Entry, { entryOf }: On): boolean {
  const box = dom(el).getBoundingClientRect();
  if (box.width === 0 || box.height === 0) return false;
  return PROBES.some((share) => {
    const hit = hitAt(shown, box.left + box.width / 2, box.top + box.height * share);
    const entry = hit === null ? undefined : entryOf.get(hit);
    return entry !== undefined && hasAbove(entry, (at) => at.el === el);
  });
}

/** Texts and controls that are tried. */
const MOST_TRIED = 80;

/** Whether the pointer meets some text or control beneath. */
export function isReached(shown: Shown, isBeneath: (entry: Entry) => boolean, { scene }: On): boolean {
  const { innerWidth: width, innerHeight: height } = shown.window;
  const under = scene.entries.filter((entry) => entry.shown === shown && showsText(entry) && isBeneath(entry));
  const step = Math.max(1, Math.floor(under.length / MOST_TRIED));
  return under.some(({ el }, index) => {
    if (index % step !== 0) return false;
    const box = dom(el).getBoundingClientRect();
    const [x, y] = [box.left + Math.min(box.width / 2, 20), box.top + box.height / 2];
    if (box.width === 0 || x < 0 || y < 0 || x >= width || y >= height) return false;
    const hit = hitAt(shown, x, y);
    return hit !== null && (hit === el || dom(el).contains(hit));
  });
}

export function showsText({ el, visible }: Entry): boolean {
  if (!visible || dom(el).localName === 'html' || dom(el).localName === 'body') return false;
  if (dom(el).matches('input, select, textarea')) return true;
  for (let node = dom(el).firstChild; node !== null; node = dom(node).nextSibling)
    if (dom(node).nodeType === Node.TEXT_NODE && (dom(node).nodeValue ?? '').trim() !== '') return true;
  return false;
}

/** @param x client coordinates of the document @param y as x @returns null outside its viewport */
export function hitAt({ document: page }: Shown, x: number, y: number): Element | null {
  let hit = dom(page).elementFromPoint(x, y);
  for (let tree = hit === null ? null : shadowOf(hit); tree !== null; tree = shadowOf(hit)) {
    const inner = tree.elementFromPoint(x, y);
    if (inner === null || inner === hit || dom(inner).getRootNode() !== tree) break;
    hit = inner;
  }
  return hit;
}
