// A view in which all interactive elements are looked at in a state, a few passes one after the other.
import type { Walk } from '../../src/plan/walk.ts';
import type { Note } from '../../src/samples/note.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { SeenView } from './capture-view.ts';
import type { CaptureWishes } from './capture-wishes.ts';
import { captureView } from './capture-view.ts';
import { force } from '../theme/enter-state.ts';
import { focusSamples } from '../painted/focus-samples.ts';
import type { Tab } from '../tab/tab.ts';

/**
 * Each text is judged while the interactive element around it is in the state. The picture is that of the first pass.
 */
export async function walkView(
  tab: Tab,
  walk: Walk,
  wishes: CaptureWishes,
  restless: readonly Note[],
): Promise<SeenView['captured']> {
  const passes = await tab.call('planWalk', { kind: walk.kind });
  const samples: Sample[] = [];
  let first: SeenView['captured'] | null = null;
  try {
    for (let pass = 0; pass < passes; pass += 1) {
      // Each pass is a view to itself, as to time.
      if (pass > 0) tab.beginView();
      const { targets, held } = await tab.call('holdPass', { pass });
      const leave = await force(tab, walk.kind, targets, held);
      const { captured, painted } = await captureView(tab, wishes, restless);
      await leave();
      first ??= captured;
      samples.push(...captured.samples.filter((sample) => sample.kind === 'text'));
      if (walk.kind === 'focus' && painted !== null) samples.push(...(await focusSamples(tab, painted)));
    }
    first ??= { ...(await captureView(tab, wishes, restless)).captured, notes: [{ code: 'nothing-interactive', data: {} }] };
  } finally {
    if (!tab.dead) await tab.call('endWalk', null);
  }
  return { ...first, samples };
}
