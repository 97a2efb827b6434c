// All kinds of planted faults by name, alone and two on one chain.
import type { App } from './app-model.ts';
import { healthyApp } from './healthy-app.ts';
import type { Plant, Plantation, Planted } from './plant.ts';
import { aimAt } from './plant.ts';
import { plantFrozenInk, plantGrey, plantHover, plantOpacity, plantStrangeUse, plantUnthemed } from './plant-in-pages.ts';
import { plantInkStep, plantNeon, plantSurfaceStep, plantTwoSteps } from './plant-in-ramps.ts';
import { plantAlias, plantBuild, plantGap, plantGlow, plantHue, plantOverride, plantRing, plantStay } from './plant-in-tokens.ts';
import { seeded } from './seeded.ts';

export const PLANTS = {
  'ink step': plantInkStep,
  'surface step': plantSurfaceStep,
  'two steps': plantTwoSteps,
  neon: plantNeon,
  alias: plantAlias,
  override: plantOverride,
  stay: plantStay,
  hue: plantHue,
  ring: plantRing,
  glow: plantGlow,
  build: plantBuild,
  gap: plantGap,
  'strange use': plantStrangeUse,
  grey: plantGrey,
  'frozen ink': plantFrozenInk,
  unthemed: plantUnthemed,
  hover: plantHover,
  opacity: plantOpacity,
} as const satisfies Record<string, Plant>;

export type Kind = keyof typeof PLANTS;

export const KINDS: readonly Kind[] = Object.keys(PLANTS).filter((name): name is Kind => Object.hasOwn(PLANTS, name));

/** One app, and the faults planted in it, each also alone: what shows only alone is hidden by the others. */
export interface Planting extends Plantation {
  readonly healthy: App;
  readonly alone: readonly Plantation[];
}

/** @param kinds one or two; all aim at the same chain. What changes the same thing twice is planted once: `planted` then lists the last. */
export function plantAll(kinds: readonly Kind[], seed: number): Planting {
  const healthy = healthyApp(seeded(seed));
  const aim = aimAt(healthy, seeded(seed + 7919));
  const make = (kind: Kind, app: App): Plantation => PLANTS[kind](app, seeded(seed * 31 + KINDS.indexOf(kind)), aim);
  let app: App = healthy;
  const planted: Planted[] = [];
  for (const kind of kinds) {
    const next = make(kind, app);
    app = next.app;
    planted.push(...next.planted);
  }
  return {
    healthy,
    app,
    planted: planted.filter((one, at) => !planted.slice(at + 1).some((other) => other.of === one.of)),
    alone: kinds.map((kind) => make(kind, healthy)),
  };
}

/** One fault of this kind. */
export function plantOne(kind: Kind, seed: number): { readonly app: App; readonly planted: Planted } {
  const { app, planted } = plantAll([kind], seed);
  const [only] = planted;
  if (only === undefined) throw new RangeError(`nothing was planted for ${kind}`);
  return { app, planted: only };
}
