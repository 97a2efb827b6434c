import { describe, expect, test } from 'vitest';
import { healthyApp } from './healthy-app.ts';
import { paintApp } from './paint-app.ts';
import type { Plant, Planted } from './plant-faults.ts';
import {
  plantBuild,
  plantGap,
  plantGlow,
  plantNeon,
  plantOpacity,
  plantRamp,
  plantToken,
  plantUnthemed,
  plantUse,
} from './plant-faults.ts';
import { seeded } from './seeded.ts';
import { triageApp, withChange } from './triage-app.ts';

// Each expected value is derived: the fault was put in, so its layer and place are known.
const PLANTS = { plantRamp, plantToken, plantUse, plantUnthemed, plantOpacity, plantGap, plantBuild, plantGlow, plantNeon };
const NAMED: readonly (readonly [string, Plant])[] = Object.entries(PLANTS);
/** GLOAM_SEEDS asks for a longer run. */
const SEEDS = Number(process.env['GLOAM_SEEDS'] ?? 54);

function plantOf(at: number): readonly [string, Plant] {
  return NAMED[at % NAMED.length] ?? ['plantRamp', plantRamp];
}

/** What a cause says of its place, as far as the fault fixes it: for uses and styles that is the page's matter. */
function placeOf(planted: Planted): string {
  return planted.change === 'use' || planted.change === 'style' ? planted.change : `${planted.change} ${planted.of}`;
}

function found(triaged: ReturnType<typeof triageApp>): readonly string[] {
  return triaged.causes.map(({ cause }) => {
    const { repair, layer } = cause;
    if (repair === undefined) return layer;
    const place = repair.change === 'use' || repair.change === 'style' ? repair.change : `${repair.change} ${repair.of}`;
    return `${layer}: ${place}`;
  });
}

describe('one planted fault is one cause, with its layer and place', () => {
  test.each(Array.from({ length: SEEDS }, (_, at) => [at + 1, plantOf(at)[0], plantOf(at)[1]] as const))(
    'seed %i, %s',
    (seed, _name, plant) => {
      const random = seeded(seed);
      const { app, planted } = plant(healthyApp(random), random);
      const painted = paintApp(app);
      expect(painted.findings.length).toBeGreaterThan(0);
      const triaged = triageApp(app, painted);
      expect(found(triaged)).toEqual([`${planted.layer}: ${placeOf(planted)}`]);
      // Of the themes that share a declaration, those are named in which something painted depends on it.
      if (planted.themes.length > 0 && planted.change !== 'use') {
        const { themes = [], repair } = triaged.causes[0]?.cause ?? {};
        expect(planted.themes).toEqual(expect.arrayContaining([...(repair?.themes ?? [])]));
        expect(repair?.themes).toEqual(expect.arrayContaining([...themes]));
      }
      expect(triaged.causes[0]?.cause.findings).toBe(painted.findings.length);
    },
  );
});

describe('two planted faults are two causes', () => {
  // Pairs that do not meet at one place; where they do, one sentence about both is right too.
  const pairs = Array.from(
    { length: Math.ceil(SEEDS / 2) },
    (_, at) => [at + 1, plantOf(at), plantOf(at + 2 + (at % 5))] as const,
  ).filter(
    ([, one, other]) =>
      one[0] !== other[0] && !(`${one[0]} ${other[0]}`.includes('plantUse') && `${one[0]} ${other[0]}`.includes('plantOpacity')),
  );
  test.each(pairs.map(([seed, one, other]) => [seed, one[0], other[0], one[1], other[1]] as const))(
    'seed %i, %s and %s',
    (seed, _one, _other, first, second) => {
      const random = seeded(seed);
      const one = first(healthyApp(random), random);
      const two = second(one.app, random);
      const triaged = triageApp(two.app, paintApp(two.app));
      const expected = [one.planted, two.planted].map((planted) => `${planted.layer}: ${placeOf(planted)}`);
      expect([...found(triaged)].sort()).toEqual(expected.sort());
    },
  );
});

describe('a repair that is made mends what it promised, by the checks themselves', () => {
  const repairable = NAMED.filter(([name]) => name !== 'plantGap');
  test.each(repairable.flatMap(([name, plant]) => [1, 2, 3].map((seed) => [seed, name, plant] as const)))(
    'seed %i, %s',
    (seed, _name, plant) => {
      const random = seeded(seed);
      const { app } = plant(healthyApp(random), random);
      const painted = paintApp(app);
      const triaged = triageApp(app, painted);
      const [only] = triaged.causes;
      const mended = (only?.changes ?? []).reduce((now, change) => withChange(now, triaged, change), app);
      const after = paintApp(mended).findings;
      expect(after.map((finding) => finding.message)).toEqual([]);
      expect(only?.cause.repair?.fixes).toBe(painted.findings.length);
      expect(only?.cause.repair?.breaks).toBe(0);
    },
  );
});

test('the order of views and samples leaves no trace in the causes', () => {
  const random = seeded(7);
  const one = plantRamp(healthyApp(random), random);
  const { app } = plantUse(one.app, random);
  const painted = paintApp(app);
  const straight = triageApp(app, painted).causes.map(({ cause }) => cause);
  for (const seed of [1, 2, 3]) {
    const order = seeded(seed);
    const views = order.shuffled(painted.views).map(({ view, samples }) => ({ view, samples: order.shuffled(samples) }));
    expect(triageApp(app, painted, views).causes.map(({ cause }) => cause)).toEqual(straight);
  }
});

test('an app without faults has no causes', () => {
  const app = healthyApp(seeded(3));
  const painted = paintApp(app);
  expect(painted.findings).toEqual([]);
  expect(triageApp(app, painted).causes).toEqual([]);
});
