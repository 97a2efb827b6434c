// Generated text (`::before`, `::after`, `::marker`): which elements have some, and runs for it once the browser's layout tree
// has told where it is (there is no way to ask that from inside a page).
import { dom } from '../dom.ts';
import { isGraphic, isIconFont, isSymbolOnly, shownText } from './glyphs.ts';
import { inkOf } from './ink.ts';
import { cutBoxes } from './line-boxes.ts';
import { documentIn } from '../scene/frame-documents.ts';
import { generatedStyle } from '../places/places.ts';
import type { RunMaker } from './runs.ts';
import type { Entry, Scene } from '../scene/scene.ts';
import { shadowOf } from '../scene/shadow-trees.ts';
import type { PlacedPseudo, WirePseudoHost } from '../wire/wire.ts';

const KINDS = ['::before', '::after', '::marker'] as const;

export function pseudoHosts(scene: Scene): readonly WirePseudoHost[] {
  const hosts: { entry: Entry; which: (typeof KINDS)[number] }[] = [];
  for (const entry of scene.entries) {
    if (!entry.visible) continue;
    for (const which of KINDS) if (hasText(entry, which)) hosts.push({ entry, which });
  }
  if (hosts.length === 0) return [];
  const orders = treeOrders();
  return hosts.flatMap(({ entry, which }) => {
    const path = pathOf(entry, orders);
    return path === null ? [] : [{ path, which }];
  });
}

export function addPlaced(placed: readonly PlacedPseudo[], maker: RunMaker): void {
  const orders = treeOrders();
  const entries = new Map<string, Entry>();
  for (const entry of maker.scene.entries) {
    const path = pathOf(entry, orders);
    if (path !== null) entries.set(path.join(), entry);
  }
  for (const { path, which, text, rects } of placed) {
    const entry = entries.get(path.join());
    const shown = shownText(text);
    if (entry === undefined || shown === '' || isGraphic(shown)) continue;
    const style = entry.shown.window.getComputedStyle(entry.el, which);
    if (style.visibility !== 'visible' || isIconFont(style.fontFamily)) continue;
    const exempt = decorative(style.content, shown, which);
    maker.add({
      source: which === '::marker' ? 'marker' : 'pseudo',
      entry,
      text: shown,
      rects: cutBoxes(rects, entry, maker.scene),
      ground: which === '::marker' ? maker.grounds.of(entry) : maker.grounds.ofPseudo(entry, which, style),
      ink: inkOf(style, maker.scaleOf(entry)),
      pseudo: which,
      ...(exempt === null ? {} : { exempt }),
    });
  }
}

function decorative(content: string, text: string, which: string): { reason: 'decoration'; why: string } | null {
  // CSS Content 3 §2.4: an empty alternative text says that it means nothing.
  if (/\/\s*""$/u.test(content)) return { reason: 'decoration', why: `${which} with an empty alternative text` };
  if (isSymbolOnly(text)) return { reason: 'decoration', why: `${which} of symbols only` };
  return null;
}

function hasText(entry: Entry, which: (typeof KINDS)[number]): boolean {
  if (which === '::marker') {
    if (entry.style.display !== 'list-item') return false;
    // Bullets are graphics; numbers, letters and strings are text (CSS Counter Styles 3 §6).
    return (
      !['none', 'disc', 'circle', 'square', 'disclosure-open', 'disclosure-closed'].includes(entry.style.listStyleType) ||
      !['normal', 'none'].includes(entry.shown.window.getComputedStyle(entry.el, which).content)
    );
  }
  const { content } = generatedStyle(entry, which) ?? { content: 'none' };
  if (content === 'none' || content === '""') return false;
  const strings = content.replace(/\/\s*"[^"]*"\s*$/u, '').match(/"(?:[^"\\]|\\.)*"/gu) ?? [];
  const generated = /counters?\(|attr\(|quote/u.test(content);
  return generated || strings.some((text) => shownText(text.slice(1, -1)) !== '' && !isGraphic(text.slice(1, -1)));
}

/** Place of each element in its document, shadow trees before light children: the order in which the browser lists nodes. */
function treeOrders(): Map<Element, number> {
  const orders = new Map<Element, number>();
  const documents: Document[] = [document];
  for (let doc = documents.pop(); doc !== undefined; doc = documents.pop()) {
    let n = 0;
    const stack: Element[] = [dom(doc).documentElement];
    for (let el = stack.pop(); el !== undefined; el = stack.pop()) {
      orders.set(el, n);
      n += 1;
      const inner = documentIn(el);
      if (inner !== null) documents.push(inner);
      // What a slot shows in place of its own content takes that off the list.
      const own =
        dom(el).localName === 'slot' && (el as HTMLSlotElement).assignedNodes().length > 0 ? null : dom(el).lastElementChild;
      for (let child = own; child !== null; child = dom(child).previousElementSibling) stack.push(child);
      const shadow = shadowOf(el);
      if (shadow !== null)
        for (let child = shadow.lastElementChild; child !== null; child = dom(child).previousElementSibling) stack.push(child);
    }
  }
  return orders;
}

/** Orders of the frames an element lies in, outermost first, then its own. */
function pathOf(entry: Entry, orders: Map<Element, number>): readonly number[] | null {
  const own = orders.get(entry.el);
  if (own === undefined) return null;
  const { holder } = entry.shown;
  if (holder === null) return [own];
  const outer = pathOf(holder, orders);
  return outer === null ? null : [...outer, own];
}
