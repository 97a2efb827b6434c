// Documents shown inside elements: frames of both kinds, and objects that show a document (a drawing, mostly).

const HOLDERS = new Set(['iframe', 'frame', 'object', 'embed']);

/** @returns null for elements that show no document, or one of another origin */
export function documentIn(el: Element): Document | null {
  if (!HOLDERS.has(el.localName)) return null;
  if ('contentDocument' in el) return (el as HTMLIFrameElement).contentDocument;
  return 'getSVGDocument' in el ? (el as HTMLEmbedElement).getSVGDocument() : null;
}
