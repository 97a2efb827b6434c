// A store of rows in PostgreSQL and files in a bucket: written, read, served, proved, copied both ways, pruned.
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { BucketServer } from '../../bench/bucket.ts';
import { buildServer } from '../../report-ui/server/build-server.ts';
import { bucketBlobs } from '../../src/ledger/blobs/bucket-blobs.ts';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { copyStore } from '../../src/ledger/care/copy-store.ts';
import { examineStore } from '../../src/ledger/care/doctor.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { StorePlace } from '../../src/ledger/store-at.ts';
import { exported } from '../ledger/exported.ts';
import { storeIn } from '../ledger/store-in.ts';
import { captured, flatPng, planOf, storeNight } from '../ledger/synthetic-run.ts';
import { tempFolder } from '../ledger/temp-folder.ts';
import { withBucket } from '../ledger/with-bucket.ts';

const now = '2031-03-05T04:00:00.000Z';
const words = { set: 'main', who: 'designer', note: 'as meant', at: '2031-03-02T06:00:00.000Z' };

let server: BucketServer;
beforeAll(async () => {
  server = await withBucket();
});
afterAll(async () => {
  await server[Symbol.asyncDispose]();
});

function bucketIn(folder: string): Exclude<StorePlace, string> {
  const place = storeIn(folder);
  if (typeof place === 'string') throw new TypeError('these tests need PostgreSQL');
  return { ...place, blobs: `${server.address}/${place.schema}` };
}

async function hashesIn(place: { readonly blobs: string }): Promise<readonly string[]> {
  const found: string[] = [];
  for await (const { hash } of bucketBlobs(place.blobs).list()) found.push(hash);
  return found;
}

test('a copy goes to a bucket and back, with every row and file', async () => {
  await using folder = await tempFolder();
  const [from, there, back] = [join(folder.path, 'from'), bucketIn(join(folder.path, 'there')), join(folder.path, 'back')];
  let source;
  {
    await using ledger = await openLedger(from, { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' } });
    await ledger.accept('n1', { ...words, views: 'all' });
    source = await exported(ledger, 'n1', join(folder.path, 'out-from'));
  }
  const receipt = await copyStore(from, there);
  expect(await hashesIn(there)).toHaveLength(receipt.blobs);
  expect((await examineStore(there, { mend: false, now })).faults).toEqual([]);
  expect(await copyStore(there, back)).toEqual(receipt);
  for (const [at, place] of [there, back].entries()) {
    await using ledger = await openLedger(place, { access: 'own' });
    expect(await exported(ledger, 'n1', join(folder.path, `out-${String(at)}`))).toEqual(source);
  }
});

test('its pictures are served, and nothing of it lies on this machine', async () => {
  await using folder = await tempFolder();
  const place = bucketIn(folder.path);
  await using ledger = await openLedger(place, { access: 'own' });
  await storeNight(ledger, { run: { id: 'n1' } });
  const app = await buildServer({ ledger, form: 'live', host: '127.0.0.1', readOnly: false, gloam: '0', page: new Map() });
  const [view] = (await ledger.views('n1')).items;
  const picture = await app.inject({ url: `/blobs/${view?.shot ?? ''}`, headers: { host: '127.0.0.1' } });
  expect(picture.statusCode).toBe(200);
  expect(hashOf(picture.rawPayload)).toBe(view?.shot);
  await app.close();
  expect(await readdir(folder.path)).not.toContain('blobs');
});

test('what is lost, damaged or needed by no view is found; what is mended is set aside', async () => {
  await using folder = await tempFolder();
  const place = bucketIn(folder.path);
  const views = planOf(['tide-table']);
  {
    await using ledger = await openLedger(place, { access: 'own' });
    const shot = (n: number): Uint8Array => flatPng(n, 40, 80);
    await storeNight(ledger, {
      run: { id: 'n1', views },
      result: (view) => captured(view, { shot: shot(view.theme === 'dusk' ? 1 : 2) }),
    });
  }
  const blobs = bucketBlobs(place.blobs);
  await blobs.drop(hashOf(flatPng(1, 40, 80)));
  await blobs.put(Buffer.from('left by a worker'));
  const found = await examineStore(place, { mend: false, now });
  expect(found.faults.map(({ kind }) => kind).sort()).toEqual(['blob-missing', 'unknown-file']);
  await examineStore(place, { mend: true, now });
  expect(await hashesIn(place)).not.toContain(hashOf('left by a worker'));
});

test('old runs go with what only they needed', async () => {
  await using folder = await tempFolder();
  const place = bucketIn(folder.path);
  const views = planOf(['tide-table']);
  await using ledger = await openLedger(place, { access: 'own' });
  const shot = (n: number): Uint8Array => flatPng(n, 7, 9);
  for (const n of [1, 2, 3])
    await storeNight(ledger, {
      run: { id: `n${String(n)}`, views, startedAt: `2031-03-0${String(n)}T02:00:00.000Z` },
      result: (view) => captured(view, { shot: shot(n) }),
    });
  const receipt = await ledger.prune({ keep: 1 });
  expect(receipt).toMatchObject({ dropped: ['n2', 'n1'], kept: ['n3'], blobs: 2 });
  const left = await hashesIn(place);
  expect([1, 2, 3].map((n) => left.includes(hashOf(shot(n))))).toEqual([false, false, true]);
});
