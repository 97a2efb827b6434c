// Starts Chromium so that the same page gives the same pixels every night.
import type { Browser } from 'playwright';
import { chromium } from './playwright.ts';
import { browserFailed } from '../../src/errors/capture-errors.ts';
import { inBrowserFolder } from './browser-folder.ts';
import { closeBrowser, learnProcess } from './browser-process.ts';
import { FEATURES_OFF } from './features-off.ts';
import type { FoundBrowser } from './find-browser.ts';
import { clearOrphanedFolders } from './orphaned-folders.ts';
import { hasRoomInMemory } from './shared-memory.ts';
import { PAINTS_BEYOND } from '../driver/chromium/paints-beyond.ts';

/** Only the last flag of settings counts, so Playwright's own (a mouse) are said again. */
const SETTINGS = [
  // The pointer of a desk: it hovers, and is fine (blink HoverType 2, PointerType 4).
  'primaryHoverType=2,availableHoverTypes=2,primaryPointerType=4,availablePointerTypes=4',
  // Animated pictures stay at their first frame (blink::mojom::ImageAnimationPolicy, 2: no animation).
  'imageAnimationPolicy=2',
  PAINTS_BEYOND,
];

const FLAGS = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--force-color-profile=srgb',
  '--hide-scrollbars',
  `--blink-settings=${SETTINGS.join(',')}`,
  // Parts of a tile drawn anew come out otherwise at soft edges, by up to 3 codes (measured): tiles are drawn whole.
  '--disable-partial-raster',
  // Grey-scale anti-aliasing only: then each glyph pixel lies between ink and background in all channels alike.
  '--disable-lcd-text',
  // What a browser with windows takes from a system that says nothing else; one without windows asks no system, and would place glyphs
  // otherwise (measured: with it the two give the same pictures).
  '--font-render-hinting=slight',
] as const;

/** Chromium refuses its sandbox to root (measured; Chromium docs "linux/sandboxing"), and to nobody else. */
export function sandboxFlags(): readonly string[] {
  return process.getuid?.() === 0 ? ['--no-sandbox'] : [];
}

/** @throws GloamError `browser-failed` */
export async function launchBrowser(found: FoundBrowser): Promise<Browser> {
  try {
    const starting = inBrowserFolder(() => start(found));
    const [browser] = await Promise.all([starting, clearOrphanedFolders()]);
    await learnProcess(browser);
    return browser;
  } catch (cause) {
    const first = cause instanceof Error ? (cause.message.split('\n')[0] ?? '') : String(cause);
    throw browserFailed(found.path ?? "Playwright's Chromium", first);
  }
}

async function start(found: FoundBrowser): Promise<Browser> {
  const room = await hasRoomInMemory();
  return chromium.launch({
    ...(found.path === undefined ? {} : { executablePath: found.path }),
    args: [...FLAGS, FEATURES_OFF, ...sandboxFlags()],
    // A page that changes its address without end holds up the browser's own thread, and every other page with it (measured).
    ignoreDefaultArgs: ['--disable-ipc-flooding-protection', ...(room ? ['--disable-dev-shm-usage'] : [])],
    chromiumSandbox: sandboxFlags().length === 0,
    handleSIGINT: false,
    handleSIGTERM: false,
    handleSIGHUP: false,
  });
}

/** A browser that starts while other things are made ready, and goes while others are finished. */
export interface BrowserAhead extends AsyncDisposable {
  /** Starts it at the first call. @throws GloamError `browser-failed` */
  ready(): Promise<Browser>;
  /** It is needed no more; its end is waited for when the block ends. */
  leave(): void;
}

/** @param open one that runs already, and is left open */
export function browserAhead(found: FoundBrowser, open?: Browser): BrowserAhead {
  if (open !== undefined) {
    const nothing = (): Promise<void> => Promise.resolve();
    return { ready: () => Promise.resolve(open), leave: () => undefined, [Symbol.asyncDispose]: nothing };
  }
  let started: Promise<Browser> | null = null;
  let end: Promise<void> | null = null;
  const closed = async (): Promise<void> => {
    const browser = await started?.catch(() => null);
    if (browser != null) await closeBrowser(browser);
  };
  const leave = (): Promise<void> => (end ??= closed());
  return {
    ready: () => (started ??= launchBrowser(found)),
    leave: () => void leave(),
    [Symbol.asyncDispose]: leave,
  };
}
