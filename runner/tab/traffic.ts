// What a page asks for over the network, and what of it is still without an answer.
import type { Page, Request } from 'playwright';

/** Kinds of requests behind which scripts build on. */
const BUILDING: ReadonlySet<string> = new Set(['fetch', 'xhr', 'script']);
/** What a page shows may hang on these; the others are there when it has loaded, or go on for as long as it is open. */
const FETCHED: ReadonlySet<string> = new Set(['fetch', 'xhr']);
const LASTING: ReadonlySet<string> = new Set(['eventsource', 'websocket', 'ping', 'media']);

export class Traffic {
  /** Requests without the whole of an answer yet, and since when (ms, monotonic). */
  readonly #open = new Map<Request, number>();
  readonly #begun = new WeakSet<Request>();
  readonly #inVain = new Set<string>();
  readonly #requested = new Set<string>();
  #answers = 0;

  constructor(page: Page) {
    page.on('request', (request) => {
      this.#open.set(request, performance.now());
      this.#requested.add(request.url());
    });
    page.on('response', (response) => {
      this.#begun.add(response.request());
      this.#inVain.delete(withoutQuery(response.url()));
    });
    const over = (request: Request): void => {
      this.#open.delete(request);
      if (BUILDING.has(request.resourceType())) this.#answers += 1;
    };
    page.on('requestfinished', over);
    page.on('requestfailed', over);
  }

  /** Another document is asked for. */
  begin(): void {
    this.#open.clear();
    this.#requested.clear();
  }

  /** Addresses asked for since `begin`. */
  get requested(): readonly string[] {
    return [...this.#requested];
  }

  /** How many requests that scripts go on from have ended since the tab was opened. */
  get answers(): number {
    return this.#answers;
  }

  /** @returns addresses of what has been open for less than `ms`, of the kinds that end */
  openFor(ms: number): readonly string[] {
    const now = performance.now();
    const isOpen = ([request, since]: readonly [Request, number]): boolean =>
      now - since < ms && !LASTING.has(request.resourceType());
    return [...this.#open].filter(isOpen).map(([request]) => request.url());
  }

  /** @returns what scripts fetch from that origin and it has not begun to answer: a stream begins at once */
  unanswered(origin: string): readonly string[] {
    const isMute = (request: Request): boolean => FETCHED.has(request.resourceType()) && !this.#begun.has(request);
    const urls = [...this.#open.keys()].filter(isMute).map((request) => request.url());
    return urls.filter((url) => url.startsWith(`${origin}/`));
  }

  /** Whether it was waited for in vain before, and never answered since; the query may be another each time. */
  isHopeless(url: string): boolean {
    return this.#inVain.has(withoutQuery(url));
  }

  giveUp(urls: readonly string[]): void {
    for (const url of urls) this.#inVain.add(withoutQuery(url));
  }
}

function withoutQuery(url: string): string {
  return url.replace(/[?#].*$/su, '');
}
