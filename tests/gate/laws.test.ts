// Laws of the verdict, tried on seeded random runs.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { GateFinding } from '../../src/gate/facts.ts';
import { CHECK_IDS } from '../../src/checks/table.ts';
import { LEVELS } from '../../src/samples/finding.ts';
import { cause, facts, finding, judge } from './facts.ts';

const SEED = 20310409;
const CAUSES = ['c1', 'c2', 'c3', 'c4'];

const someFindings = fc
  .array(
    fc.record({
      check: fc.constantFrom(...CHECK_IDS.slice(0, 3)),
      level: fc.constantFrom(...LEVELS),
      status: fc.constantFrom('new', 'known', 'exempt'),
      cause: fc.constantFrom(null, ...CAUSES),
    }),
    { maxLength: 25 },
  )
  .map((list) => list.map((over, i) => finding(`f${String(i)}`, over)));

const count = fc.nat({ max: 6 });

function judged(list: readonly GateFinding[], most: number): ReturnType<typeof judge> {
  return judge(facts({ findings: list, causes: CAUSES.map((id) => cause(id)) }), {
    criteria: { most: [{ check: '*', count: most }] },
    configured: true,
  });
}

describe('laws of the verdict', () => {
  test('the order of findings changes nothing but which loose ones are named', () => {
    fc.assert(
      fc.property(someFindings, count, (list, most) => {
        const outline = (v: ReturnType<typeof judge>): unknown =>
          v.criteria.map(({ id, met, found, distance }) => [id, met, found, distance]);
        expect(outline(judged([...list].reverse(), most))).toEqual(outline(judged(list, most)));
      }),
      { seed: SEED },
    );
  });

  test('mending the least that is named is enough, and no smaller number of causes and findings is', () => {
    fc.assert(
      fc.property(someFindings, count, (list, most) => {
        const criterion = judged(list, most).criteria.find((c) => c.id === '*');
        if (criterion === undefined || criterion.met) return;
        const open = list.filter((f) => f.status !== 'exempt');
        const sizes = [
          ...CAUSES.map((id) => open.filter((f) => f.cause === id).length),
          ...open.filter((f) => f.cause === null).map(() => 1),
        ].sort((a, b) => b - a);
        const worth = (steps: number): number => sizes.slice(0, steps).reduce((sum, n) => sum + n, 0);
        expect(open.length - worth(criterion.distance)).toBeLessThanOrEqual(most);
        expect(open.length - worth(criterion.distance - 1)).toBeGreaterThan(most);
      }),
      { seed: SEED },
    );
  });

  test('a finding less never turns yes into no', () => {
    fc.assert(
      fc.property(someFindings, count, (list, most) => {
        if (!judged(list, most).may) return;
        for (let i = 0; i < list.length; i += 1) expect(judged(list.toSpliced(i, 1), most).may).toBe(true);
      }),
      { seed: SEED },
    );
  });
});
