// What candidates are made from, out of a world.
import type { Ground } from './candidate.ts';
import { openRampTrend } from '../tokens/ramp-trend.ts';
import { openRampWatch } from '../tokens/ramp-watch.ts';
import { openSiblingSteps } from '../tokens/sibling-steps.ts';
import { openUsage } from '../cases/usage.ts';
import type { World } from '../world.ts';

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
