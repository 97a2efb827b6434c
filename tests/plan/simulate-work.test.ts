// Workers that share groups, on paper. Expected values: derived, by hand.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { simulateWork } from '../../src/plan/simulate-work.ts';

const groups = (...ms: readonly number[]) => ms.map((tookMs) => ({ tookMs, expectedMs: tookMs }));

test('the longest first leaves a shorter tail than the order of the plan', () => {
  // As planned: 2, 2, 2 and 6 on two workers end at 4 and 8. Longest first: 6 and 2 + 2 + 2.
  const how = { workers: 2, handOverMs: 0 };
  expect(simulateWork(groups(2, 2, 2, 6), { ...how, order: 'as-planned' })).toEqual({
    spanMs: 8,
    idealMs: 6,
    idleShare: 0.25,
    tailMs: 4,
  });
  expect(simulateWork(groups(2, 2, 2, 6), { ...how, order: 'longest-first' })).toEqual({
    spanMs: 6,
    idealMs: 6,
    idleShare: 0,
    tailMs: 0,
  });
});

test('what is expected decides the order, what is taken the time; handing over costs each group its share', () => {
  const surprise = [
    { expectedMs: 5, tookMs: 5 },
    { expectedMs: 1, tookMs: 9 },
  ];
  expect(simulateWork(surprise, { workers: 1, handOverMs: 3, order: 'longest-first' })).toMatchObject({
    spanMs: 20,
    idleShare: 0.3,
  });
});

test('law: never shorter than the ideal, never longer than the ideal and the longest group, no worker idle before the tail', () => {
  fc.assert(
    fc.property(
      fc.array(fc.record({ expectedMs: fc.integer({ min: 0, max: 90 }), tookMs: fc.integer({ min: 1, max: 90 }) }), {
        minLength: 1,
      }),
      fc.integer({ min: 1, max: 9 }),
      (list, workers) => {
        const { spanMs, idealMs, idleShare, tailMs } = simulateWork(list, { workers, handOverMs: 0, order: 'longest-first' });
        const longest = Math.max(...list.map(({ tookMs }) => tookMs));
        // Graham 1969, "Bounds on multiprocessing timing anomalies": any list ends within the sum over the workers and one job.
        expect(spanMs).toBeGreaterThanOrEqual(idealMs);
        expect(spanMs).toBeLessThanOrEqual(list.reduce((sum, { tookMs }) => sum + tookMs, 0) / workers + longest);
        expect(tailMs).toBeLessThanOrEqual(longest);
        expect(idleShare).toBeLessThanOrEqual((tailMs * (workers - 1)) / (workers * spanMs) + 1e-9);
      },
    ),
    { seed: 20261128 },
  );
});
