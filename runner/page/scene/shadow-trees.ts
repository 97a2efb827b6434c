// Shadow trees of elements. Closed ones have to be handed in: no page script and no world of ours gets at them, but the browser's protocol
// does (runner/tab/closed-trees.ts). Patching `attachShadow` would show (its text, its stack) and misses trees written in markup.
import { dom, isDocument, meetTree } from '../dom.ts';

const closed = new WeakMap<Element, ShadowRoot>();

export function shadowOf(el: Element): ShadowRoot | null {
  const tree = dom(el).shadowRoot ?? closed.get(el) ?? null;
  return tree === null ? null : meetTree(tree);
}

/** @returns whether it was not known yet */
export function reveal(root: ShadowRoot): boolean {
  if (closed.has(root.host)) return false;
  closed.set(root.host, root);
  return true;
}

/** Nodes of a tree that a search of the browser for nothing in particular counts: all but document types and what is in other trees. */
export function countNodes(roots: readonly (Document | ShadowRoot)[]): number {
  let count = 0;
  for (const root of roots) {
    const owner = isDocument(root) ? root : root.ownerDocument;
    const walker = dom(owner).createTreeWalker(root, NodeFilter.SHOW_ALL & ~NodeFilter.SHOW_DOCUMENT_TYPE);
    while (walker.nextNode() !== null) count += 1;
  }
  return count;
}
