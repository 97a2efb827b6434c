// The colours a page is painted with, as numbers that can be held against those of another theme.
import { dom, meetTree } from '../dom.ts';
import type { WirePaint } from '../wire/explore.ts';

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

export function explorePaint({ most }: { readonly most: number }): WirePaint {
  const marks: number[] = [];
  for (const el of allElements(document)) {
    if (marks.length >= most) break;
    const { width, height } = dom(el).getBoundingClientRect();
    // What is folded away has a box or none, as it was last laid out.
    if (width * height === 0 || !dom(el).checkVisibility()) continue;
    const style = getComputedStyle(el);
    marks.push(hash(PROPERTIES.map((name) => style.getPropertyValue(name)).join('|')));
  }
  return { marks, lostSheets: [...dom(document).querySelectorAll('link')].filter(isLostSheet).length };
}

/** Asked for, and without a rule: its address answers with an error, or with something else. */
function isLostSheet({ relList, disabled, sheet }: HTMLLinkElement): boolean {
  if (!relList.contains('stylesheet') || disabled) return false;
  try {
    return sheet === null || sheet.cssRules.length === 0;
  } catch {
    // Of another origin: what it holds is not for this page to know.
    return false;
  }
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
