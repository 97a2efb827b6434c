import { expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import { captured, findingsOf, newRun, planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

test('a forecast stands beside the runs and is never held against one', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  const night = await storeNight(ledger, { run: {} });
  const note = { of: night, files: ['ramps.tokens.json'], as: 'gale', like: 'dusk' };
  const id = await ledger.beginRun(newRun({ id: 'thought', foretold: note }));
  // One that was cut off is no run to be resumed.
  expect(await ledger.unfinished()).toBeNull();
  for (const view of planOf()) {
    const { samples, properties } = captured(view);
    await ledger.storeForetold(id, view, { from: view.id, samples, properties, masks: [] });
    // Nothing is wrong in it: were it a base, all that the next night finds would be new.
    await ledger.storeFindings(id, [{ view, findings: [] }]);
  }
  await ledger.finishRun(id, '2031-03-04T04:00:00.000Z');
  expect((await ledger.run(id)).foretold).toEqual(note);
  expect((await ledger.view(id, planOf()[0]?.id ?? '')).shot).toBeNull();
  expect((await ledger.latestRun())?.id).toBe(night);
  expect((await ledger.runs()).map((run) => run.id)).toEqual([night]);
  expect((await ledger.runs({ foretold: true })).map((run) => run.id)).toEqual([id, night]);
  expect(await ledger.reopenRun()).toBeNull();
  expect(await ledger.bases(id)).toEqual([night]);
  expect((await ledger.gone(id)).length).toBeGreaterThan(0);
  const act = { set: 'main', views: 'all', who: 'survey', note: '', at: '2031-03-04T05:00:00.000Z' } as const;
  await expect(ledger.accept(id, act)).rejects.toMatchObject({ code: 'run-foretold' });

  const next = await ledger.beginRun(newRun({ id: 'night-2' }));
  for (const view of planOf()) {
    await ledger.storeView(next, captured(view));
    await ledger.storeFindings(next, [{ view, findings: findingsOf(view) }]);
  }
  await ledger.finishRun(next, '2031-03-05T03:00:00.000Z');
  expect((await ledger.run(next)).previous).toBe(night);
  expect(await ledger.bases(next)).toEqual([night]);
  const { items } = await ledger.findings(next, { limit: 1000 });
  expect(items.every(({ status }) => status === 'known')).toBe(true);

  // It goes with the run that it was made from.
  expect((await ledger.prune({ keep: 2, tryOnly: true })).dropped).toEqual([]);
  expect((await ledger.prune({ keep: 1, tryOnly: true })).dropped).toEqual(expect.arrayContaining([night, id]) as string[]);
});

test('only a finished run can be foretold from', async () => {
  await using folder = await tempFolder();
  await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
  const id = await ledger.beginRun(newRun());
  const begun = ledger.beginRun(newRun({ id: 'thought', foretold: { of: id, files: [] } }));
  await expect(begun).rejects.toMatchObject({ code: 'run-not-finished' });
});
