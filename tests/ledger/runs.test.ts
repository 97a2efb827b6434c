import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { captured, cause, draft, failed, findingsOf, flatPng, newRun, planOf, storeNight, textSample } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const PUMP = { code: 'keeps-changing', at: '#pump', data: {} } as const;

describe('a run in the ledger', () => {
  test('comes back as it was stored: views, samples, properties, pictures, findings', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const [first, second] = planOf();
    if (first === undefined || second === undefined) throw new Error('the plan has views');
    const id = await storeNight(ledger, {
      run: { views: [first, second], label: 'quay' },
      result: (view) => captured(view, { notes: [PUMP] }),
    });
    const { items } = await ledger.views(id);
    expect(items).toMatchObject([
      { id: first.id, url: first.url, status: 'captured', samples: 3, title: 'Harbour: station-list', widthCssPx: 1280, scale: 1 },
      { id: second.id, notes: [PUMP], checked: true, findings: 2 },
    ]);
    const shot = items[0]?.shot ?? '';
    expect(Buffer.compare(await ledger.blob(shot), captured(first).shot)).toBe(0);
    expect(hashOf(captured(first).shot)).toBe(shot);
    expect(await ledger.samplesOf(id, first.id)).toEqual({
      samples: captured(first).samples,
      properties: captured(first).properties,
      masks: [[1200, 8, 60, 20]],
    });
    expect(await ledger.run(id)).toMatchObject({ id, state: 'finished', label: 'quay', previous: null, reference: 'noon' });
    const { items: findings, next } = await ledger.findings(id);
    expect(next).toBeNull();
    expect(findings).toHaveLength(2);
    expect(findings.find((finding) => finding.check === 'text-contrast')).toEqual({
      ...draft(1),
      ...{ view: second.id, page: second.page, theme: 'dusk', state: 'rest', viewport: 'desk' },
      ...{ id: expect.stringMatching(/^[0-9a-f]{16}$/) as string, since: id, status: 'new', cause: null },
    });
  });

  test('counts its totals where they are stored', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const id = await ledger.beginRun(newRun());
    for (const view of planOf()) {
      await ledger.storeView(id, view.page === 'alarm-log' ? failed(view) : captured(view));
      if (view.page !== 'alarm-log') await ledger.storeFindings(id, [{ view, findings: findingsOf(view) }]);
    }
    await ledger.storeCoverage(id, [
      { page: 'tide-table', theme: 'dusk', owner: 'tables', uses: 30, throughTokens: 30 },
      { page: 'tide-table', theme: 'dusk', uses: 10, throughTokens: 0 },
      { page: 'tide-table', theme: 'noon', uses: 4, throughTokens: 4 },
    ]);
    const totals = await ledger.finishRun(id, '2031-03-04T03:00:00.000Z');
    // derived: 8 views, 2 of them failed, 3 exported samples each; 3 dusk views with one finding of each check; 30 of 40 uses
    expect(totals).toEqual({
      ...{ views: 8, failed: 2, samples: 18 },
      findings: { 'text-contrast': 3, glow: 3 },
      exempt: 0,
      coverage: { dusk: 0.75, noon: 1 },
    });
    expect((await ledger.run(id)).totals).toEqual(totals);
    const { items } = await ledger.views(id, { status: 'failed' });
    expect(items.map((view) => view.error)).toEqual([1, 2].map(() => 'http://127.0.0.1:4000/alarm-log: answered 500'));
  });

  test('an unchanged second night adds no blob, no finding row, and says so view by view', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: {} });
    const blobs = async (): Promise<readonly string[]> => await readdir(join(folder.path, 'blobs'), { recursive: true });
    const before = await blobs();
    const id = await ledger.beginRun(newRun({ id: 'night-2' }));
    for (const view of planOf()) expect((await ledger.storeView(id, captured(view, { ms: 7 }))).unchanged).toBe(true);
    expect(
      await ledger.carryFindings(
        id,
        planOf().map((view) => view.id),
      ),
    ).toEqual([]);
    await ledger.finishRun(id, '2031-03-05T03:00:00.000Z');
    expect(await blobs()).toEqual(before);
    const { items } = await ledger.findings(id);
    expect(items.map((finding) => [finding.status, finding.since])).toEqual(items.map(() => ['known', 'night-1']));
    expect(items).toHaveLength(8);
  });

  test('a changed picture, sample or custom property makes a view changed', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await storeNight(ledger, { run: {} });
    const [view] = planOf();
    if (view === undefined) throw new Error('the plan has views');
    const id = await ledger.beginRun(newRun({ id: 'night-2' }));
    const unchanged = async (changes: Parameters<typeof captured>[1]): Promise<boolean> =>
      (await ledger.storeView(id, captured(view, changes))).unchanged;
    expect(await unchanged({})).toBe(true);
    expect(await unchanged({ shot: flatPng(1, 2, 3) })).toBe(false);
    expect(await unchanged({ samples: [textSample(view.id, 1)] })).toBe(false);
    expect(await unchanged({ properties: [] })).toBe(false);
  });

  test('a view that no plan has is refused', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const [view] = planOf();
    if (view === undefined) throw new Error('the plan has views');
    const id = await ledger.beginRun(newRun());
    await expect(ledger.storeView(id, captured({ ...view, id: 'lighthouse@noon.rest.desk' }))).rejects.toMatchObject({
      code: 'view-unknown',
      data: { view: 'lighthouse@noon.rest.desk' },
    });
    await expect(ledger.samplesOf(id, 'lighthouse@noon.rest.desk')).rejects.toMatchObject({ code: 'view-unknown' });
  });

  test('a finished run takes up nothing more; an unknown one is named beside the known', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const id = await storeNight(ledger, { run: {} });
    const [view] = planOf();
    if (view === undefined) throw new Error('the plan has views');
    await expect(ledger.storeView(id, captured(view))).rejects.toMatchObject({ code: 'run-not-open', data: { state: 'finished' } });
    await expect(ledger.run('night-9')).rejects.toMatchObject({ code: 'run-unknown', data: { id: 'night-9', known: ['night-1'] } });
  });
});

describe('causes', () => {
  test('are listed in the order given, and findings point at them', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    const night = async (id: string): Promise<void> => {
      await ledger.beginRun(newRun({ id }));
      for (const view of planOf()) {
        await ledger.storeView(id, captured(view));
        await ledger.storeFindings(id, [{ view, findings: findingsOf(view) }]);
      }
    };
    await night('night-1');
    const { items } = await ledger.findings('night-1', { check: 'text-contrast' });
    const ids = items.map((finding) => finding.id);
    const causes = [cause('quiet', { findings: 4 }), cause('idle', { layer: 'gap', findings: 0 })] as const;
    await ledger.storeCauses('night-1', [
      { cause: causes[0], findings: ids },
      { cause: causes[1], findings: [] },
    ]);
    await ledger.finishRun('night-1', '2031-03-04T03:00:00.000Z');
    expect(await ledger.causes('night-1')).toEqual(causes);
    expect(await ledger.countFindings('night-1', { cause: 'quiet' })).toBe(4);
    expect(await ledger.countFindings('night-1', { cause: null })).toBe(4);

    // The next night explains only two of them; what the first night said stays.
    await night('night-2');
    await ledger.storeCauses('night-2', [{ cause: causes[0], findings: ids.slice(0, 2) }]);
    await ledger.finishRun('night-2', '2031-03-05T03:00:00.000Z');
    expect(await ledger.countFindings('night-2', { cause: 'quiet' })).toBe(2);
    expect(await ledger.countFindings('night-1', { cause: 'quiet' })).toBe(4);
    expect(await ledger.countFindings('night-2')).toBe(8);
    expect(await ledger.cause('night-2', 'idle')).toBeUndefined();
  });
});
