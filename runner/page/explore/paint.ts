// The colours a page is painted with, as numbers that can be held against those of another theme.
import { dom, meetTree } from '../dom.ts';

const PROPERTIES = [
  'color',
  'background-color',
  'background-image',
  'border-top-color',
  'border-bottom-color',
  'fill',
  'stroke',
  'box-shadow',
  'filter',
  'opacity',
] as const;

export function explorePaint({ most }: { readonly most: number }): readonly number[] {
  const marks: number[] = [];
  for (const el of allElements(document)) {
    if (marks.length >= most) break;
    const { width, height } = dom(el).getBoundingClientRect();
    // What is folded away has a box or none, as it was last laid out.
    if (width * height === 0 || !dom(el).checkVisibility()) continue;
    const style = getComputedStyle(el);
    marks.push(hash(PROPERTIES.map((name) => style.getPropertyValue(name)).join('|')));
  }
  return marks;
}

function* allElements(root: Document | ShadowRoot): Generator<Element> {
  for (const el of dom(root).querySelectorAll('*')) {
    yield el;
    const tree = dom(el).shadowRoot;
    if (tree !== null) yield* allElements(meetTree(tree));
  }
}

/** FNV-1a, 32 bits. */
function hash(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return h >>> 0;
}
