// What candidates are made from, out of a world.
import type { Ground } from './candidate.ts';
import { openRampTrend } from './ramp-trend.ts';
import { openRampWatch } from './ramp-watch.ts';
import { openSiblingSteps } from './sibling-steps.ts';
import { openUsage } from './usage.ts';
import type { World } from './world.ts';

export function openGround(world: World, exempt: ReadonlySet<number>): Ground {
  const { index } = world;
  const trend = openRampTrend(index);
  return {
    world,
    trend,
    ramps: openRampWatch(index, trend),
    siblings: openSiblingSteps(index),
    usage: openUsage(world, exempt),
    exempt,
  };
}
