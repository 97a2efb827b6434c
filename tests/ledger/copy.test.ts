// A store copied whole: out of a folder into whatever engine these tests run on, and back.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { copyStore } from '../../src/ledger/care/copy-store.ts';
import { examineStore } from '../../src/ledger/care/doctor.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { exported } from './exported.ts';
import { storeIn } from './store-in.ts';
import { draft, entry, findingsOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const words = { set: 'main', who: 'designer', note: 'as meant' };
const now = '2031-03-05T04:00:00.000Z';

test('a copy has every row and file, proves, and goes on where the store was', async () => {
  await using folder = await tempFolder();
  const [from, there, back] = [join(folder.path, 'from'), storeIn(join(folder.path, 'there')), join(folder.path, 'back')];
  let source;
  {
    await using ledger = await openLedger(from, { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' } });
    await ledger.accept('n1', { ...words, views: 'all', at: '2031-03-02T06:00:00.000Z' });
    await storeNight(ledger, { run: { id: 'n2' }, findings: (view) => [...findingsOf(view), entry(view, draft(9))] });
    source = await exported(ledger, 'n2', join(folder.path, 'out-from'));
  }
  const receipt = await copyStore(from, there);
  expect(receipt).toMatchObject({ runs: 2 });
  expect((await examineStore(there, { mend: false, now })).faults).toEqual([]);
  expect(await copyStore(there, back)).toEqual(receipt);
  expect((await examineStore(back, { mend: false, now })).faults).toEqual([]);
  for (const place of [there, back]) {
    await using ledger = await openLedger(place, { access: 'own' });
    expect(await exported(ledger, 'n2', join(folder.path, typeof place === 'string' ? 'out-folder' : 'out'))).toEqual(source);
    expect(await ledger.acceptances()).toMatchObject([{ set: 'main', who: 'designer' }]);
    // What is new gets numbers that no row has.
    await storeNight(ledger, { run: { id: 'n3' }, findings: (view) => [...findingsOf(view), entry(view, draft(10))] });
    await expect(ledger.countGone('n3')).resolves.not.toEqual([]);
    await ledger.accept('n3', { ...words, views: 'all', at: '2031-03-04T06:00:00.000Z' });
    expect(await ledger.acceptances()).toHaveLength(2);
  }
});

test('nothing is copied over anything', async () => {
  await using folder = await tempFolder();
  const [from, to] = [join(folder.path, 'from'), storeIn(join(folder.path, 'to'))];
  for (const place of [from, to]) {
    await using ledger = await openLedger(place, { access: 'own' });
    await storeNight(ledger, { run: { id: typeof place === 'string' && place === from ? 'a' : 'b' } });
  }
  await expect(copyStore(from, to)).rejects.toMatchObject({ code: 'store-not-empty' });
  await using ledger = await openLedger(to, { access: 'read' });
  expect((await ledger.runs()).map(({ id }) => id)).toEqual(['b']);
});

test('what is not there is not made by copying it', async () => {
  await using folder = await tempFolder();
  const [from, to] = [join(folder.path, 'from'), storeIn(join(folder.path, 'to'))];
  await expect(copyStore(from, to)).rejects.toMatchObject({ code: 'store-missing' });
  expect(existsSync(from)).toBe(false);
});
