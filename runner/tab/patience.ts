// How long one tab is waited for: every wait has a limit, ends with the view's time, and ends when the tab dies or the run is aborted.
import { pageTimeout, viewOutOfTime } from '../../src/errors/capture-errors.ts';
import { openViewTime } from './view-time.ts';

export interface PatienceWishes {
  /** Of one view, over all its steps, ms. */
  readonly viewMs: number;
  /** Of a wait that names none, ms. */
  readonly callMs: number;
  /** Address to be told in reasons. */
  readonly url: () => string;
  /** What the page did much of meanwhile; empty for most. */
  readonly meanwhile: () => string;
}

export class Patience {
  /** What waits, each for as long as it waits, so that no answer is kept alive. */
  readonly #waiting = new Set<(error: Error) => void>();
  #death: Error | null = null;
  readonly #wishes: PatienceWishes;
  readonly #time;

  constructor(wishes: PatienceWishes) {
    this.#wishes = wishes;
    this.#time = openViewTime(wishes.viewMs, () => performance.now());
  }

  get isOver(): boolean {
    return this.#death !== null;
  }

  /** The next view has all the time of a view. */
  begin(): void {
    this.#time.begin();
  }

  /** Nothing is waited for any more; the first reason is kept. */
  end(error: unknown): void {
    this.#death ??= error instanceof Error ? error : new Error(String(error));
    for (const tell of [...this.#waiting]) tell(this.#death);
  }

  /** The page is not to be trusted with another view. */
  #outOfTime(doing: string): void {
    const { viewMs, url, meanwhile } = this.#wishes;
    this.end(viewOutOfTime(url(), { doing, viewMs, spent: this.#time.spentOn(), meanwhile: meanwhile() }));
  }

  /**
   * Waits for `what`, at most `ms`, and no longer than the view's time.
   * @throws GloamError `page-timeout`, `view-out-of-time`; the reason of `end`
   */
  async wait<T>(doing: string, what: Promise<T>, ms = this.#wishes.callMs): Promise<T> {
    what.catch(() => undefined);
    if (this.#death !== null) throw this.#death;
    const left = this.#time.left();
    const started = performance.now();
    return new Promise<T>((resolve, reject) => {
      const over = (): void => {
        clearTimeout(timer);
        this.#waiting.delete(fail);
        this.#time.spend(doing, performance.now() - started);
      };
      const fail = (error: Error): void => {
        over();
        reject(error);
      };
      const timer = setTimeout(
        () => {
          this.#time.spend(doing, performance.now() - started);
          if (left <= ms) this.#outOfTime(doing);
          else fail(pageTimeout(this.#wishes.url(), doing, Math.round(ms), this.#wishes.meanwhile()));
        },
        Math.min(ms, left),
      );
      this.#waiting.add(fail);
      what.then((value) => {
        over();
        resolve(value);
      }, fail);
    });
  }
}
