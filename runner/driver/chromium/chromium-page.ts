// The page driver on Chromium's protocol (Chrome DevTools Protocol, by way of the driver library's session).
import type { BrowserContext, CDPSession, Page } from 'playwright';
import type { PageDriver } from '../page-driver.ts';
import { CAPABILITIES } from '../page-driver.ts';
import { closedIn } from './closed-trees.ts';
import { openChromiumStyles } from './chromium-styles.ts';
import { openChromiumWorld } from './chromium-world.ts';
import { sendOwnHeaders } from './own-headers.ts';
import { beforeAllPictures, paintsBeyond } from './paints-beyond.ts';

interface OpenWishes {
  /** The page is a new one: what the browser paints may be tried on it. Without, it paints its viewport alone. */
  readonly isNew?: boolean;
}

/** Beyond every page, CSS px. At the lower right: who leaves over the upper edge is taken for about to close the page, and asked to stay. */
const FAR = 1_000_000;

export async function openChromiumPage(
  context: BrowserContext,
  page: Page,
  { isNew = false }: OpenWishes = {},
): Promise<PageDriver> {
  const cdp = await context.newCDPSession(page);
  await cdp.send('Page.enable');
  const browser = context.browser();
  const isBeyond = isNew && browser !== null && (await paintsBeyond(browser, page, cdp));
  if (isNew && !isBeyond) await beforeAllPictures(cdp);
  /** Sessions of frames in processes of their own. */
  const frames: CDPSession[] = [];
  const pointerAway = async (): Promise<void> => {
    await cdp.send('Input.dispatchMouseEvent', { x: FAR, y: FAR, type: 'mouseMoved', button: 'none' });
  };
  return {
    can: new Set(CAPABILITIES),
    setViewport: async ({ widthCssPx: width, heightCssPx: height, scale }) => {
      await cdp.send('Emulation.setDeviceMetricsOverride', { width, height, deviceScaleFactor: scale, mobile: false });
    },
    paintAtLeast: async (width, height) => {
      if (isBeyond) await cdp.send('Emulation.setVisibleSize', { width, height });
      return isBeyond;
    },
    picture: async (clip, isPainted = true) => {
      const { data } = await cdp.send('Page.captureScreenshot', {
        format: 'png',
        // Quicker compression, the same pixels (measured: about 0.8 of the time).
        optimizeForSpeed: true,
        // Keeps the viewport too, but lays the page out anew for each picture (measured: twice the time).
        captureBeyondViewport: !isPainted,
        ...(clip === undefined ? {} : { clip: { x: clip[0], y: clip[1], width: clip[2], height: clip[3], scale: 1 } }),
      });
      return Buffer.from(data, 'base64');
    },
    setMedia: async (media) => {
      const features = Object.entries(media).map(([name, value]) => ({ name, value }));
      await cdp.send('Emulation.setEmulatedMedia', { features });
    },
    pointerAway,
    clickAt: async (place) => {
      const at = { ...place, button: 'left', clickCount: 1 } as const;
      await cdp.send('Input.dispatchMouseEvent', { ...at, type: 'mouseMoved', button: 'none' });
      await cdp.send('Input.dispatchMouseEvent', { ...at, type: 'mousePressed' });
      await cdp.send('Input.dispatchMouseEvent', { ...at, type: 'mouseReleased' });
      await pointerAway();
    },
    runScript: async (text, file) => {
      const expression = `${text}\n//# sourceURL=${file}`;
      const { exceptionDetails } = await cdp.send('Runtime.evaluate', { expression, awaitPromise: true, userGesture: true });
      return exceptionDetails === undefined ? null : (exceptionDetails.exception?.description ?? exceptionDetails.text);
    },
    beforeEachLoad: async (source, worldName) => {
      const script = { source, ...(worldName === undefined ? {} : { worldName }) };
      const { identifier } = await cdp.send('Page.addScriptToEvaluateOnNewDocument', script);
      return {
        remove: async () => {
          await cdp.send('Page.removeScriptToEvaluateOnNewDocument', { identifier });
        },
      };
    },
    sendHeaders: (access) => sendOwnHeaders(cdp, access),
    forgetStorage: async (origin) => {
      const storageTypes = 'local_storage,indexeddb,cache_storage,service_workers';
      await cdp.send('Storage.clearDataForOrigin', { origin, storageTypes });
    },
    onNewDocument: (then) => {
      cdp.on('Page.frameNavigated', ({ frame }) => {
        if (frame.parentId === undefined) then();
      });
    },
    world: async (name) => {
      const { frameTree } = await cdp.send('Page.getFrameTree');
      const sessionOf = async (frameId: string): Promise<CDPSession | null> => {
        for (const frame of page.frames()) {
          const session = await context.newCDPSession(frame).catch(() => null);
          if (session === null) continue;
          frames.push(session);
          const tree = await session.send('Page.getFrameTree');
          if (tree.frameTree.frame.id === frameId) return session;
        }
        return null;
      };
      return openChromiumWorld({ cdp, name, sessionOf }, frameTree.frame.id);
    },
    leaveFrames: () => {
      // Not waited for: a frame that is held up would never answer.
      for (const session of frames.splice(0)) session.detach().catch(() => undefined);
    },
    openStyles: () => openChromiumStyles(cdp),
    layout: () => cdp.send('DOMSnapshot.captureSnapshot', { computedStyles: [] }),
    countNodes: async () => {
      await cdp.send('DOM.enable');
      // A search that every node answers is quick to count (measured: 5 ms for 10,000 elements, where the whole tree takes seconds).
      const { searchId, resultCount } = await cdp.send('DOM.performSearch', { query: '', includeUserAgentShadowDOM: false });
      // Not waited for: a page that loops from here on would never answer.
      cdp.send('DOM.discardSearchResults', { searchId }).catch(() => undefined);
      return resultCount;
    },
    closedTrees: async () => {
      const { root } = await cdp.send('DOM.getDocument', { depth: -1, pierce: true });
      // All nodes are known to the browser by number now: without this it would tell of each change.
      await cdp.send('DOM.disable');
      return closedIn(root);
    },
  };
}
