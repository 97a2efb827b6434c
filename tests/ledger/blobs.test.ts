// What is stored by content, in a folder and in a bucket: whole or absent, proved when it is read, the same by the same hash.
import { mkdir, open, readFile, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { dirname } from 'node:path';
import { PutObjectCommand, S3Client } from '@aws-sdk/client-s3';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import type { BucketServer } from '../../bench/bucket.ts';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import type { Blobs } from '../../src/ledger/blobs/blobs.ts';
import { bucketBlobs } from '../../src/ledger/blobs/bucket-blobs.ts';
import { bucketFault } from '../../src/ledger/blobs/bucket-fault.ts';
import { blobPath, folderBlobs } from '../../src/ledger/blobs/folder-blobs.ts';
import { tempFolder } from './temp-folder.ts';
import { setEnv, withBucket } from './with-bucket.ts';

const BYTES = Buffer.from('high water at six');
const HASH = hashOf(BYTES);

let server: BucketServer;
beforeAll(async () => {
  server = await withBucket();
});
afterAll(async () => {
  await server[Symbol.asyncDispose]();
});
afterEach(() => {
  vi.restoreAllMocks();
});

let places = 0;
/** A place of its own for each test, and a hand that is not ours. */
async function placeIn(
  kind: 'folder' | 'bucket',
): Promise<AsyncDisposable & { blobs: Blobs; spoil: (bytes: Uint8Array) => Promise<void> }> {
  if (kind === 'folder') {
    const folder = await tempFolder();
    const spoil = async (bytes: Uint8Array): Promise<void> => {
      await mkdir(dirname(blobPath(folder.path, HASH)), { recursive: true });
      await writeFile(blobPath(folder.path, HASH), bytes);
    };
    return { blobs: folderBlobs(folder.path), spoil, [Symbol.asyncDispose]: () => folder[Symbol.asyncDispose]() };
  }
  places += 1;
  const prefix = `pier/${String(places)}`;
  const client = new S3Client({ forcePathStyle: true });
  const [Bucket, Key] = ['quay-pictures', `${prefix}/blobs/${HASH.slice(0, 2)}/${HASH}`];
  return {
    blobs: bucketBlobs(`${server.address}/${prefix}/`),
    spoil: async (Body) => {
      await client.send(new PutObjectCommand({ Bucket, Key, Body }));
    },
    [Symbol.asyncDispose]: () => {
      client.destroy();
      return Promise.resolve();
    },
  };
}

async function all(blobs: Blobs): Promise<readonly string[]> {
  const found: string[] = [];
  for await (const { hash } of blobs.list()) found.push(hash);
  return found.sort();
}

describe.each(['folder', 'bucket'] as const)('blobs in a %s', (kind) => {
  test('come out as they went in, by their hash, and go', async () => {
    await using place = await placeIn(kind);
    const { blobs } = place;
    expect(await blobs.size(HASH)).toBeUndefined();
    expect(await all(blobs)).toEqual([]);
    expect(await blobs.put(BYTES)).toEqual({ hash: HASH, bytes: BYTES.length });
    expect(await blobs.put(BYTES)).toEqual({ hash: HASH, bytes: BYTES.length });
    expect(await blobs.get(HASH)).toEqual(BYTES);
    expect(await blobs.size(HASH)).toBe(BYTES.length);
    expect(blobs.placeOf(HASH)).toMatch(new RegExp(`/blobs/${HASH.slice(0, 2)}/${HASH}$`, 'u'));
    await blobs.drop(HASH);
    await blobs.drop(HASH);
    await expect(blobs.get(HASH)).rejects.toMatchObject({ code: 'blob-missing', data: { path: blobs.placeOf(HASH) } });
  });

  test('an empty one is one as well', async () => {
    await using place = await placeIn(kind);
    const { hash } = await place.blobs.put(Buffer.alloc(0));
    expect(await place.blobs.get(hash)).toHaveLength(0);
  });

  test('what was cut short is written anew', async () => {
    await using place = await placeIn(kind);
    await place.spoil(BYTES.subarray(0, 4));
    await expect(place.blobs.get(HASH)).rejects.toMatchObject({ code: 'blob-damaged' });
    await place.blobs.put(BYTES);
    expect(await place.blobs.get(HASH)).toEqual(BYTES);
  });

  test('what is damaged is set aside, and no longer counts', async () => {
    await using place = await placeIn(kind);
    await place.blobs.put(BYTES);
    await place.spoil(Buffer.from('high water at ten'));
    await expect(place.blobs.get(HASH)).rejects.toMatchObject({ code: 'blob-damaged' });
    expect(await place.blobs.setAside(HASH)).toMatch(new RegExp(`/damaged/${HASH}$`, 'u'));
    await expect(place.blobs.get(HASH)).rejects.toMatchObject({ code: 'blob-missing' });
    expect(await all(place.blobs)).toEqual([]);
  });
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
});

describe('a bucket of blobs', () => {
  test('is listed page by page, and only what is ours', async () => {
    const blobs = bucketBlobs(`${server.address}/paged`, 3);
    const hashes: string[] = [];
    for (const height of ['1.2 m', '2.3 m', '3.4 m', '4.5 m', '5.6 m', '6.7 m', '7.8 m'])
      hashes.push((await blobs.put(Buffer.from(height))).hash);
    const client = new S3Client({ forcePathStyle: true });
    for (const Key of ['paged/blobs/note.txt', `paged/blobs/aa/${HASH}`, `paged/${HASH}`])
      await client.send(new PutObjectCommand({ Bucket: 'quay-pictures', Key, Body: 'not ours' }));
    client.destroy();
    expect(await all(blobs)).toEqual(hashes.sort());
  });

  const asked = (address = 's3://quay-pictures/pier'): Promise<unknown> => bucketBlobs(address).put(BYTES);

  test('that is not there, refuses or does not answer says which', async () => {
    await expect(asked('s3://no-such-quay/pier')).rejects.toMatchObject({ code: 'bucket-missing' });
    await expect(bucketBlobs('s3://no-such-quay/pier').get(HASH)).rejects.toMatchObject({ code: 'bucket-missing' });
    const wrongKey = setEnv({ AWS_ACCESS_KEY_ID: 'nobody', AWS_SECRET_ACCESS_KEY: 'low-water' });
    await expect(asked()).rejects.toMatchObject({ code: 'bucket-refused' });
    await expect(asked()).rejects.not.toThrow(/low-water/u);
    wrongKey();
    const port = await freePort();
    const nobody = setEnv({ AWS_ENDPOINT_URL_S3: `http://127.0.0.1:${String(port)}` });
    await expect(asked()).rejects.toMatchObject({ code: 'bucket-unreachable' });
    await expect(asked()).rejects.toThrow(/^s3:\/\/quay-pictures\/pier\/blobs: the bucket cannot be reached: .*ECONNREFUSED/u);
    nobody();
  });

  test('without keys or a region says so', async () => {
    const none = setEnv({
      ...{ AWS_ACCESS_KEY_ID: '', AWS_SECRET_ACCESS_KEY: '', AWS_EC2_METADATA_DISABLED: 'true', HOME: '/nowhere' },
      ...{ AWS_SHARED_CREDENTIALS_FILE: '/nowhere/keys', AWS_CONFIG_FILE: '/nowhere/config' },
    });
    await expect(asked()).rejects.toMatchObject({ code: 'bucket-keys-missing' });
    none();
    const noRegion = setEnv({ AWS_REGION: '', AWS_CONFIG_FILE: '/nowhere/config' });
    await expect(asked()).rejects.toMatchObject({ code: 'bucket-keys-missing' });
    noRegion();
  });

  // The server of the tests has one region; these are the shapes that the manual of Amazon S3, "Error responses", gives.
  test('in another region is told with it', () => {
    const moved = Object.assign(
      new Error('The bucket you are attempting to access must be addressed using the specified endpoint.'),
      {
        name: 'PermanentRedirect',
        $metadata: { httpStatusCode: 301 },
        $response: { headers: { 'x-amz-bucket-region': 'eu-north-1' } },
      },
    );
    expect(bucketFault('s3://quay', moved)).toMatchObject({ code: 'bucket-elsewhere', data: { region: 'eu-north-1' } });
    const signed = Object.assign(new Error("the region 'us-east-1' is wrong"), {
      name: 'AuthorizationHeaderMalformed',
      Region: 'eu-north-1',
      $metadata: { httpStatusCode: 400 },
    });
    expect(bucketFault('s3://quay', signed)).toMatchObject({ code: 'bucket-elsewhere', data: { region: 'eu-north-1' } });
  });

  test('without its library says what to install', () => {
    const absent = Object.assign(new Error("Cannot find package '@aws-sdk/client-s3'"), { code: 'ERR_MODULE_NOT_FOUND' });
    expect(bucketFault('s3://quay', absent)).toMatchObject({ code: 'bucket-library-missing' });
  });

  test.each(['s3://', 's3://q', 's3://key:secret@quay/pier', 's3://quay/pier?key=secret', 's3:quay'])(
    '%s is no address',
    (address) => {
      expect(() => bucketBlobs(address)).toThrow(/The address of the bucket: found/u);
      expect(() => bucketBlobs(address)).not.toThrow(/secret/u);
    },
  );
});

async function freePort(): Promise<number> {
  const listening = createServer();
  await new Promise<void>((resolve) => listening.listen(0, '127.0.0.1', resolve));
  const address = listening.address();
  await new Promise((resolve) => listening.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}
