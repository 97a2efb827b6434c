import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import type { FindingFilter } from '../../src/ledger/records.ts';
import type { Finding } from '../../src/samples/finding.ts';
import type { View } from '../../src/samples/view.ts';
import { draft, entry, failed, planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

describe('the history of a finding', () => {
  test('new at first, then known since that night; gone when it is mended; new again when it comes back', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const views = planOf(['tide-table']);
    const night = async (id: string, places: readonly number[]): Promise<readonly string[]> => {
      await storeNight(ledger, {
        run: { id, views },
        findings: (view) => (view.theme === 'dusk' ? places.map((place) => entry(view, draft(place))) : []),
      });
      const { items } = await ledger.findings(id);
      return items.map((finding) => `${finding.key} ${finding.status} ${finding.since}`).sort();
    };
    expect(await night('n1', [1])).toEqual(['reading-1 new n1']);
    expect(await night('n2', [1, 2])).toEqual(['reading-1 known n1', 'reading-2 new n2']);
    expect(await ledger.gone('n2')).toEqual([]);
    expect(await night('n3', [2])).toEqual(['reading-2 known n2']);
    expect(await ledger.gone('n3')).toMatchObject([{ key: 'reading-1', since: 'n1', lastSeen: 'n2' }]);
    expect(await night('n4', [1, 2])).toEqual(['reading-1 new n4', 'reading-2 known n2']);
    // Later nights do not rewrite what an earlier one said.
    expect((await ledger.findings('n2', { status: 'new' })).items.map((finding) => finding.key)).toEqual(['reading-2']);
  });

  test('a night in which the view failed or was left out makes nothing new', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const views = planOf(['tide-table']);
    await storeNight(ledger, { run: { id: 'n1', views } });
    await storeNight(ledger, { run: { id: 'n2', views }, result: failed });
    await storeNight(ledger, { run: { id: 'n3', views: planOf(['alarm-log']), narrowed: true } });
    await storeNight(ledger, { run: { id: 'n4', views } });
    const { items } = await ledger.findings('n4');
    expect(items.map((finding) => [finding.status, finding.since])).toEqual([
      ['known', 'n1'],
      ['known', 'n1'],
    ]);
    expect(await ledger.gone('n2')).toEqual([]);
  });

  test('each label has its own line of history', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const views = planOf(['tide-table']);
    const one = (place: number) => (view: View) => [entry(view, draft(place))];
    await storeNight(ledger, { run: { id: 'n1', views, label: 'main' }, findings: one(1) });
    await storeNight(ledger, { run: { id: 'b1', views, label: 'new-pier' }, findings: one(2) });
    await storeNight(ledger, { run: { id: 'n2', views, label: 'main' }, findings: one(1) });
    expect((await ledger.run('n2')).previous).toBe('n1');
    expect(await ledger.countFindings('n2', { status: 'known' })).toBe(2);
    // A label without a past is held against the latest run of any.
    expect((await ledger.run('b1')).previous).toBe('n1');
  });

  test('an exempt finding stays exempt, with owner, and is counted as such', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const findings = (view: View) => [
      entry(view, draft(1), { owner: 'tables', exempt: 'old gauge, goes in May' }),
      entry(view, draft(2), { owner: 'alarms' }),
    ];
    await storeNight(ledger, { run: { views: planOf(['tide-table']) }, findings });
    const { items } = await ledger.findings('night-1', { owner: 'tables' });
    expect(items.map(({ status, owner }) => ({ status, owner }))).toEqual(
      [1, 2].map(() => ({ status: 'exempt', owner: 'tables' })),
    );
  });
});

describe('lists of findings', () => {
  // Every view gets its own mix, so that each filter cuts somewhere.
  const LEVEL = { 0: 'error', 1: 'warning', 2: 'note' } as const;
  const findings = (view: View) =>
    Array.from({ length: view.id.length % 7 }, (_, place) =>
      entry(
        view,
        draft(place, {
          check: place % 2 === 0 ? 'glow' : 'neon',
          level: LEVEL[place % 3 === 0 ? 0 : place % 3 === 1 ? 1 : 2],
        }),
        {
          ...(place % 2 === 0 ? { owner: 'tables' } : {}),
          ...(place % 4 === 3 ? { exempt: 'agreed' } : {}),
        },
      ),
    );

  test('pages joined are the whole list, whatever their size; filters agree with filtering by hand, counts with both', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' }, findings: (view) => findings(view).slice(1) });
    const id = await storeNight(ledger, { run: { id: 'n2' }, findings });
    const { items: all } = await ledger.findings(id, { limit: 1000 });
    expect(all.length).toBeGreaterThan(15);

    const filters = fc.record(
      {
        check: fc.constantFrom<FindingFilter['check'][]>('glow', 'neon', ['glow', 'neon'], 'drift'),
        level: fc.constantFrom<FindingFilter['level'][]>('error', ['warning', 'note']),
        status: fc.constantFrom<FindingFilter['status'][]>('new', 'known', 'exempt', ['new', 'exempt']),
        theme: fc.constantFrom('dusk', 'noon', 'stark'),
        page: fc.constantFrom<string | string[]>('tide-table', ['alarm-log', 'berth-form']),
        owner: fc.constantFrom('tables', 'nobody'),
      },
      { requiredKeys: [] },
    );
    const chosen = (value: string | undefined, choice: string | readonly string[] | undefined): boolean =>
      choice === undefined || (value !== undefined && [choice].flat().includes(value));
    await fc.assert(
      fc.asyncProperty(filters, fc.integer({ min: 1, max: 9 }), async (some, limit) => {
        const filter = Object.fromEntries(Object.entries(some).filter(([, value]) => value !== undefined));
        const expected = all.filter(
          (finding) =>
            chosen(finding.check, some.check) &&
            chosen(finding.level, some.level) &&
            chosen(finding.status, some.status) &&
            chosen(finding.theme, some.theme) &&
            chosen(finding.page, some.page) &&
            chosen(finding.owner, some.owner),
        );
        const found: Finding[] = [];
        let after: string | null = null;
        do {
          const slice: Awaited<ReturnType<typeof ledger.findings>> = await ledger.findings(id, {
            ...filter,
            limit,
            ...(after === null ? {} : { after }),
          });
          expect(slice.items.length).toBeLessThanOrEqual(limit);
          found.push(...slice.items);
          after = slice.next;
        } while (after !== null);
        expect(found).toEqual(expected);
        expect(await ledger.countFindings(id, filter)).toBe(expected.length);
        const cells = await ledger.counts(id, filter);
        expect(cells.reduce((sum, cell) => sum + cell.count, 0)).toBe(expected.length);
        for (const cell of cells) {
          const { count, ...where } = cell;
          expect(await ledger.countFindings(id, { ...where })).toBe(count);
        }
      }),
      { numRuns: 60 },
    );
  });

  test('a cursor that no page handed out is refused', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const id = await storeNight(ledger, { run: {} });
    await expect(ledger.findings(id, { after: 'high-tide' })).rejects.toMatchObject({ code: 'cursor-unreadable' });
  });

  test('a finding is found by its id, in the runs that have it', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const id = await storeNight(ledger, { run: {} });
    const { items } = await ledger.findings(id);
    for (const finding of items) expect(await ledger.finding(id, finding.id)).toEqual(finding);
    expect(await ledger.finding(id, '0123456789abcdef')).toBeUndefined();
    const ids = [...items, ...(await ledger.causes(id))].map((one) => one.id);
    for (const one of ids) {
      const start = one.slice(0, 3);
      const begin = [...new Set(ids.filter((each) => each.startsWith(start)))].toSorted();
      expect(await ledger.idsFrom(id, start, ids.length)).toEqual(begin);
    }
    // One of each.
    expect((await ledger.idsFrom(id, '', 1)).length).toBeLessThanOrEqual(2);
  });
});
