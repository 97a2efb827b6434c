// Waits until the page rests: fonts ready, pictures loaded, nothing animated, the document unchanged for a while.
import { dom, lookAnew } from '../dom.ts';
import type { Note } from '../../../src/samples/note.ts';
import type { Stillness } from './freeze.ts';
import { allRoots, finishAnimations } from './freeze.ts';
import { isPending, loadingSign } from './loading-signs.ts';

/** How time passes in the page. */
export interface Pace {
  /** Where a page may run no scripts (a policy with `sandbox`), no timer and no frame ever comes to us either (measured). */
  readonly ticks: boolean;
}

/** A change that scripts make in every frame shows in this many. */
const QUIET_FRAMES = 2;
/** A frame counts as quiet for no longer: in one that was late the page's own timers may not have had their turn (ours, three frames at 60 Hz). */
const LONGEST_FRAME_MS = 50;

export interface RestArguments {
  readonly quietMs: number;
  readonly withinMs: number;
  /** The quiet grows with the page. */
  readonly grows: boolean;
}

export async function rest(
  args: RestArguments,
  stillness: Stillness,
  pace: Pace,
): Promise<{ restless: readonly Note[]; loading: string | null }> {
  const deadline = performance.now() + args.withinMs;
  const quietMs = args.grows ? args.quietMs + pauseOfSize() : args.quietMs;
  stillness.hold();
  let looked = performance.now();
  let quietForMs = 0;
  let quietFrames = 0;
  let wasPending = false;
  const changed = new Set<string>();
  const watcher = new MutationObserver((records) => {
    looked = performance.now();
    quietForMs = 0;
    quietFrames = 0;
    for (const record of records.slice(0, 5)) changed.add(nameOf(record.target));
  });
  const roots = allRoots();
  for (const root of roots) {
    watcher.observe(root, { subtree: true, childList: true, characterData: true, attributes: true });
  }
  try {
    for (const picture of dom(document).querySelectorAll<HTMLImageElement | HTMLIFrameElement>('[loading=lazy]'))
      picture.loading = 'eager';
    if (pace.ticks) await within(deadline, dom(document).fonts.ready);
    for (;;) {
      await frame(pace);
      await turn(pace);
      lookAnew();
      const moved = finishAnimations(roots);
      const waiting = [...dom(document).images].filter((img) => !img.complete);
      const fonts = dom(document).fonts.status === 'loading';
      const now = performance.now();
      quietForMs = moved > 0 ? 0 : quietForMs + Math.min(now - looked, LONGEST_FRAME_MS);
      quietFrames = moved > 0 ? 0 : quietFrames + 1;
      looked = now;
      // On a busy machine a frame may come late: then time alone says nothing.
      const quiet = quietFrames >= QUIET_FRAMES && quietForMs >= quietMs;
      if (moved === 0 && waiting.length === 0 && !fonts && quiet) {
        const isSoon = now <= deadline && isPending(roots, false);
        const loading = isSoon ? null : loadingSign(roots);
        // A page that says that there is more to come is believed for longer.
        const isDue = isSoon || (loading !== null && now <= deadline && isPending(roots, true));
        if (!isDue && !wasPending) return { restless: [], loading };
        // What a timer starts may be drawn in a later frame: the quiet before it ended says nothing.
        if (!isDue) quietFrames = 0;
        wasPending = isDue;
      }
      if (now > deadline) {
        // Where nothing of this is seen, the page is given the few frames in which it can show that it rests.
        const restless: Note[] = [
          ...(moved > 0 ? [{ code: 'animated-again', data: {} } as const] : []),
          ...waiting.slice(0, 3).map((img) => ({ code: 'picture-loading', at: img.currentSrc, data: {} }) as const),
          ...(fonts ? [{ code: 'fonts-loading', data: {} } as const] : []),
          ...(!quiet ? [...changed].slice(0, 5).map((at) => ({ code: 'keeps-changing', at, data: {} }) as const) : []),
        ];
        if (restless.length > 0) return { restless, loading: loadingSign(roots) };
      }
    }
  } finally {
    watcher.disconnect();
  }
}

/** Large pages pause for longer between two steps of building (ours): nothing up to 1,000 elements, 280 ms from 6,600 on. */
function pauseOfSize(): number {
  return Math.min(280, Math.max(0, (dom(document).getElementsByTagName('*').length - 1_000) / 20));
}

/** Parts that are rendered only in view (CSS Containment 2 §4) would be blank in a picture of the whole page. */
function showSkipped(): void {
  for (const el of dom(document).querySelectorAll<HTMLElement>('*')) {
    if (getComputedStyle(el).contentVisibility === 'auto') dom(el).style.setProperty('content-visibility', 'visible', 'important');
  }
}

/**
 * Lets lazy parts see themselves in view. Stops early on pages that grow as they are scrolled.
 * @param unless how the page stood when it was last scrolled through: not again, unless it was built on since
 */
export async function scrollThrough(
  { most, unless }: { readonly most: number; readonly unless: string | null },
  pace: Pace,
): Promise<{ grew: boolean; stands: string }> {
  const root = dom(document).scrollingElement ?? dom(document).documentElement;
  const before = dom(root).scrollHeight;
  const stood = standing();
  if (unless === stood) return { grew: false, stands: stood };
  showSkipped();
  const left = scrollX;
  for (let step = 1; step <= most; step += 1) {
    const y = step * innerHeight;
    if (y >= dom(root).scrollHeight) break;
    window.scrollTo({ top: y, left, behavior: 'instant' });
    await drawn(pace);
  }
  window.scrollTo({ top: 0, left: 0, behavior: 'instant' });
  await frame(pace);
  return { grew: dom(root).scrollHeight > before + innerHeight, stands: stood };
}

/** What grows as scripts build a page: its height, its elements, those in shadow trees too. */
function standing(): string {
  const roots = allRoots();
  const elements = roots.map((root) => dom(root).querySelectorAll('*').length).reduce((sum, each) => sum + each, 0);
  return `${dom(dom(document).documentElement).scrollHeight} ${roots.length} ${elements}`;
}

/** In a frame's callbacks it is not drawn yet: what is in view is looked up after them (HTML §8.1.7.3, update the rendering). */
async function drawn(pace: Pace): Promise<void> {
  await frame(pace);
  await turn(pace);
}

/** A frame, or a moment where the page gets none. */
function frame({ ticks }: Pace): Promise<void> {
  if (!ticks) return Promise.resolve();
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, 100);
    requestAnimationFrame(() => {
      clearTimeout(timer);
      resolve();
    });
  });
}

/**
 * Timers of the page that are due run before this one: a browser that is behind with its frames lets them wait.
 * Not one of 0 ms: it would run before those that became due in a long frame (measured).
 */
function turn({ ticks }: Pace): Promise<void> {
  if (!ticks) return Promise.resolve();
  return new Promise((resolve) => setTimeout(resolve, 1));
}

function within(deadline: number, what: Promise<unknown>): Promise<unknown> {
  return Promise.race([what, new Promise((resolve) => setTimeout(resolve, Math.max(0, deadline - performance.now())))]);
}

function nameOf(node: Node): string {
  const el = node instanceof Element ? node : dom(node).parentElement;
  if (el === null) return 'the document';
  return dom(el).id === '' ? dom(el).localName : `#${dom(el).id}`;
}
