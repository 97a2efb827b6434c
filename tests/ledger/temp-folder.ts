// A folder for one test, gone afterwards.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface TempFolder extends AsyncDisposable {
  readonly path: string;
}

export async function tempFolder(): Promise<TempFolder> {
  const path = await mkdtemp(join(tmpdir(), 'gloam-test-'));
  return { path, [Symbol.asyncDispose]: () => rm(path, { recursive: true, force: true }) };
}
