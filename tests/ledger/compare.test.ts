// What came and went between two runs is counted in the database: exactly, however many findings there are.
import { expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import { draft, entry, planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

test('two runs of 12,000 findings each, and a night on which more than 5,000 are gone', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  const views = planOf(['tide-table', 'berth-form']).filter(({ theme }) => theme === 'dusk');
  const places = (from: number, to: number): readonly number[] => Array.from({ length: to - from }, (_, at) => from + at);
  const night = (id: string, from: number, to: number): Promise<unknown> =>
    storeNight(ledger, { run: { id, views }, findings: (view) => places(from, to).map((place) => entry(view, draft(place))) });
  const each = 12_000 / views.length;
  await night('n1', 0, each);
  // The first 2,600 places of each view are mended, as many others are new.
  await night('n2', 2_600, each + 2_600);
  const compared = await ledger.compareRuns('n1', 'n2', 60);
  // derived: per view 2,600 went and 2,600 came
  const sum = (side: 'before' | 'after' | 'fresh' | 'gone'): number => compared.rows.reduce((all, row) => all + row[side], 0);
  expect([sum('before'), sum('after'), sum('fresh'), sum('gone')]).toEqual([
    12_000,
    12_000,
    2_600 * views.length,
    2_600 * views.length,
  ]);
  expect(compared.fresh).toHaveLength(60);
  expect(compared.gone).toHaveLength(60);
  expect(compared.viewsInBoth).toBe(views.length);
  const gone = await ledger.countGone('n2');
  expect(gone.reduce((all, { count }) => all + count, 0)).toBe(2_600 * views.length);
  // Held against itself nothing differs.
  expect((await ledger.compareRuns('n2', 'n2', 60)).rows.every(({ fresh, gone: went }) => fresh === 0 && went === 0)).toBe(true);
});
