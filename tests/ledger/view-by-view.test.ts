// What a run is counted against: each of its views against the newest earlier run that judged that very view.
import { describe, expect, test } from 'vitest';
import { BEFORE } from '../../src/ledger/read/base-views.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { View } from '../../src/samples/view.ts';
import { judgeRun } from '../../src/gate/judge-run.ts';
import { captured, draft, entry, failed, newRun, planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const at = (places: readonly number[]) => (view: View) =>
  view.theme === 'dusk' ? places.map((place) => entry(view, draft(place))) : [];

/** n1 saw all four pages, n2 one of them. */
async function narrowedBetween(ledger: Ledger, second: readonly number[] = [1, 2]): Promise<void> {
  await storeNight(ledger, { run: { id: 'n1' }, findings: at([1, 2]) });
  await storeNight(ledger, { run: { id: 'n2', views: planOf(['tide-table']), narrowed: true }, findings: at(second) });
}

describe('after a run that was narrowed', () => {
  test('a night without changes has nothing new and nothing gone', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await narrowedBetween(ledger);
    await storeNight(ledger, { run: { id: 'n3' }, findings: at([1, 2]) });
    // derived: four pages of two findings each
    expect(await ledger.countAgainst('n3', BEFORE)).toEqual({ runs: ['n2', 'n1'], fresh: 0, unseen: 0, known: 8, gone: 0 });
    expect(await ledger.gone('n3')).toEqual([]);
    const kinds = await ledger.kinds('n3', BEFORE);
    expect(kinds.map(({ then, seen, status, count }) => [then !== null, seen, status, count])).toEqual(
      kinds.map(({ count }) => [true, true, 'known', count]),
    );
    expect((await ledger.run('n3')).previous).toBe('n1');
  });

  test('a view is counted against the newest that judged it, and gone is only what was looked at again', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await narrowedBetween(ledger, [2, 3]);
    expect(await ledger.countAgainst('n2', BEFORE)).toEqual({ runs: ['n1'], fresh: 1, unseen: 0, known: 1, gone: 1 });
    expect((await ledger.gone('n2')).map(({ page, lastSeen }) => [page, lastSeen])).toEqual([['tide-table', 'n1']]);
    await storeNight(ledger, { run: { id: 'n3' }, findings: at([2]) });
    // derived: of tide-table 3 is gone since n2, of the three others 1 since n1
    expect(await ledger.countAgainst('n3', BEFORE)).toEqual({ runs: ['n2', 'n1'], fresh: 0, unseen: 0, known: 4, gone: 4 });
    const gone = (await ledger.gone('n3')).map(({ page, lastSeen }) => `${page} ${lastSeen}`);
    expect(gone.sort()).toEqual(['alarm-log n1', 'berth-form n1', 'station-list n1', 'tide-table n2']);
  });

  test('the gate allows what each view had before', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await narrowedBetween(ledger);
    await storeNight(ledger, { run: { id: 'n3' }, findings: at([1, 2]) });
    const [verdict] = await judgeRun(
      ledger,
      {
        pages: { kind: 'list', pages: [] },
        checks: {},
        states: [],
        exempt: [],
        gate: { '*': { most: [{ check: '*', count: 0 }] } },
      },
      { run: await ledger.run('n3'), themes: ['dusk'], today: '2031-03-06', since: 'previous' },
    );
    expect(verdict?.may).toBe(true);
    expect(verdict?.since).toBe('n2 and 1 before it');
    expect(verdict?.criteria[0]).toMatchObject({ found: '0 findings, 8 more that it had already' });
  });

  test('it is not among the whole runs, and neither is a part or one that was ended by hand', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await narrowedBetween(ledger);
    const views = planOf();
    await ledger.beginRun(newRun({ id: 'n3', part: { index: 1, of: 2, views: views.slice(0, 2).map(({ id }) => id) } }));
    await ledger.finishRun('n3', '2031-03-05T03:00:00.000Z');
    await ledger.beginRun(newRun({ id: 'n4' }));
    await ledger.finishRun('n4', '2031-03-06T03:00:00.000Z', true);
    expect((await ledger.runs()).map(({ id, cut }) => [id, cut])).toEqual([
      ['n4', true],
      ['n3', false],
      ['n2', false],
      ['n1', false],
    ]);
    expect((await ledger.runs({ whole: true })).map(({ id }) => id)).toEqual(['n1']);
  });
});

test('a view that failed in between is counted against the run that last judged it, of its own label first', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  const views = planOf(['tide-table']);
  await storeNight(ledger, { run: { id: 'n1', views, label: 'main' }, findings: at([1]) });
  await storeNight(ledger, { run: { id: 'n2', views, label: 'new-pier' }, findings: at([1, 2]) });
  await storeNight(ledger, { run: { id: 'n3', views, label: 'main' }, result: (view) => failed(view), findings: () => [] });
  await storeNight(ledger, { run: { id: 'n4', views, label: 'main' }, findings: at([1, 2]) });
  expect(await ledger.countAgainst('n4', BEFORE)).toEqual({ runs: ['n1'], fresh: 1, unseen: 0, known: 1, gone: 0 });
});

test('the first run has nothing before it; a page that is new has nothing either', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  await storeNight(ledger, { run: { id: 'n1', views: planOf(['tide-table']) }, findings: at([1]) });
  expect(await ledger.countAgainst('n1', BEFORE)).toBeNull();
  await storeNight(ledger, { run: { id: 'n2', views: planOf(['tide-table', 'alarm-log']) }, findings: at([1]) });
  expect(await ledger.countAgainst('n2', BEFORE)).toEqual({ runs: ['n1'], fresh: 1, unseen: 1, known: 1, gone: 0 });
});

test('a night that left views out is, for trends, as the run before left them', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  await storeNight(ledger, { run: { id: 'n1' }, findings: at([1, 2]) });
  await ledger.beginRun(newRun({ id: 'n2' }));
  const dusk = planOf().find(({ page, theme }) => page === 'tide-table' && theme === 'dusk');
  if (dusk === undefined) throw new Error('the plan has it');
  await ledger.storeView('n2', captured(dusk));
  await ledger.storeFindings('n2', [{ view: dusk, findings: at([1])(dusk) }]);
  await ledger.finishRun('n2', '2031-03-05T03:00:00.000Z');
  const sums = (await ledger.sums(['n2'])).get('n2') ?? [];
  // derived: one finding on the page that was rendered, two on each of the three others
  expect(sums.reduce((total, { count }) => total + count, 0)).toBe(7);
});
