import { describe, expect, test } from 'vitest';
import { healthyApp } from './healthy-app.ts';
import { paintApp } from './paint-app.ts';
import { KINDS, plantAll, plantOne } from './plant-faults.ts';
import { scorePlants, sumOf } from './score-plants.ts';
import { seeded } from './seeded.ts';
import { triageApp, withChange } from './triage-app.ts';

// Each expected value is derived: the fault was put in, so its layer and place are known, and what a designer would do is said at its kind.

/** GLOAM_SEED starts elsewhere, GLOAM_SEEDS asks for more of each kind. */
const FIRST = Number(process.env['GLOAM_SEED'] ?? 1);
const SEEDS = Number(process.env['GLOAM_SEEDS'] ?? 2);

const shown = (app: Parameters<typeof paintApp>[0]): ReturnType<typeof paintApp>['findings'] =>
  paintApp(app).findings.filter(({ status }) => status !== 'exempt');

describe('one planted fault is one cause, in its layer, by its name, with the repair a designer would choose', () => {
  test.each(KINDS)('%s', (kind) => {
    const scores = sumOf(Array.from({ length: SEEDS }, (_, at) => scorePlants([kind], FIRST + at)));
    const { faults } = scores;
    expect(faults, 'a fault that does not show proves nothing').toBeGreaterThan(0);
    expect({ ...scores, notes: scores.notes.join('\n') }).toEqual({
      faults,
      causes: faults,
      layer: faults,
      named: faults,
      repair: faults,
      tokenFaults: 0,
      notes: '',
    });
  });
});

test('two faults on one chain are told apart', { timeout: 120_000 }, () => {
  const pairs = KINDS.flatMap((one, at) => KINDS.slice(at + 1).map((other) => [one, other] as const));
  // Each pair comes in turn; all of them with GLOAM_SEEDS from 16.
  const least = Math.max(1, Math.round(16 / SEEDS));
  const asked = pairs.filter((_, at) => (at + FIRST) % least === 0);
  const scores = sumOf(asked.map((pair, at) => scorePlants(pair, FIRST * 100 + at)));
  const share = (count: number): number => count / scores.faults;
  const notes = scores.notes.join('\n');
  expect(share(scores.layer), notes).toBeGreaterThanOrEqual(0.97);
  expect(share(scores.named), notes).toBeGreaterThanOrEqual(0.97);
  expect(share(scores.repair), notes).toBeGreaterThanOrEqual(0.92);
  expect(share(scores.causes), notes).toBeLessThanOrEqual(1.1);
  expect(scores.tokenFaults, notes).toBe(0);
});

// Once told wrongly: a step was given the value that suits another wrong one under it; a chart’s label was proposed for a quiet text.
test.each([
  [['surface step', 'two steps'], 702],
  [['surface step', 'two steps'], 39_102],
  [['frozen ink'], 114],
] as const)('%j, seed %i', (kinds, seed) => {
  const { faults, notes, ...scores } = scorePlants(kinds, seed);
  expect({ ...scores, notes: notes.join('\n') }).toEqual({
    ...{ causes: faults, layer: faults, named: faults, repair: faults, tokenFaults: 0, notes: '' },
  });
});

describe('a repair that is made mends what it promised, by the checks themselves', () => {
  const repairable = KINDS.filter((kind) => kind !== 'gap' && kind !== 'two steps');
  test.each(repairable)('%s', (kind) => {
    const { app } = plantOne(kind, FIRST);
    const painted = paintApp(app);
    const triaged = triageApp(app, painted);
    const [only] = triaged.causes;
    const mended = (only?.changes ?? []).reduce((now, change) => withChange(now, triaged, change), app);
    expect(shown(mended).map((finding) => finding.message)).toEqual([]);
    expect(only?.cause.repair?.fixes).toBe(shown(app).length);
    expect(only?.cause.repair?.breaks).toBe(0);
    expect(only?.cause.findings).toBe(shown(app).length);
  });
});

test('the order of views and samples leaves no trace in the causes', () => {
  const { app } = plantAll(['ink step', 'grey'], 7);
  const painted = paintApp(app);
  const straight = triageApp(app, painted).causes.map(({ cause }) => cause);
  for (const seed of [1, 2, 3]) {
    const order = seeded(seed);
    const views = order.shuffled(painted.views).map(({ view, samples }) => ({ view, samples: order.shuffled(samples) }));
    expect(triageApp(app, painted, views).causes.map(({ cause }) => cause)).toEqual(straight);
  }
});

test('an app without faults has no causes; what is exempt gets none', () => {
  const app = healthyApp(seeded(3));
  expect(shown(app)).toEqual([]);
  expect(triageApp(app, paintApp(app)).causes).toEqual([]);
});
