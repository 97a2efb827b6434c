// Brings a page into a state and out of it again: pointer or keyboard on chosen elements, a click, a script.
import { placeNotFound } from '../../src/errors/capture-errors.ts';
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
  const nodes = await tab.world.heldNodes(held);
  await tab.guard('reading styles', tab.cdp.send('CSS.enable'));
  await tab.call('act', { kind });
  await forceEach(tab, nodes, (index) => (index < targets ? FORCED[kind] : FORCED_ABOVE[kind]));
  await settleAfterChange(tab);
  return async () => {
    await tab.call('undoAct', { kind });
    await forceEach(tab, nodes, () => []);
    await tab.guard('leaving styles', tab.cdp.send('CSS.disable'));
    await settleAfterChange(tab);
  };
}

async function forceEach(tab: Tab, nodes: readonly number[], classes: (index: number) => readonly string[]): Promise<void> {
  const calls = nodes.map((nodeId, index) =>
    tab.cdp.send('CSS.forcePseudoState', { nodeId, forcedPseudoClasses: [...classes(index)] }).catch(() => undefined),
  );
  await tab.guard('forcing pseudo-classes', Promise.all(calls));
}

async function click(tab: Tab): Promise<void> {
  // What waits for the end of a transition must get it.
  await tab.call('freeze', { on: false });
  const point = await tab.call('clickPoint', null);
  if (point !== null) {
    const at = { ...point, button: 'left', clickCount: 1 } as const;
    await tab.guard(
      'clicking',
      (async () => {
        await tab.cdp.send('Input.dispatchMouseEvent', { ...at, type: 'mouseMoved', button: 'none' });
        await tab.cdp.send('Input.dispatchMouseEvent', { ...at, type: 'mousePressed' });
        await tab.cdp.send('Input.dispatchMouseEvent', { ...at, type: 'mouseReleased' });
        await tab.cdp.send('Input.dispatchMouseEvent', { x: -1, y: -1, type: 'mouseMoved', button: 'none' });
      })(),
    );
  }
  await settleAfterChange(tab);
  await tab.call('toTop', null);
  await settleAfterChange(tab);
}
