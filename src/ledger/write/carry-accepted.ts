// Accepted sets travel between machines as a folder: accepted.json and the blobs it names. Nothing in it is believed unchecked.
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { acceptedSetUnreadable } from '../../errors/ledger-errors.ts';
import type { ViewRef } from '../../samples/view.ts';
import { recordAcceptance } from './accept.ts';
import { viewNumbers } from './begin-run.ts';
import { isHash } from '../blobs/blobs.ts';
import { folderBlobs } from '../blobs/folder-blobs.ts';
import { codeOf } from '../database/ledger-fault.ts';
import type { LedgerContext } from '../database/ledger-context.ts';
import { acceptedRows, readAccepted } from '../read/accepted.ts';
import type { Acceptance } from '../records.ts';
import type { BlobTable } from '../database/schema.ts';
import { together } from '../database/together.ts';

const FORMAT = 'gloam-accepted/1';

interface CarriedPicture extends ViewRef {
  readonly shot: string;
  readonly samples: string | null;
  readonly properties: string | null;
}

interface CarriedSet {
  readonly format: typeof FORMAT;
  readonly set: string;
  readonly pictures: readonly CarriedPicture[];
}

/** @returns how many pictures were written */
export async function exportAccepted(context: LedgerContext, set: string, folder: string): Promise<number> {
  const pictures = (await readAccepted(context, [set])).map(
    ({ id, page, theme, state, viewport, shot, samples, properties }): CarriedPicture => ({
      ...{ id, page, theme, state, viewport, shot, samples, properties },
    }),
  );
  await mkdir(folder, { recursive: true });
  const carried = folderBlobs(folder);
  for (const hash of hashesOf(pictures)) await carried.put(await context.store.blobs.get(hash));
  const file: CarriedSet = { format: FORMAT, set, pictures };
  await writeFile(join(folder, 'accepted.json'), `${JSON.stringify(file, null, 2)}\n`);
  return pictures.length;
}

/**
 * Makes the folder's pictures the accepted ones, as one act that can be undone. Needs the store for itself.
 * @param as another name for the set @throws accepted-set-unreadable, blob-missing, blob-damaged
 */
export async function importAccepted(
  context: LedgerContext,
  folder: string,
  act: { readonly who: string; readonly note: string; readonly at: string; readonly as?: string },
): Promise<Acceptance> {
  const carried = await readCarried(join(folder, 'accepted.json'));
  const set = act.as ?? carried.set;
  // All blobs first: a set with a damaged picture is refused before anything is recorded.
  const sizes = new Map<string, number>();
  const brought = folderBlobs(folder);
  for (const hash of hashesOf(carried.pictures)) {
    sizes.set(hash, (await context.store.blobs.put(await brought.get(hash))).bytes);
  }
  return together(context, async (trx) => {
    const inner = { ...context, db: trx };
    const number = async (kind: BlobTable['kind'], hash: string | null): Promise<number | null> => {
      if (hash === null) return null;
      const blob = { kind, hash, bytes: sizes.get(hash) ?? 0 };
      await trx
        .insertInto('blob')
        .values(blob)
        .onConflict((conflict) => conflict.column('hash').doNothing())
        .execute();
      return (await trx.selectFrom('blob').select('n').where('hash', '=', hash).executeTakeFirstOrThrow()).n;
    };
    const views = await viewNumbers(inner, carried.pictures);
    const inForce = new Map((await acceptedRows(inner, set)).map((row) => [row.view, row]));
    const pictures = [];
    for (const picture of carried.pictures) {
      const view = views.get(picture.id) ?? 0;
      if (inForce.get(view)?.shot === picture.shot) continue;
      pictures.push({
        view,
        shot: await number('shot', picture.shot),
        samples: await number('samples', picture.samples),
        properties: await number('properties', picture.properties),
      });
    }
    return recordAcceptance(inner, { ...act, set, run: null }, pictures);
  });
}

function hashesOf(pictures: readonly CarriedPicture[]): ReadonlySet<string> {
  return new Set(pictures.flatMap(({ shot, samples, properties }) => [shot, samples, properties].filter((hash) => hash !== null)));
}

async function readCarried(file: string): Promise<CarriedSet> {
  let read: unknown;
  try {
    read = JSON.parse(await readFile(file, 'utf8'));
  } catch (error) {
    const found = codeOf(error) === 'ENOENT' ? 'no file' : error instanceof Error ? error.message : 'unreadable text';
    throw acceptedSetUnreadable(file, '(root)', found, 'a file that gloam export --accepted has written');
  }
  const fault = (at: string, found: unknown, expected: string): never => {
    throw acceptedSetUnreadable(file, at, found === undefined ? 'nothing' : JSON.stringify(found), expected);
  };
  if (!isRecord(read)) return fault('(root)', read, 'an object');
  if (read['format'] !== FORMAT) return fault('format', read['format'], `"${FORMAT}"`);
  const { set, pictures } = read;
  if (typeof set !== 'string' || set === '') return fault('set', set, 'the name of the accepted set');
  if (!Array.isArray(pictures)) return fault('pictures', pictures, 'a list');
  return {
    format: FORMAT,
    set,
    pictures: pictures.map((picture: unknown, index) => readPicture(picture, `pictures[${String(index)}]`, fault)),
  };
}

type Complain = (at: string, found: unknown, expected: string) => never;

function readPicture(picture: unknown, at: string, fault: Complain): CarriedPicture {
  if (!isRecord(picture)) return fault(at, picture, 'an object');
  const text = (name: string): string => {
    const value = picture[name];
    return typeof value === 'string' && value !== '' ? value : fault(`${at}.${name}`, value, 'a text');
  };
  const hash = (name: string): string => {
    const value = text(name);
    return isHash(value) ? value : fault(`${at}.${name}`, value, '64 lower-case hexadecimal digits');
  };
  const hashOrNull = (name: string): string | null => (picture[name] === null ? null : hash(name));
  return {
    ...{ id: text('id'), page: text('page'), theme: text('theme'), state: text('state'), viewport: text('viewport') },
    ...{ shot: hash('shot'), samples: hashOrNull('samples'), properties: hashOrNull('properties') },
  };
}

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
