// A blob is there for good before anything names it: flushed to the disk under another name, then renamed, then its folder flushed.
import { mkdir, open, readFile, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { blobPath, folderBlobs } from '../../src/ledger/blobs/folder-blobs.ts';
import { tempFolder } from './temp-folder.ts';

const BYTES = Buffer.from('high water at six');

afterEach(() => {
  vi.restoreAllMocks();
});

describe('a folder of blobs', () => {
  test('flushes the file while it has another name, and its folder once it has its own', async () => {
    await using folder = await tempFolder();
    const path = blobPath(folder.path, hashOf(BYTES));
    const isThere = (): Promise<boolean> =>
      readFile(path).then(
        () => true,
        () => false,
      );
    const some = await open(folder.path, 'r');
    const handles = Object.getPrototypeOf(some) as typeof some;
    await some.close();
    const flush: (this: typeof some) => Promise<void> = Reflect.get(handles, 'sync');
    const flushed: boolean[] = [];
    vi.spyOn(handles, 'sync').mockImplementation(async function (this: typeof some) {
      flushed.push(await isThere());
      await flush.call(this);
    });
    await folderBlobs(folder.path).put(BYTES);
    expect(flushed).toEqual([false, true]);
    // A second time there is nothing to flush.
    await folderBlobs(folder.path).put(BYTES);
    expect(flushed).toHaveLength(2);
  });

  test('writes anew what was cut short', async () => {
    await using folder = await tempFolder();
    const path = blobPath(folder.path, hashOf(BYTES));
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, BYTES.subarray(0, 4));
    await expect(folderBlobs(folder.path).get(hashOf(BYTES))).rejects.toMatchObject({ code: 'blob-damaged' });
    await folderBlobs(folder.path).put(BYTES);
    expect(await folderBlobs(folder.path).get(hashOf(BYTES))).toEqual(BYTES);
  });
});
