// Blobs as files named by the SHA-256 of their content, `blobs/ab/abcd…`. A blob is whole or absent: written under another name,
// flushed, then renamed.
import type { Stats } from 'node:fs';
import { mkdir, open, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { blobDamaged, blobMissing } from '../../errors/ledger-errors.ts';
import { codeOf } from '../database/ledger-fault.ts';
import type { BlobEntry, BlobReceipt, Blobs } from './blobs.ts';
import { hashOf, isHash } from './blobs.ts';

/** @param folder of the store; the blobs lie in `blobs` below it */
export function folderBlobs(folder: string): Blobs {
  return {
    place: join(folder, 'blobs'),
    placeOf: (hash) => blobPath(folder, hash),
    put: (bytes) => writeBlob(folder, bytes),
    get: (hash) => readBlob(folder, hash),
    size: (hash) => sizeOf(blobPath(folder, hash)),
    drop: (hash) => rm(blobPath(folder, hash), { force: true }),
    setAside: async (hash) => {
      const aside = join(folder, 'damaged', hash);
      await mkdir(join(folder, 'damaged'), { recursive: true });
      await rename(blobPath(folder, hash), aside);
      return aside;
    },
    list: () => listBlobs(folder),
    nowMs: () => nowMs(folder),
    sweep: () => sweepUnderWay(folder),
  };
}

/** @param folder the store @param hash as `hashOf` gives it */
export function blobPath(folder: string, hash: string): string {
  return join(folder, 'blobs', hash.slice(0, 2), hash);
}

let written = 0;

/** Costs one `stat` when the blob is there already. */
async function writeBlob(folder: string, bytes: Uint8Array): Promise<BlobReceipt> {
  const hash = hashOf(bytes);
  const path = blobPath(folder, hash);
  // A file of another length was cut by something else than us: it is written anew.
  if ((await sizeOf(path)) !== bytes.byteLength) {
    written += 1;
    const temporary = join(folder, 'blobs', 'under-way', `${hash}.${String(process.pid)}.${String(written)}`);
    const shelf = join(folder, 'blobs', hash.slice(0, 2));
    await mkdir(shelf, { recursive: true });
    await mkdir(join(folder, 'blobs', 'under-way'), { recursive: true });
    try {
      const file = await open(temporary, 'w');
      try {
        await file.writeFile(bytes);
        await file.sync();
      } finally {
        await file.close();
      }
      await rename(temporary, path);
    } catch (error) {
      await rm(temporary, { force: true });
      throw error;
    }
    await flushFolder(shelf);
  }
  return { hash, bytes: bytes.byteLength };
}

/** @throws blob-missing, blob-damaged */
async function readBlob(folder: string, hash: string): Promise<Buffer> {
  const path = blobPath(folder, hash);
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') throw blobMissing(hash, path);
    throw error;
  }
  const found = hashOf(bytes);
  if (found !== hash) throw blobDamaged(hash, path, found);
  return bytes;
}

async function sweepUnderWay(folder: string): Promise<void> {
  const place = join(folder, 'blobs', 'under-way');
  for (const name of await namesIn(place)) await rm(join(place, name), { force: true });
}

/** All blob files, shelf by shelf. */
async function* listBlobs(folder: string): AsyncGenerator<BlobEntry> {
  for (const shelf of (await namesIn(join(folder, 'blobs'))).filter((name) => /^[0-9a-f]{2}$/.test(name))) {
    for (const hash of (await namesIn(join(folder, 'blobs', shelf))).filter(isHash)) {
      const found = await factsOf(blobPath(folder, hash));
      // The time of its last change, which no program can set: what was copied here is as new as the copy.
      if (found !== undefined) yield { hash, bytes: found.size, atMs: found.ctimeMs };
    }
  }
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return (await readdir(folder)).sort();
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return [];
    throw error;
  }
}

/** A file is made for it: a shared folder has the clock of the machine that it lies on. */
async function nowMs(folder: string): Promise<number> {
  const place = join(folder, 'blobs', 'under-way');
  await mkdir(place, { recursive: true });
  const file = join(place, `clock.${String(process.pid)}`);
  await writeFile(file, '');
  const { ctimeMs } = await stat(file);
  await rm(file, { force: true });
  return ctimeMs;
}

async function sizeOf(path: string): Promise<number | undefined> {
  return (await factsOf(path))?.size;
}

async function factsOf(path: string): Promise<Stats | undefined> {
  try {
    return await stat(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}

/** Makes the new name itself lasting; some systems do not let folders be opened, there the rename must do. */
async function flushFolder(folder: string): Promise<void> {
  try {
    const handle = await open(folder, 'r');
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch (error) {
    if (!['EISDIR', 'EPERM', 'EACCES', 'EINVAL'].includes(codeOf(error))) throw error;
  }
}
