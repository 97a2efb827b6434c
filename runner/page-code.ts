// The bundle of in-page code as text (npm run build:page).
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { pageCodeMissing } from '../src/errors/capture-errors.ts';

let code: Promise<string> | null = null;

/** @throws GloamError `page-code-missing` */
export function pageCode(): Promise<string> {
  return (code ??= read());
}

/** What the samples of a page depend on besides the page: the code that reads it, here and in the page. */
export async function readerVersion(): Promise<string> {
  return (version ??= hashOf(await pageCode(), [
    import.meta.dirname,
    ...READERS.map((part) => join(import.meta.dirname, '..', 'src', part)),
  ]));
}

let version: string | null = null;

/** Parts of `src` that make samples, besides this one. */
const READERS = ['colour', 'pictures', 'samples'] as const;

function hashOf(code: string, folders: readonly string[]): string {
  const hash = createHash('sha256').update(code);
  for (const folder of folders) {
    const names = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => /\.[jt]s$/u.test(name));
    for (const name of names.toSorted()) hash.update(name).update(readFileSync(join(folder, name)));
  }
  return hash.digest('hex');
}

async function read(): Promise<string> {
  const file = join(packageRoot(import.meta.dirname), 'dist', 'page', 'gloam-page.js');
  try {
    return await readFile(file, 'utf8');
  } catch {
    throw pageCodeMissing(file);
  }
}

/** This file runs from source and from dist; package.json stands above both. */
function packageRoot(from: string): string {
  for (let folder = from; ; folder = dirname(folder)) {
    if (existsSync(join(folder, 'package.json')) || dirname(folder) === folder) return folder;
  }
}
