// The store that a test works on: a folder, or a schema of the tests' own PostgreSQL with its blobs in that folder.
import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';
import pg from 'pg';
import { expect, inject } from 'vitest';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import type { StorePlace } from '../../src/ledger/store-at.ts';

/** @param folder that nothing else uses; the same folder is the same store */
export function storeIn(folder: string): StorePlace {
  // Absent in the project whose stores are folders.
  const address = inject('postgres') as string | undefined;
  if (address === undefined) return folder;
  return { address, schema: `t${hashOf(folder).slice(0, 24)}`, folder, blobs: folder };
}

/** As some hand other than gloam's would. Has to change something. */
export async function changeRows(folder: string, statement: string): Promise<void> {
  const place = storeIn(folder);
  if (typeof place === 'string') {
    const file = new SqliteFile(join(place, 'ledger.sqlite'));
    expect(file.prepare(statement).run().changes).toBeGreaterThan(0);
    file.close();
    return;
  }
  const client = new pg.Client({ connectionString: place.address, options: `-c search_path=${place.schema}` });
  await client.connect();
  expect((await client.query(statement)).rowCount).toBeGreaterThan(0);
  await client.end();
}
