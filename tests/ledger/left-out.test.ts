// What later nights make of earlier ones: how each view fared, counts against another run, and a run that left views out.
import { expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import type { View } from '../../src/samples/view.ts';
import { captured, draft, entry, failed, planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const at = (places: readonly number[]) => (view: View) =>
  view.theme === 'dusk' ? places.map((place) => entry(view, draft(place))) : [];

test('counts against another run: new, known, gone, and what that run did not judge', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  const views = planOf(['tide-table']);
  await storeNight(ledger, { run: { id: 'n1', views }, findings: at([1, 2, 3]) });
  await storeNight(ledger, { run: { id: 'n2', views }, findings: at([3, 4]) });
  expect(await ledger.countAgainst('n2', { kind: 'run', id: 'n1' })).toEqual({
    runs: ['n1'],
    fresh: 1,
    unseen: 0,
    known: 1,
    gone: 2,
  });
  // Both ways round it is the same step.
  expect(await ledger.countAgainst('n1', { kind: 'run', id: 'n2' })).toEqual({
    runs: ['n2'],
    fresh: 2,
    unseen: 0,
    known: 1,
    gone: 1,
  });
  await storeNight(ledger, { run: { id: 'n3', views: planOf(['alarm-log']) }, findings: at([1, 2]) });
  expect(await ledger.countAgainst('n3', { kind: 'run', id: 'n1' })).toEqual({
    runs: ['n1'],
    fresh: 2,
    unseen: 2,
    known: 0,
    gone: 0,
  });
  await expect(ledger.countAgainst('n3', { kind: 'run', id: 'n9' })).rejects.toMatchObject({ code: 'run-unknown' });
});

test('how each view fared: failed, with findings of that night, captured, never planned', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  const views = planOf(['tide-table', 'alarm-log']);
  await storeNight(ledger, { run: { id: 'n1', views }, findings: at([1]) });
  const first = await ledger.standings();
  // Everything is new to a first night.
  expect([...first.values()].some(({ fresh, changed }) => fresh || changed)).toBe(false);
  await storeNight(ledger, {
    run: { id: 'n2', views },
    findings: (view) => at(view.page === 'tide-table' ? [1, 2] : [1])(view),
    result: (view) => (view.page === 'alarm-log' && view.theme === 'noon' ? failed(view) : captured(view)),
  });
  const standings = await ledger.standings();
  const of = (page: string, theme: string) => standings.get(views.find((v) => v.page === page && v.theme === theme)?.id ?? '');
  expect(of('tide-table', 'dusk')).toMatchObject({ status: 'captured', fresh: true });
  expect(of('alarm-log', 'dusk')).toMatchObject({ status: 'captured', fresh: false });
  expect(of('alarm-log', 'noon')).toMatchObject({ status: 'failed', fresh: false, changed: false });
  expect(standings.size).toBe(views.length);
});

test('the latest run is taken up again only where it lacks views', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  const views = planOf(['tide-table']);
  expect(await ledger.reopenRun()).toBeNull();
  await storeNight(ledger, { run: { id: 'n1', views } });
  expect(await ledger.reopenRun()).toBeNull();
  const facts = { startedAt: '2031-03-05T01:00:00.000Z', gloam: '0', browser: '0', reference: 'noon', themes: [] };
  await ledger.beginRun({ ...facts, id: 'n2', views });
  const [done, ...left] = views;
  if (done === undefined) throw new Error('no view');
  await ledger.storeView('n2', captured(done));
  await ledger.storeFindings('n2', [{ view: done, findings: [] }]);
  await ledger.finishRun('n2', '2031-03-05T02:00:00.000Z');
  expect((await ledger.views('n2', { status: 'planned' })).items.map(({ id }) => id)).toEqual(left.map(({ id }) => id));
  expect(await ledger.reopenRun()).toBe('n2');
  expect((await ledger.unfinished())?.missing.map(({ id }) => id)).toEqual(left.map(({ id }) => id));
});
