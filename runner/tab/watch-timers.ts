// What a page waits for by itself: timers that it set once and that are due soon, idle callbacks. A page that shows a placeholder until
// a timer ends looks at rest to everyone else. Runs in the page's own world before its scripts, for what it wraps must be what they call.
import { PENDING, PENDING_LONG } from '../page/rest/pending-events.ts';

/** A one-off timer longer than this is no part of building the page: it takes down a greeting or asks for news (ours). ms, as asked for. */
const SOON_MS = 600;
/** Waited for where the page says that it is loading. */
const LATER_MS = 5_000;

/** For `Page.addScriptToEvaluateOnNewDocument`, without a world of its own. */
export function watchTimersScript(): string {
  return `(${String(watchTimers)})(${JSON.stringify({ soonMs: SOON_MS, laterMs: LATER_MS, soon: PENDING, later: PENDING_LONG })})`;
}

type Callback = (...args: readonly unknown[]) => unknown;

/** The parts of a page's world that this function uses once it is there. */
interface PageWorld {
  setTimeout: Callback;
  clearTimeout: Callback;
  clearInterval: Callback;
  requestIdleCallback: Callback;
  cancelIdleCallback: Callback;
  addEventListener(name: string, listener: (event: { preventDefault(): void }) => void, options: boolean): void;
}

/** Travels as text: it may name nothing but its argument and what a browser has. What it keeps never gets in the page's way. */
function watchTimers(wish: {
  readonly soonMs: number;
  readonly laterMs: number;
  readonly soon: string;
  readonly later: string;
}): void {
  const world = globalThis as unknown as PageWorld;
  /** So many are kept in mind; a page that sets more is not waited for. */
  const most = 500;
  const pending = new Map<unknown, { readonly ms: number; readonly what: string }>();
  const fired = new Map<string, number>();
  const { apply } = Reflect;
  // eslint-disable-next-line @typescript-eslint/unbound-method -- it is given its `this` where it is called
  const textOf = Function.prototype.toString;

  /** One that was set again and again after it ended is a clock, not a step of building. */
  const isDue = (limit: number): boolean => {
    for (const { ms, what } of pending.values()) if (ms <= limit && (fired.get(what) ?? 0) < 2) return true;
    return false;
  };
  const keep = (original: Callback, self: unknown, args: readonly unknown[], ms: number): unknown => {
    const [callback, ...rest] = args;
    if (typeof callback !== 'function' || !(ms <= wish.laterMs) || pending.size >= most) return apply(original, self, args);
    const what = `${String(ms)} ${apply(textOf, callback, []).slice(0, 300)}`;
    let id: unknown = null;
    const watched = function (this: unknown, ...given: readonly unknown[]): unknown {
      pending.delete(id);
      if (fired.size < most) fired.set(what, (fired.get(what) ?? 0) + 1);
      return apply(callback as Callback, this, given);
    };
    id = apply(original, self, [watched, ...rest]);
    pending.set(id, { ms, what });
    return id;
  };
  const wrap = (name: 'setTimeout' | 'requestIdleCallback', msOf: (args: readonly unknown[]) => number): void => {
    const original = world[name];
    // A proxy keeps name, length and text of what it stands for.
    world[name] = new Proxy(original, { apply: (target, self, args: readonly unknown[]) => keep(target, self, args, msOf(args)) });
  };
  const unwrap = (name: 'clearTimeout' | 'clearInterval' | 'cancelIdleCallback'): void => {
    world[name] = new Proxy(world[name], {
      apply: (target, self, args: readonly unknown[]) => {
        pending.delete(args[0]);
        return apply(target, self, args);
      },
    });
  };
  wrap('setTimeout', (args) => Number(args[1] ?? 0) || 0);
  wrap('requestIdleCallback', () => 0);
  unwrap('clearTimeout');
  unwrap('clearInterval');
  unwrap('cancelIdleCallback');
  // What is prevented is seen in every world; nothing else about an event is.
  world.addEventListener(
    wish.soon,
    (event) => {
      if (isDue(wish.soonMs)) event.preventDefault();
    },
    true,
  );
  world.addEventListener(
    wish.later,
    (event) => {
      if (isDue(wish.laterMs)) event.preventDefault();
    },
    true,
  );
}
