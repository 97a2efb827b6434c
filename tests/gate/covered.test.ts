// How lists are read to their end, and how many findings an exemption covers. Derived: counted by hand.
import { describe, expect, test } from 'vitest';
import { coverExemptions } from '../../src/gate/cover-exemptions.ts';
import { readAll } from '../../src/gate/read-all.ts';
import type { Exemption } from '../../src/plan/configuration.ts';

test('a list that comes in slices is read slice after slice, each behind the one before', async () => {
  const slices = new Map<string | undefined, { readonly items: readonly string[]; readonly next: string | null }>([
    [undefined, { items: ['a', 'b'], next: 'b' }],
    ['b', { items: ['c'], next: 'c' }],
    ['c', { items: [], next: null }],
  ]);
  const asked: unknown[] = [];
  const all = await readAll((page) => {
    asked.push(page);
    return Promise.resolve(slices.get(page.after) ?? { items: ['lost'], next: null });
  });
  expect(all).toEqual(['a', 'b', 'c']);
  expect(asked).toEqual([{ limit: 1000 }, { limit: 1000, after: 'b' }, { limit: 1000, after: 'c' }]);
});

describe('an exemption covers', () => {
  const chart: Exemption = { selector: '.chart', why: 'drawn by the survey office' };
  const glow: Exemption = { ...chart, checks: ['glow', 'neon'] };
  const other: Exemption = { selector: '.lamp', why: 'must be seen' };
  const exempted = [
    { why: chart.why, check: 'glow', count: 2 },
    { why: chart.why, check: 'flipped', count: 3 },
    { why: 'something else', check: 'glow', count: 7 },
  ];
  type Run = Parameters<typeof coverExemptions>[1];
  const covers = async (
    exempt: readonly Exemption[],
    known: readonly Exemption[] | null,
    over: Partial<Run> = {},
  ): Promise<readonly (number | null)[]> => {
    const standard = known === null ? null : ({ level: 'AA', exempt: known } as const);
    const run: Run = { id: 'n1', narrowed: false, part: null, standard, ...over };
    const ledger = { exempted: (id: string) => Promise.resolve(id === 'n1' ? exempted : []) };
    return (await coverExemptions(ledger, run, exempt)).map((each) => each.covers);
  };

  test('what has its reason and one of its checks, in their order', async () => {
    expect(await covers([glow, chart, other], [glow, chart, other])).toEqual([2, 5, 0]);
    expect(
      await coverExemptions(
        { exempted: () => Promise.reject(new Error('nobody asks')) },
        { id: 'n1', narrowed: false, part: null, standard: null },
        [],
      ),
    ).toEqual([]);
  });

  test('nothing, as far as is known, where the run may not have seen it', async () => {
    expect(await covers([other], [])).toEqual([null]);
    expect(await covers([other], null)).toEqual([null]);
    expect(await covers([other], [other], { narrowed: true })).toEqual([null]);
    expect(await covers([other], [other], { part: { index: 1, of: 2 } })).toEqual([null]);
    expect(await covers([{ ...other, until: '2031-05-01' }], [other])).toEqual([null]);
    // what it does cover is known all the same
    expect(await covers([chart], null, { narrowed: true })).toEqual([5]);
  });
});
