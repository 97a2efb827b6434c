// The bundle of in-page code as text (npm run build:page).
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { pageCodeMissing } from '../src/errors/capture-errors.ts';

let code: Promise<string> | null = null;

/** @throws GloamError `page-code-missing` */
export function pageCode(): Promise<string> {
  return (code ??= read());
}

/** What the samples of a page depend on besides the page: this package, and the code that runs in the page. */
export async function readerVersion(): Promise<string> {
  const code = await pageCode();
  return (version ??= createHash('sha256')
    .update(readFileSync(join(packageRoot(import.meta.dirname), 'package.json')))
    .update(code)
    .digest('hex'));
}

let version: string | null = null;

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
