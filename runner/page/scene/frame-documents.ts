// Documents shown inside elements: frames of both kinds, and objects that show a document (a drawing, mostly).
import { dom, meetTree } from '../dom.ts';

const HOLDERS = new Set(['iframe', 'frame', 'object', 'embed']);

/** @returns null for elements that show no document, or one of another origin */
export function documentIn(el: Element): Document | null {
  if (!HOLDERS.has(dom(el).localName)) return null;
  const { contentDocument, getSVGDocument } = dom(el) as Partial<HTMLIFrameElement & HTMLEmbedElement>;
  const inner = contentDocument === undefined ? getSVGDocument?.call(el) : contentDocument;
  return inner === null || inner === undefined ? null : meetTree(inner);
}
