// Waits until a page rests after loading, or after its theme or state changed.
import { setTimeout as pause } from 'node:timers/promises';
import type { Note } from '../../src/samples/note.ts';
import { revealClosedTrees } from '../tab/closed-trees.ts';
import type { Tab } from '../tab/tab.ts';

/** After loading: a page that changes nothing for this long has built itself (ours; hydration pauses are shorter). */
const QUIET_AFTER_LOAD_MS = 120;
/** After a change of theme: scripts that listen for it run in the next frames. */
const QUIET_AFTER_CHANGE_MS = 34;
/** An answer that takes longer is a stream or a poll, not part of the page (ours), unless it is one that a load waits for. */
const STREAM_AFTER_MS = 2_500;
const SCROLL_STEPS = 40;

/**
 * @param isTold something else says when the page is there: what the app has not begun to answer is not waited for
 * @returns what did not come to rest; empty when everything did
 */
export async function settleAfterLoad(tab: Tab, { isTold = false } = {}): Promise<readonly Note[]> {
  const deadline = performance.now() + tab.limits.settleMs;
  const loaded = await tab.guard(
    'loading',
    tab.page.waitForLoadState('load', { timeout: tab.limits.settleMs }).then(
      () => true,
      () => false,
    ),
    tab.limits.settleMs + 5_000,
  );
  await revealClosedTrees(tab);
  await tab.call('freeze', { on: true, ticks: tab.ticks });
  const first = await tab.call('scrollThrough', { most: SCROLL_STEPS, unless: null });
  let restless = await restUntil(tab, { quietMs: QUIET_AFTER_LOAD_MS, grows: true, waits: !isTold }, deadline);
  let { grew } = first;
  // What scripts built since has not been in view.
  if (!grew && restless.length === 0) {
    const then = await tab.call('scrollThrough', { most: SCROLL_STEPS, unless: first.stands });
    ({ grew } = then);
    if (then.stands !== first.stands)
      restless = await restUntil(tab, { quietMs: QUIET_AFTER_CHANGE_MS, grows: false, waits: !isTold }, deadline);
  }
  return [
    ...(loaded ? [] : [{ code: 'never-loaded', data: {} } as const]),
    ...(grew ? [{ code: 'grows', data: {} } as const] : []),
    ...restless,
  ];
}

export async function settleAfterChange(tab: Tab): Promise<readonly Note[]> {
  return restUntil(tab, { quietMs: QUIET_AFTER_CHANGE_MS, grows: false, waits: false }, performance.now() + tab.limits.settleMs);
}

/** Answers that came while the page was watched may have more behind them; one that asks for ever is not waited for (ours). */
const MOST_ANSWER_ROUNDS = 2;

async function restUntil(
  tab: Tab,
  quiet: { readonly quietMs: number; readonly grows: boolean; readonly waits: boolean },
  deadline: number,
): Promise<readonly Note[]> {
  let { quietMs } = quiet;
  for (let rounds = 0; ;) {
    // Without timers the page cannot wait: it is asked again and again instead.
    const withinMs = tab.ticks ? Math.max(250, deadline - performance.now()) : quietMs * 2;
    const { answers } = tab.traffic;
    const asked = { quietMs, grows: quiet.grows && quietMs === quiet.quietMs, withinMs };
    const { restless, loading } = await tab.call('rest', asked, withinMs + tab.limits.callMs);
    const late = performance.now() > deadline;
    // Behind a placeholder no answer is taken for a stream, unless it was waited for in vain.
    const behind = loading === null ? [] : tab.traffic.openFor(Infinity).filter((url) => !tab.traffic.isHopeless(url));
    const open = [...new Set([...tab.traffic.openFor(STREAM_AFTER_MS), ...behind])];
    const mute = quiet.waits ? tab.traffic.unanswered(new URL(tab.url).origin) : [];
    const isAwaited = mute.some((url) => !tab.traffic.isHopeless(url));
    const isAnswered = tab.traffic.answers !== answers && rounds < MOST_ANSWER_ROUNDS;
    const isStill = tab.ticks || restless.length === 0;
    if (late || (open.length === 0 && !isAwaited && !isAnswered && isStill)) {
      tab.traffic.giveUp(mute);
      const others = open.filter((url) => !mute.includes(url));
      return [
        ...restless,
        ...[...new Set(mute)].slice(0, 3).map((at) => ({ code: 'unanswered', at, data: {} }) as const),
        ...others.slice(0, 3).map((at) => ({ code: 'no-answer', at, data: {} }) as const),
      ];
    }
    if (open.length === 0 && !isAwaited && isStill) {
      rounds += 1;
      quietMs = QUIET_AFTER_CHANGE_MS;
    } else await pause(15);
  }
}
