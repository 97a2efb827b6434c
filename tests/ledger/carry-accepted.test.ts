import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { blobPath } from '../../src/ledger/blobs/folder-blobs.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { storeIn } from './store-in.ts';
import { planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

const act = { who: 'harbour master', note: 'carried', at: '2031-03-04T08:00:00.000Z' };
const plan = planOf();

async function carried(folder: string): Promise<string> {
  await using ledger = await openLedger(storeIn(join(folder, 'from')), { access: 'own' });
  await storeNight(ledger, { run: {} });
  await ledger.accept('night-1', { set: 'main', views: 'all', ...act });
  expect(await ledger.exportAccepted('main', join(folder, 'carried'))).toBe(plan.length);
  return join(folder, 'carried');
}

describe('an accepted set on its way to another machine', () => {
  test('arrives with pictures, samples and properties, as one act that can be undone', async () => {
    await using folder = await tempFolder();
    const from = await carried(folder.path);
    await using ledger = await openLedger(storeIn(join(folder.path, 'to')), { access: 'own' });
    const imported = await ledger.importAccepted(from, act);
    expect(imported).toMatchObject({ set: 'main', views: plan.length, run: null, note: 'carried' });
    await using source = await openLedger(storeIn(join(folder.path, 'from')), { access: 'own' });
    const names = ({
      id,
      shot,
      samples,
      properties,
    }: {
      id: string;
      shot: string;
      samples: string | null;
      properties: string | null;
    }) => ({
      ...{ id, shot, samples, properties },
    });
    const pictures = await ledger.accepted(['main']);
    expect(pictures.map(names)).toEqual((await source.accepted(['main'])).map(names));
    for (const picture of pictures) {
      expect(await ledger.acceptedFacts(picture)).toEqual(await source.acceptedFacts(picture));
      expect((await ledger.blob(picture.shot)).length).toBeGreaterThan(0);
    }
    // Importing again changes nothing; undoing the first act takes the set away.
    expect((await ledger.importAccepted(from, act)).views).toBe(0);
    await ledger.undoAcceptance(imported.id, { by: 'designer', at: act.at });
    expect(await ledger.accepted(['main'])).toEqual([]);
    expect((await ledger.importAccepted(from, { ...act, as: 'spring' })).set).toBe('spring');
    expect(await ledger.accepted(['spring'])).toHaveLength(plan.length);
  });

  const FILE_FAULTS = [
    { file: '{', at: '(root)' },
    { file: '[]', at: '(root)' },
    { file: '{"format": "other/1"}', at: 'format' },
    { file: '{"format": "gloam-accepted/1", "set": 3}', at: 'set' },
    { file: '{"format": "gloam-accepted/1", "set": "main", "pictures": {}}', at: 'pictures' },
    { file: '{"format": "gloam-accepted/1", "set": "main", "pictures": [4]}', at: 'pictures[0]' },
    { file: '{"format": "gloam-accepted/1", "set": "main", "pictures": [{"id": "a"}]}', at: 'pictures[0].page' },
    {
      // A hash that would name a file outside of the folder.
      file: `{"format": "gloam-accepted/1", "set": "main", "pictures": [{"id": "a", "page": "a", "theme": "a", "state": "a",
        "viewport": "a", "shot": "../../../etc/passwd", "samples": null, "properties": null}]}`,
      at: 'pictures[0].shot',
    },
  ];
  test.each(FILE_FAULTS)('is refused where its file is wrong at $at', async ({ file, at }) => {
    await using folder = await tempFolder();
    const from = await carried(folder.path);
    await writeFile(join(from, 'accepted.json'), file);
    await using ledger = await openLedger(storeIn(join(folder.path, 'to')), { access: 'own' });
    await expect(ledger.importAccepted(from, act)).rejects.toMatchObject({ code: 'accepted-set-unreadable', data: { at } });
    expect(await ledger.acceptances()).toEqual([]);
  });

  test('is refused as a whole where one picture is missing or damaged', async () => {
    await using folder = await tempFolder();
    const from = await carried(folder.path);
    await using ledger = await openLedger(storeIn(join(folder.path, 'to')), { access: 'own' });
    await using source = await openLedger(storeIn(join(folder.path, 'from')), { access: 'own' });
    const shot = (await source.accepted(['main'])).at(-1)?.shot ?? '';
    const whole = await readFile(blobPath(from, shot));
    await writeFile(blobPath(from, shot), Buffer.concat([whole.subarray(0, 20), Buffer.from('!'), whole.subarray(21)]));
    await expect(ledger.importAccepted(from, act)).rejects.toMatchObject({ code: 'blob-damaged', data: { hash: shot } });
    await rm(blobPath(from, shot));
    await expect(ledger.importAccepted(from, act)).rejects.toMatchObject({ code: 'blob-missing', data: { hash: shot } });
    expect(await ledger.acceptances()).toEqual([]);
    await rm(join(from, 'accepted.json'));
    await expect(ledger.importAccepted(from, act)).rejects.toMatchObject({
      code: 'accepted-set-unreadable',
      data: { found: 'no file' },
    });
  });
});
