// Runs and pictures are no part of the sources: their folder gets a line in the ignore file of the repository.
import { existsSync } from 'node:fs';
import { appendFile, readFile } from 'node:fs/promises';
import path from 'node:path';

const NAME = '.gitignore';

/**
 * @param folder of the configuration, where the store will be
 * @returns the file that got the line; null outside a repository, and where a line is there already
 */
export async function ignoreStore(folder: string): Promise<string | null> {
  const root = repositoryOf(folder);
  if (root === null) return null;
  for (let here = folder; ; here = path.dirname(here)) {
    const file = path.join(here, NAME);
    if (existsSync(file) && namesStore(await readFile(file, 'utf8'))) return null;
    if (here === root) break;
  }
  const file = path.join(folder, NAME);
  const before = existsSync(file) ? await readFile(file, 'utf8') : '';
  await appendFile(file, `${before === '' || before.endsWith('\n') ? '' : '\n'}.gloam/\n`);
  return file;
}

/** The folder above, or this one, that version control keeps its own things in. */
export function repositoryOf(folder: string): string | null {
  for (let here = path.resolve(folder); ; here = path.dirname(here)) {
    if (existsSync(path.join(here, '.git'))) return here;
    if (path.dirname(here) === here) return null;
  }
}

function namesStore(text: string): boolean {
  return text.split(/\r?\n/).some((line) => /^(\*\*\/|\/)?\.gloam\/?\*?$/.test(line.trim()));
}
