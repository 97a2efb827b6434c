// All files of an export with the hashes of their content, for comparing two runs byte for byte.
import { readdir, readFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { hashOf } from '../../src/ledger/blobs/blobs.ts';
import { exportJudged } from '../../src/cli/run/export-judged.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';

export async function exported(ledger: Ledger, run: string, folder: string): Promise<Readonly<Record<string, string>>> {
  await exportJudged(ledger, run, folder, true);
  const entries = (await readdir(folder, { recursive: true, withFileTypes: true })).filter((entry) => entry.isFile());
  const paths = entries.map((entry) => join(entry.parentPath, entry.name)).sort();
  const pairs = paths.map(async (path) => [relative(folder, path), hashOf(await readFile(path))] as const);
  return Object.fromEntries(await Promise.all(pairs));
}
