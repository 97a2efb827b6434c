// Brings a page into a state and out of it again: pointer or keyboard on chosen elements, a click, a script.
import { placeNotFound, stateNotForced } from '../../src/errors/capture-errors.ts';
import type { State } from '../../src/plan/configuration.ts';
import { runScript } from './put-theme-on.ts';
import { settleAfterChange } from './settle.ts';
import type { Tab } from '../tab/tab.ts';

/** Pseudo-classes that hold on the element and, but for `:focus` and `:focus-visible`, on all it lies in (Selectors 4 §9, §10). */
const FORCED = {
  hover: ['hover'],
  focus: ['focus', 'focus-visible', 'focus-within'],
  active: ['active', 'hover'],
} as const;
const FORCED_ABOVE = { hover: ['hover'], focus: ['focus-within'], active: ['active', 'hover'] } as const;

/** @returns takes the page back to how it was; does nothing after clicks and scripts */
export async function enterState(tab: Tab, state: State): Promise<() => Promise<void>> {
  switch (state.kind) {
    case 'rest':
      return () => Promise.resolve();
    case 'hover':
    case 'focus':
    case 'active': {
      const { targets, held } = await tab.call('hold', { selector: state.selector });
      if (targets === 0) throw placeNotFound(tab.url, `state "${state.name}"`, state.selector);
      return force(tab, state.kind, targets, held);
    }
    case 'click': {
      const { targets } = await tab.call('hold', { selector: state.selector });
      if (targets === 0) throw placeNotFound(tab.url, `state "${state.name}"`, state.selector);
      await click(tab);
      return () => Promise.resolve();
    }
    case 'script':
      await runScript(tab, state.file);
      await settleAfterChange(tab);
      return () => Promise.resolve();
  }
}

/** Pseudo-classes by CDP: they hold whatever lies above the element, and on many elements at once. */
export async function force(
  tab: Tab,
  kind: 'hover' | 'focus' | 'active',
  targets: number,
  held: number,
): Promise<() => Promise<void>> {
  if (!tab.driver.can.has('forced-states')) throw stateNotForced(tab.url, kind);
  const nodes = await tab.world.heldNodes(held);
  const styles = await tab.guard('reading styles', tab.driver.openStyles());
  await tab.call('act', { kind });
  const forced = nodes.map((node, index) =>
    styles.force(node, index < targets ? FORCED[kind] : FORCED_ABOVE[kind]).catch(() => undefined),
  );
  await tab.guard('forcing pseudo-classes', Promise.all(forced));
  await settleAfterChange(tab);
  return async () => {
    await tab.call('undoAct', { kind });
    await tab.guard('leaving styles', styles.close());
    await settleAfterChange(tab);
  };
}

async function click(tab: Tab): Promise<void> {
  // What waits for the end of a transition must get it.
  await tab.call('freeze', { on: false });
  const point = await restingPoint(tab);
  if (point !== null) {
    await tab.call('watchPress', null);
    await tab.guard('clicking', tab.driver.clickAt(point));
  }
  if (point === null || !(await tab.call('wasPressed', null))) await tab.call('clickByScript', null);
  await settleAfterChange(tab);
  await tab.call('toTop', null);
  await settleAfterChange(tab);
}

/** Times that a page may move what is to be clicked while it is scrolled to (ours). */
const MOST_MOVES = 4;

/** Where to click once nothing moves any more: what comes into view may grow, and push the rest away. */
async function restingPoint(tab: Tab): Promise<{ readonly x: number; readonly y: number } | null> {
  let point = await tab.call('clickPoint', null);
  for (let moves = 0; moves < MOST_MOVES; moves += 1) {
    await settleAfterChange(tab);
    const now = await tab.call('clickPoint', null);
    if (now?.x === point?.x && now?.y === point?.y) return now;
    point = now;
  }
  return point;
}
