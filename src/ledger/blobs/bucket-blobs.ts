// Blobs as objects of a bucket that speaks the protocol of Amazon S3, named as in a folder: `PREFIX/blobs/ab/abcd…`. An object is whole
// or absent by itself. Keys, region and endpoint are the library's business: its environment, its files. It is loaded with the first
// question, since most commands ask none.
import { blobDamaged, blobMissing } from '../../errors/ledger-errors.ts';
import { bucketAddressUnreadable } from '../../errors/bucket-errors.ts';
import { readBucketAddress } from '../../plan/bucket-address.ts';
import type { BlobReceipt, Blobs } from './blobs.ts';
import { hashOf, isHash } from './blobs.ts';
import { bucketFault, isAbsent } from './bucket-fault.ts';

type Library = typeof import('@aws-sdk/client-s3');

interface Asked {
  readonly library: Library;
  readonly client: InstanceType<Library['S3Client']>;
}

/** A server that does not take the connection, or does not answer; the library asks three times (AWS_MAX_ATTEMPTS). */
const CONNECT_MS = 10_000;
const ANSWER_MS = 60_000;

/** @param address `s3://BUCKET/PREFIX` @param atOnce names in one part of its list, 1,000 at most @throws bucket-address-unreadable */
export function bucketBlobs(address: string, atOnce = 1_000): Blobs {
  const read = readBucketAddress(address);
  if (read === null) throw bucketAddressUnreadable('what cannot be read as one');
  const { bucket: Bucket, prefix } = read;
  const root = prefix === '' ? '' : `${prefix}/`;
  const shelves = `${root}blobs/`;
  const place = `s3://${Bucket}/${shelves.slice(0, -1)}`;
  const keyOf = (hash: string): string => `${shelves}${hash.slice(0, 2)}/${hash}`;
  const placeOf = (hash: string): string => `s3://${Bucket}/${keyOf(hash)}`;

  let opened: Promise<Asked> | null = null;
  const ask = async <T>(work: (asked: Asked) => Promise<T>): Promise<T> => {
    try {
      return await work(await (opened ??= open()));
    } catch (error) {
      throw bucketFault(place, error);
    }
  };
  const sizeOf = (hash: string): Promise<number | undefined> =>
    ask(async ({ library, client }) => {
      try {
        return (await client.send(new library.HeadObjectCommand({ Bucket, Key: keyOf(hash) }))).ContentLength;
      } catch (error) {
        if (isAbsent(error)) return undefined;
        throw error;
      }
    });
  const drop = (hash: string): Promise<void> =>
    ask(async ({ library, client }) => {
      await client.send(new library.DeleteObjectCommand({ Bucket, Key: keyOf(hash) }));
    });

  return {
    place,
    placeOf,
    size: sizeOf,
    drop,
    async put(bytes): Promise<BlobReceipt> {
      const hash = hashOf(bytes);
      const receipt = { hash, bytes: bytes.byteLength };
      if ((await sizeOf(hash)) === bytes.byteLength) return receipt;
      await ask(({ library, client }) =>
        client.send(
          new library.PutObjectCommand({
            ...{ Bucket, Key: keyOf(hash), Body: bytes, ContentLength: bytes.byteLength },
            // Servers that know it refuse what came in damaged.
            ChecksumSHA256: Buffer.from(hash, 'hex').toString('base64'),
          }),
        ),
      );
      return receipt;
    },
    get: (hash) =>
      ask(async ({ library, client }) => {
        let bytes: Buffer;
        try {
          const { Body } = await client.send(new library.GetObjectCommand({ Bucket, Key: keyOf(hash) }));
          bytes = Buffer.from((await Body?.transformToByteArray()) ?? []);
        } catch (error) {
          if (isAbsent(error)) throw blobMissing(hash, placeOf(hash));
          throw error;
        }
        const found = hashOf(bytes);
        if (found !== hash) throw blobDamaged(hash, placeOf(hash), found);
        return bytes;
      }),
    async setAside(hash) {
      const aside = `${root}damaged/${hash}`;
      await ask(({ library, client }) =>
        client.send(new library.CopyObjectCommand({ Bucket, Key: aside, CopySource: encodeURI(`${Bucket}/${keyOf(hash)}`) })),
      );
      await drop(hash);
      return `s3://${Bucket}/${aside}`;
    },
    async *list() {
      let ContinuationToken: string | undefined;
      do {
        const more = ContinuationToken === undefined ? {} : { ContinuationToken };
        const page = await ask(({ library, client }) =>
          client.send(new library.ListObjectsV2Command({ Bucket, Prefix: shelves, MaxKeys: atOnce, ...more })),
        );
        for (const { Key = '', Size = 0, LastModified } of page.Contents ?? []) {
          const hash = Key.slice(Key.lastIndexOf('/') + 1);
          if (isHash(hash) && Key === keyOf(hash)) yield { hash, bytes: Size, atMs: LastModified?.getTime() ?? Infinity };
        }
        ContinuationToken = page.IsTruncated === true ? page.NextContinuationToken : undefined;
      } while (ContinuationToken !== undefined);
    },
    nowMs: () =>
      ask(async ({ library, client }) => {
        const clock = { Bucket, Key: `${root}under-way/clock` };
        await client.send(new library.PutObjectCommand({ ...clock, Body: 'now', ContentLength: 3 }));
        const { LastModified } = await client.send(new library.HeadObjectCommand(clock));
        await client.send(new library.DeleteObjectCommand(clock));
        // Unknown, nothing counts as old.
        return LastModified?.getTime() ?? -Infinity;
      }),
    // Nothing is ever half written.
    sweep: () => Promise.resolve(),
  };
}

async function open(): Promise<Asked> {
  const library = await import('@aws-sdk/client-s3');
  // A server of one's own has one name for all buckets; the library takes its address from there by itself.
  const hasOwnServer = ['AWS_ENDPOINT_URL_S3', 'AWS_ENDPOINT_URL'].some((name) => (process.env[name] ?? '') !== '');
  const client = new library.S3Client({
    forcePathStyle: hasOwnServer,
    // What comes is proved by our own hash, and not every server of the kind knows the library's newer sums.
    requestChecksumCalculation: 'WHEN_REQUIRED',
    responseChecksumValidation: 'WHEN_REQUIRED',
    requestHandler: { connectionTimeout: CONNECT_MS, requestTimeout: ANSWER_MS, throwOnRequestTimeout: true },
  });
  return { library, client };
}
