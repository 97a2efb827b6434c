// Prune while others store groups of a run, as processes of their own: no row ever points at a file that is gone, in a folder and in a
// bucket, also where whoever prunes is killed.
import { existsSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { BucketServer } from '../../bench/bucket.ts';
import { blobPath } from '../../src/ledger/blobs/folder-blobs.ts';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { examineStore } from '../../src/ledger/care/doctor.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { StorePlace } from '../../src/ledger/store-at.ts';
import { bundleChild, startChild } from '../ledger/child-process.ts';
import { storeIn } from '../ledger/store-in.ts';
import { captured, newRun, planOf, storeNight } from '../ledger/synthetic-run.ts';
import { tempFolder } from '../ledger/temp-folder.ts';
import { withBucket } from '../ledger/with-bucket.ts';

const now = '2031-03-05T04:00:00.000Z';
const DAY_MS = 86_400_000;

let server: BucketServer;
let bundle: string;
beforeAll(async () => {
  [server, bundle] = await Promise.all([withBucket(), bundleChild('store-or-prune')]);
});
afterAll(async () => {
  await server[Symbol.asyncDispose]();
});

function placeIn(folder: string, kind: 'folder' | 'bucket'): Exclude<StorePlace, string> {
  const place = storeIn(folder);
  if (typeof place === 'string') throw new TypeError('these tests need PostgreSQL');
  return kind === 'folder' ? place : { ...place, blobs: `${server.address}/${place.schema}` };
}

describe.each([
  { kind: 'folder', times: 150 },
  { kind: 'bucket', times: 40 },
] as const)('with files in a $kind', ({ kind, times }) => {
  // Processes are started and killed in it: on a busy machine that takes its time.
  test('whoever stores finds what it stored, though prune runs all the time and is killed', { timeout: 300_000 }, async () => {
    await using folder = await tempFolder();
    const place = placeIn(folder.path, kind);
    const pages = ['tide-table', 'alarm-log'];
    {
      await using ledger = await openLedger(place, { access: 'own' });
      await ledger.beginRun(newRun({ id: 'n1', views: planOf(pages) }));
    }
    const storing = pages.map((page) => startChild(bundle, [JSON.stringify(place), 'store', page, String(times)]));
    const over = Promise.all(storing.map(({ ended }) => ended));
    const left = new Set(storing);
    for (const child of storing) void child.ended.then(() => left.delete(child));
    let pruned = 0;
    while (left.size > 0) {
      const pruning = startChild(bundle, [JSON.stringify(place), 'prune']);
      // Ended in the midst of a later one, wherever it is then.
      await Promise.race([pruning.line('pruned 0'), over]);
      await Promise.race([pruning.line('pruned 1'), pruning.line('pruned 2'), pruning.line('pruned 3'), over]);
      pruning.process.kill('SIGKILL');
      await pruning.ended;
      pruned += pruning.lines.reduce((sum, line) => sum + Number(line.slice('pruned '.length)), 0);
    }
    expect(await over).toMatchObject(pages.map(() => ({ code: 0, stderr: expect.not.stringContaining('Error') as unknown })));
    const told = storing.map(({ lines }) => JSON.parse(lines.at(-1) ?? '{}') as { stored: number; anew: number; lost: number });
    for (const { stored, anew, lost } of told) {
      expect(lost).toBe(0);
      expect(stored + anew).toBe(times);
      // What went meanwhile is the exception.
      expect(stored).toBeGreaterThan(times / 2);
    }
    // Else nothing was tried.
    expect(pruned).toBeGreaterThan(0);
    const { faults } = await examineStore(place, { mend: false, now });
    expect(faults.filter(({ kind: fault }) => fault !== 'unknown-file')).toEqual([]);
  });
});

test('young files stay for the runs that wrote them, and so do runs under way with those they are held against', async () => {
  await using folder = await tempFolder();
  const place = placeIn(folder.path, 'folder');
  const views = planOf(['tide-table']);
  const at = (hour: number): string => `2031-03-01T0${String(hour)}:00:00.000Z`;
  await using ledger = await openLedger(place, { access: 'share' });
  for (const n of [1, 2]) await storeNight(ledger, { run: { id: `n${String(n)}`, views, label: 'quay', startedAt: at(n) } });
  await ledger.beginRun(newRun({ id: 'old', views, startedAt: at(3) }));
  await ledger.beginRun(newRun({ id: 'held', views, label: 'quay', startedAt: at(5) }));
  await storeNight(ledger, { run: { id: 'pier', views, label: 'pier', startedAt: at(6) } });
  const [view] = views;
  if (view === undefined) throw new Error('the plan has views');
  const kept = await ledger.keepView(captured(view, { shot: Buffer.from('on its way') }));
  const file = blobPath(folder.path, hashOf('on its way'));
  const receipt = await ledger.prune({ keep: 1, graceMs: DAY_MS, underWaySince: at(4) });
  expect(receipt).toMatchObject({ kept: ['pier', 'held', 'n2'], dropped: ['old', 'n1'], blobs: 0 });
  expect(existsSync(file)).toBe(true);
  expect(kept.blobs).toHaveLength(3);
  await expect
    .poll(async () => ((await ledger.prune({ keep: 1, graceMs: 1, underWaySince: at(4) })).blobs > 0 ? 'gone' : ''))
    .toBe('gone');
  expect(existsSync(file)).toBe(false);
  // Without a grace it needs the store for itself.
  expect(() => ledger.prune({ keep: 1 })).toThrow('expected "own"');
});
