// Pictures by hash: whole, scaled, and cut out. Never by path: a hash is letters and digits, and only PNG files are handed out.
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Sharp, SharpOptions } from 'sharp';
import { hash as hashShape } from '../api/basics.ts';
import { nothingHere, requestUnreadable } from '../../src/errors/server-errors.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { RunReader } from '../../src/ledger/ports.ts';

/** Widths there are, device px; anything else would let strangers fill the disk. */
const THUMB_WIDTHS = [240, 480, 960];
/** The side of a crop, device px, and what a file of one kind may take in memory. */
const MOST_CROP = 1_600;
const CROPS_KEPT = 400;
/** Decoded pictures; some 15 MB each. Crops of one cause lie on few pictures and are asked for together. */
const DECODED_KEPT = 6;
const FOREVER = 'private, max-age=31536000, immutable';
const PNG = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
/** The tallest picture WebP can hold. */
const WEBP_SIDE = 16_383;

type Scaler = (source: Buffer, options?: SharpOptions) => Sharp;

interface Pixels {
  readonly data: Buffer;
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 2 | 3 | 4;
  readonly reader: Scaler;
}

/** Sharp is optional: without it whole pictures are served. */
export async function findScaler(): Promise<Scaler | null> {
  try {
    const { default: sharp } = await import('sharp');
    sharp.concurrency(1);
    return (source, options) => sharp(source, { limitInputPixels: 400_000_000, ...options });
  } catch {
    return null;
  }
}

export function pictureRoutes(app: FastifyInstance, ledger: Ledger, scaler: Scaler | null, keepThumbs: boolean): void {
  app.get<{ Params: { hash: string } }>('/blobs/:hash', async (request, reply) => {
    return send(reply, 'image/png', await pictureOf(ledger, request.params.hash));
  });
  app.get<{ Params: { hash: string; width: string } }>('/thumbs/:hash/:width', async (request, reply) => {
    const { hash } = request.params;
    const width = Number(request.params.width);
    if (!THUMB_WIDTHS.includes(width))
      throw requestUnreadable('path.width', request.params.width.slice(0, 20), THUMB_WIDTHS.join(', '));
    // It becomes a part of a path.
    refuseNoHash(hash);
    if (scaler === null) return send(reply, 'image/png', await pictureOf(ledger, hash));
    const make = async (): Promise<Buffer> => scaled(scaler, await pictureOf(ledger, hash), width);
    return send(reply, 'image/webp', await thumb(ledger.folder, hash, width, make, keepThumbs));
  });
  const crops = keep<Buffer>(CROPS_KEPT);
  const decoded = keep<Pixels>(DECODED_KEPT);
  app.get<{ Params: { hash: string; box: string } }>('/crops/:hash/:box', async (request, reply) => {
    const { hash, box } = request.params;
    const match = /^(\d{1,6})-(\d{1,6})-(\d{1,4})-(\d{1,4})$/.exec(box);
    const [left = 0, top = 0, width = 0, height = 0] = match?.slice(1).map(Number) ?? [];
    if (width < 1 || height < 1 || width > MOST_CROP || height > MOST_CROP) {
      throw requestUnreadable(
        'path.box',
        box.slice(0, 40),
        `left-top-width-height in device px, at most ${String(MOST_CROP)} a side`,
      );
    }
    if (scaler === null) throw nothingHere('crops: pictures cannot be cut here');
    const crop = crops(`${hash} ${box}`, async () =>
      cut(await decoded(hash, async () => decode(scaler, await pictureOf(ledger, hash))), { left, top, width, height }),
    );
    return send(reply, 'image/webp', await crop);
  });
}

/** Keeps the last results; the same thing asked for while it is made is made once. */
function keep<T>(most: number): (key: string, make: () => Promise<T>) => Promise<T> {
  const kept = new Map<string, Promise<T>>();
  return (key, make) => {
    const known = kept.get(key);
    if (known !== undefined) return known;
    const made = make();
    kept.set(key, made);
    made.catch(() => kept.delete(key));
    const [oldest] = kept.keys();
    if (kept.size > most && oldest !== undefined) kept.delete(oldest);
    return made;
  };
}

/** @throws nothing-here for anything that is not the hash of a stored PNG, whole as it was stored */
async function pictureOf(ledger: RunReader, hash: string): Promise<Buffer> {
  refuseNoHash(hash);
  const bytes = await ledger.blob(hash).catch(() => undefined);
  if (bytes?.subarray(0, PNG.length).equals(PNG) === true) return bytes;
  throw nothingHere(`picture ${hash}`);
}

function refuseNoHash(hash: string): void {
  if (!hashShape.safeParse(hash).success) throw nothingHere(`picture ${hash}`);
}

function send(reply: FastifyReply, type: string, body: Buffer): FastifyReply {
  return reply.type(type).header('cache-control', FOREVER).send(body);
}

/** Kept in the store's folder, so that they are made once for each picture; a store that cannot be written does without. */
async function thumb(folder: string, hash: string, width: number, make: () => Promise<Buffer>, keep: boolean): Promise<Buffer> {
  const file = join(folder, 'thumbs', hash.slice(0, 2), `${hash}-${String(width)}.webp`);
  try {
    return await readFile(file);
  } catch {
    const made = await make();
    if (keep) await put(file, made).catch(() => undefined);
    return made;
  }
}

async function put(file: string, content: Buffer): Promise<void> {
  await mkdir(join(file, '..'), { recursive: true });
  const under = `${file}.${String(process.pid)}`;
  await writeFile(under, content);
  await rename(under, file);
}

async function scaled(scaler: Scaler, picture: Buffer, width: number): Promise<Buffer> {
  const image = scaler(picture);
  const size = await image.metadata();
  const height = Math.max(1, Math.round((size.height / size.width) * width));
  return image
    .resize({ width, height: Math.min(WEBP_SIDE, height), fit: 'fill' })
    .webp({ quality: 86, effort: 2 })
    .toBuffer();
}

async function decode(scaler: Scaler, picture: Buffer): Promise<Pixels> {
  const { data, info } = await scaler(picture).raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height, channels: info.channels, reader: scaler };
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A box that reaches beyond the picture gives what there is. */
async function cut({ data, width, height, channels, reader }: Pixels, box: Box): Promise<Buffer> {
  const left = Math.min(box.left, width - 1);
  const top = Math.min(box.top, height - 1);
  const part = { left, top, width: Math.min(box.width, width - left), height: Math.min(box.height, height - top) };
  return reader(data, { raw: { width, height, channels } }).extract(part).webp({ lossless: true, effort: 0 }).toBuffer();
}
