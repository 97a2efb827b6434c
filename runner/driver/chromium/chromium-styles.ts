// Chromium's own view of the styles of a page (its CSS and DOM domains).
import type { CDPSession } from 'playwright';
import type { SheetHeader, Styles } from '../page-driver.ts';

export async function openChromiumStyles(cdp: CDPSession): Promise<Styles> {
  const sheets = new Map<string, SheetHeader>();
  const listen = ({ header }: { readonly header: SheetHeader & { readonly styleSheetId: string } }): void => {
    sheets.set(header.styleSheetId, header);
  };
  // All of them are announced when the domain is entered.
  cdp.on('CSS.styleSheetAdded', listen);
  await cdp.send('DOM.enable');
  await cdp.send('CSS.enable');
  const forced = new Set<number>();
  const force = async (nodeId: number, pseudoClasses: readonly string[]): Promise<void> => {
    await cdp.send('CSS.forcePseudoState', { nodeId, forcedPseudoClasses: [...pseudoClasses] });
  };
  return {
    sheets,
    root: async () => (await cdp.send('DOM.getDocument', { depth: 0 })).root.nodeId,
    find: async (nodeId, selector) => {
      const found = await cdp.send('DOM.querySelector', { nodeId, selector });
      return found.nodeId === 0 ? null : found.nodeId;
    },
    findAll: async (nodeId, selector) => (await cdp.send('DOM.querySelectorAll', { nodeId, selector })).nodeIds,
    inside: async (nodeId) => {
      const { node } = await cdp.send('DOM.describeNode', { nodeId, depth: 1, pierce: true });
      const inner = node.shadowRoots?.find(({ shadowRootType }) => shadowRootType !== 'user-agent') ?? node.contentDocument;
      if (inner === undefined) return null;
      const { nodeIds } = await cdp.send('DOM.pushNodesByBackendIdsToFrontend', { backendNodeIds: [inner.backendNodeId] });
      return nodeIds[0] ?? null;
    },
    matched: (nodeId) => cdp.send('CSS.getMatchedStylesForNode', { nodeId }),
    force: (nodeId, pseudoClasses) => {
      forced.add(nodeId);
      return force(nodeId, pseudoClasses);
    },
    text: async (styleSheetId) => (await cdp.send('CSS.getStyleSheetText', { styleSheetId })).text,
    fonts: async (nodeId) => {
      const { fonts } = await cdp.send('CSS.getPlatformFontsForNode', { nodeId });
      return [...new Set(fonts.map(({ familyName }) => familyName))];
    },
    close: async () => {
      cdp.off('CSS.styleSheetAdded', listen);
      // An element may be gone by now.
      await Promise.all([...forced].map((nodeId) => force(nodeId, []).catch(() => undefined)));
      await cdp.send('CSS.disable');
    },
  };
}
