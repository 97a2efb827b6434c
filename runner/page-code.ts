// The bundle of in-page code as text (npm run build:page).
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { pageCodeMissing } from '../src/errors/capture-errors.ts';

let code: Promise<string> | null = null;

/** @throws GloamError `page-code-missing` */
export function pageCode(): Promise<string> {
  return (code ??= read());
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
