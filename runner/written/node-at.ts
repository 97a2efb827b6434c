// Selector of a sample → node id for CDP, through shadow trees and same-origin frames.
import type { Tab } from '../tab/tab.ts';

/** The document's own id. All ids that were told before are void once it is asked for again. */
export async function rootNode(tab: Tab): Promise<number> {
  const { root } = await tab.guard('reading the document', tab.cdp.send('DOM.getDocument', { depth: 0 }));
  return root.nodeId;
}

/** @returns null when it finds nothing */
export async function nodeAt(tab: Tab, selector: string, root: number): Promise<number | null> {
  let at: number | null = root;
  const parts = selector.split(' >>> ');
  for (const [index, part] of parts.entries()) {
    if (at === null) return null;
    const found: { readonly nodeId: number } = await tab.guard(
      'finding an element',
      tab.cdp.send('DOM.querySelector', { nodeId: at, selector: part }),
    );
    const { nodeId } = found;
    if (nodeId === 0) return null;
    at = index === parts.length - 1 ? nodeId : await insideOf(tab, nodeId);
  }
  return at;
}

/** Root of the shadow tree, or document of the frame. */
async function insideOf(tab: Tab, nodeId: number): Promise<number | null> {
  const { node } = await tab.guard('finding an element', tab.cdp.send('DOM.describeNode', { nodeId, depth: 1, pierce: true }));
  const inner = node.shadowRoots?.find(({ shadowRootType }) => shadowRootType !== 'user-agent') ?? node.contentDocument;
  if (inner === undefined) return null;
  const { nodeIds } = await tab.guard(
    'finding an element',
    tab.cdp.send('DOM.pushNodesByBackendIdsToFrontend', { backendNodeIds: [inner.backendNodeId] }),
  );
  return nodeIds[0] ?? null;
}
