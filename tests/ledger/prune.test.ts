import { blobPath, folderBlobs } from '../../src/ledger/blobs/folder-blobs.ts';
import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { type Ledger, openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import type { View } from '../../src/samples/view.ts';
import { captured, draft, entry, flatPng, newRun, planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const views = planOf(['tide-table']);
const shot = (n: number, view: View): Uint8Array => flatPng(n, view.theme === 'dusk' ? 0 : 255, n);
const words = { set: 'main', who: 'harbour master', note: '' };

async function nights(ledger: Ledger, count: number): Promise<void> {
  for (let n = 1; n <= count; n += 1) {
    await storeNight(ledger, {
      run: { id: `n${String(n)}`, views, startedAt: `2031-03-0${String(n)}T02:00:00.000Z` },
      result: (view) => captured(view, { shot: shot(n, view) }),
      // One finding from the first night on, one that is there every other night.
      findings: (view) => [entry(view, draft(1)), ...(n % 2 === 0 ? [entry(view, draft(2))] : [])],
    });
  }
}

const there = (ledger: Ledger, n: number): readonly boolean[] =>
  views.map((view) => existsSync(blobPath(ledger.folder, hashOf(shot(n, view)))));

describe('prune', () => {
  test('keeps the latest runs whole, drops the others with what only they needed', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await nights(ledger, 5);
    const before = await Promise.all(['n4', 'n5'].map((id) => ledger.findings(id)));
    const trial = await ledger.prune({ keep: 2, tryOnly: true });
    expect(trial).toMatchObject({ dropped: ['n3', 'n2', 'n1'], kept: ['n5', 'n4'], blobs: 6 });
    expect((await ledger.runs()).length).toBe(5);

    const receipt = await ledger.prune({ keep: 2 });
    expect(receipt).toEqual(trial);
    expect((await ledger.runs()).map((run) => run.id)).toEqual(['n5', 'n4']);
    expect([1, 2, 3, 4, 5].map((n) => there(ledger, n))).toEqual([...Array<boolean>(3).fill(false), true, true].map((b) => [b, b]));
    // Findings of kept runs read as before, down to the name of the dropped run that saw them first.
    expect(await Promise.all(['n4', 'n5'].map((id) => ledger.findings(id)))).toEqual(before);
    expect(new Set(before[0]?.items.map((finding) => finding.since))).toEqual(new Set(['n1', 'n4']));
    await expect(ledger.run('n1')).rejects.toMatchObject({ code: 'run-unknown' });
    // History goes on as if nothing had been dropped.
    await storeNight(ledger, { run: { id: 'n6', views }, findings: (view) => [entry(view, draft(1))] });
    expect((await ledger.findings('n6')).items.map(({ since, status }) => [since, status])).toEqual([
      ['n1', 'known'],
      ['n1', 'known'],
    ]);
  });

  test('the last whole run stays, however many saw a part since', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(folder.path, { access: 'own' });
    await nights(ledger, 2);
    for (const id of ['board', 'quay', 'pier']) await storeNight(ledger, { run: { id, views: views.slice(0, 1), narrowed: true } });
    const receipt = await ledger.prune({ keep: 2 });
    expect(receipt).toMatchObject({ kept: ['pier', 'quay', 'n2'], dropped: ['board', 'n1'] });
  });

  test('never takes what is accepted, nor what an undo could still bring back', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await nights(ledger, 5);
    await ledger.accept('n1', { ...words, views: 'all', at: '2031-03-01T08:00:00.000Z' });
    await ledger.accept('n2', { ...words, views: 'all', at: '2031-03-02T08:00:00.000Z' });
    const late = await ledger.accept('n3', { ...words, views: 'all', at: '2031-03-05T08:00:00.000Z' });
    await ledger.prune({ keep: 1 });
    // n2 covers n1 since before the kept run; n3 covers n2 only after it and may be undone.
    expect([1, 2, 3, 4, 5].map((n) => there(ledger, n)[0])).toEqual([false, true, true, false, true]);
    await ledger.undoAcceptance(late.id, { by: 'designer', at: '2031-03-06T08:00:00.000Z' });
    const accepted = await ledger.accepted(['main']);
    expect(accepted.map((picture) => picture.shot).sort()).toEqual(views.map((view) => hashOf(shot(2, view))).sort());
    for (const picture of accepted) expect((await ledger.acceptedFacts(picture)).samples).toHaveLength(4);
  });

  test('keeps the picture in force where what covered it was undone, however long ago', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await nights(ledger, 5);
    await ledger.accept('n1', { ...words, views: 'all', at: '2031-03-01T08:00:00.000Z' });
    const undone = await ledger.accept('n2', { ...words, views: 'all', at: '2031-03-02T08:00:00.000Z' });
    await ledger.undoAcceptance(undone.id, { by: 'designer', at: '2031-03-02T09:00:00.000Z' });
    await ledger.prune({ keep: 1 });
    expect([1, 2].map((n) => there(ledger, n)[0])).toEqual([true, false]);
    const accepted = await ledger.accepted(['main']);
    expect(accepted.map((picture) => picture.shot).sort()).toEqual(views.map((view) => hashOf(shot(1, view))).sort());
  });

  test('leaves a run under way alone and takes files that nothing names', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'own' });
    await nights(ledger, 2);
    const [view] = views;
    if (view === undefined) throw new Error('the plan has views');
    await ledger.beginRun(newRun({ id: 'n3', views }));
    await ledger.storeView('n3', captured(view, { shot: shot(3, view) }));
    const stray = await folderBlobs(folder.path).put(Buffer.from('left by a killed run'));
    const receipt = await ledger.prune({ keep: 1 });
    expect(receipt.kept).toEqual(['n3', 'n2']);
    expect(existsSync(blobPath(ledger.folder, stray.hash))).toBe(false);
    expect((await ledger.unfinished())?.missing.map((missing) => missing.theme)).toEqual(['dusk']);
    expect(existsSync(blobPath(ledger.folder, hashOf(shot(3, view))))).toBe(true);
  });

  test('is refused to those who do not hold the store alone', async () => {
    await using folder = await tempFolder();
    await using ledger = await openLedger(storeIn(folder.path), { access: 'edit' });
    expect(() => ledger.prune({ keep: 1 })).toThrow('expected "own"');
  });
});
