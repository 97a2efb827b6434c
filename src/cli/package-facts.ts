// Facts of the installed package: its folder and its version.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** Folder that holds package.json, seen from src/cli or from dist/src/cli. */
export function packageFolder(): string {
  let folder = path.dirname(fileURLToPath(import.meta.url));
  for (;;) {
    if (isPackage(path.join(folder, 'package.json'))) return folder;
    const above = path.dirname(folder);
    if (above === folder) throw new Error(`no package.json of gloam above ${fileURLToPath(import.meta.url)}`);
    folder = above;
  }
}

export function packageVersion(): string {
  const facts = readFacts(path.join(packageFolder(), 'package.json'));
  return facts.version ?? 'unknown';
}

function isPackage(file: string): boolean {
  try {
    return readFacts(file).name === 'gloam';
  } catch {
    return false;
  }
}

function readFacts(file: string): { readonly name?: string; readonly version?: string } {
  return JSON.parse(readFileSync(file, 'utf8')) as { name?: string; version?: string };
}
