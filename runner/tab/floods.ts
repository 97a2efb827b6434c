// Counts what a page does without end. Each dialog, request and line on the console is told to this process by the browser, and all
// pages wait behind it; so a page that floods is silenced where that is possible, and given up where not.
import type { Page as BrowserPage } from 'playwright';

/**
 * More of it in one view is a flood. Ours: far above what apps do while one view is captured (a poll every 30 ms for a minute asks
 * 2,000 times), far below what holds up the neighbours (measured: some ten thousand).
 */
const MOST = {
  dialogs: 100,
  'changes of address': 2_000,
  requests: 8_000,
  'web sockets': 500,
  'messages by web socket': 20_000,
} as const;

/** Lines and errors on the console, after which the page is silenced. */
const MOST_LINES = 1_000;

type Flooded = keyof typeof MOST;

export interface Floods {
  /** Another view begins. */
  begin(): void;
  count(what: Flooded): void;
  /** What the page did much of, for people; empty for most. */
  told(): string;
}

/** Fewer is not worth telling. */
const WORTH_TELLING = 50;

/** @param onFlood told once for each view, with what the page did */
export function watchFloods(page: BrowserPage, onFlood: (what: string) => void): Floods {
  const counts = new Map<Flooded | 'lines on the console', number>();
  let lines = 0;
  let isSilenced = false;

  const count = (what: Flooded): void => {
    const n = (counts.get(what) ?? 0) + 1;
    counts.set(what, n);
    if (n === MOST[what]) onFlood(`${n.toLocaleString('en')} ${what}`);
  };
  const line = (): void => {
    lines += 1;
    counts.set('lines on the console', lines);
    if (lines < MOST_LINES || isSilenced) return;
    isSilenced = true;
    page.evaluate(silence).catch(() => undefined);
  };

  page.on('console', line);
  page.on('pageerror', line);
  page.on('request', () => {
    count('requests');
  });
  page.on('websocket', (socket) => {
    count('web sockets');
    const frame = (): void => {
      count('messages by web socket');
    };
    socket.on('framesent', frame);
    socket.on('framereceived', frame);
  });
  page.on('framenavigated', (frame) => {
    if (frame === page.mainFrame()) count('changes of address');
  });
  return {
    begin: () => {
      counts.clear();
      lines = 0;
      isSilenced = false;
    },
    count,
    told: () =>
      [...counts]
        .filter(([, n]) => n >= WORTH_TELLING)
        .map(([what, n]) => `${n.toLocaleString('en')} ${what}`)
        .join(', '),
  };
}

/** Travels as text into the page's own world: nobody reads its console there. */
function silence(): void {
  const browser = globalThis as unknown as {
    readonly console: Record<string, unknown>;
    addEventListener(kind: string, listener: (event: { preventDefault(): void }) => void, capture: boolean): void;
  };
  for (const name of Object.keys(browser.console)) {
    if (typeof browser.console[name] === 'function') browser.console[name] = () => undefined;
  }
  for (const kind of ['error', 'unhandledrejection']) {
    browser.addEventListener(
      kind,
      (event) => {
        event.preventDefault();
      },
      true,
    );
  }
}
