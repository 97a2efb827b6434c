// A run whose leader was lost is led on.
import { setTimeout as pause } from 'node:timers/promises';
import { runLed, workRefused } from '../../errors/queue-errors.ts';
import type { Lead, WorkQueue } from '../../queue/work-queue.ts';
import type { SharedStore } from './shared-store.ts';
import { unlikeMachines } from './unlike-machines.ts';
import { asPlan } from './work-plan.ts';
import type { WorkPlan } from './work-plan.ts';

/** The database finds out that a process is gone within seconds: so long the lead of one that was killed may still seem to be held. */
const LAPSE_MS = 15_000;
const AGAIN_MS = 300;

/** A run that lost whoever led it, or null where none was announced. @throws run-led, work-refused */
export async function takeUp(
  queue: WorkQueue,
  store: SharedStore,
  mine: WorkPlan,
  how: { readonly signal: AbortSignal; readonly onWait: (run: string) => void },
): Promise<{ readonly run: string; readonly lead: Lead; readonly plan: WorkPlan } | null> {
  const ledger = await store.ledger();
  let led: string | null = null;
  const end = performance.now() + LAPSE_MS;
  let isTold = false;
  const leadOf = async (run: string, isWanted: boolean): Promise<Lead | null> => {
    for (;;) {
      const lead = await queue.lead(run);
      if (lead !== null || !isWanted || performance.now() > end) return lead;
      if (!isTold) how.onWait(run);
      isTold = true;
      await pause(AGAIN_MS, undefined, { signal: how.signal });
    }
  };
  for (const announced of [...(await queue.announced())].reverse()) {
    const state = await ledger.run(announced.run).then(
      (row) => row.state,
      () => null,
    );
    const lead = await leadOf(announced.run, state === 'running');
    if (lead === null) {
      led ??= announced.run;
      continue;
    }
    const plan = asPlan(announced.plan);
    if (state === 'running' && plan !== null) {
      const differences = unlikeMachines(mine.machine, plan.machine);
      if (differences.length > 0) throw workRefused(announced.run, differences);
      return { run: announced.run, lead, plan };
    }
    // Its run is over, and whoever led it did not come to take it off.
    await queue.retire(announced.run);
    await lead.release();
  }
  if (led !== null) throw runLed(led);
  return null;
}
