// Files and globs named on the command line → their texts. Bytes that are no UTF-8 are told, so that nothing is written back changed.
import { readFileSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import picomatch from 'picomatch';
import { wrongUse } from '../errors/command-errors.ts';

export interface SourceFile {
  /** As named, or relative to the working folder. */
  readonly file: string;
  /** Without a byte-order mark. */
  readonly text: string;
  readonly mark: boolean;
  /** Writing the text back gives the same bytes. */
  readonly faithful: boolean;
}

const MARK = '\uFEFF';

/**
 * @param patterns files, folders or globs, relative to `folder`; folders named `node_modules` and those with a leading dot are not entered
 * @throws GloamError `wrong-use` where a pattern matches nothing
 */
export function readSources(patterns: readonly string[], folder: string, endings: readonly string[]): readonly SourceFile[] {
  const files = new Set(patterns.flatMap((pattern) => expand(pattern, folder, endings)));
  return [...files].map((file) => {
    const bytes = readFileSync(path.resolve(folder, file));
    const all = bytes.toString('utf8');
    const mark = all.startsWith(MARK);
    return { file, text: mark ? all.slice(1) : all, mark, faithful: Buffer.from(all, 'utf8').equals(bytes) };
  });
}

function expand(pattern: string, folder: string, endings: readonly string[]): readonly string[] {
  const hasEnding = (file: string): boolean => endings.includes(path.extname(file).toLowerCase());
  const stat = statSync(path.resolve(folder, pattern), { throwIfNoEntry: false });
  if (stat?.isFile() === true) {
    if (hasEnding(pattern)) return [pattern];
    throw wrongUse(`${pattern}: cannot be read for literals.`, `Expected a file that ends in one of ${endings.join(' ')}.`);
  }
  const glob = stat?.isDirectory() === true ? `${pattern.replace(/[\\/]+$/, '')}/**` : pattern;
  const { base } = picomatch.scan(glob);
  const matches = picomatch(glob.replace(/^\.\//, ''), { dot: false });
  const found = filesBelow(path.resolve(folder, base))
    .map((file) => path.relative(folder, file).replaceAll(path.sep, '/'))
    .filter((file) => hasEnding(file) && (matches(file) || matches(path.resolve(folder, file))))
    .sort();
  if (found.length === 0)
    throw wrongUse(`${pattern}: no such file.`, `Name files or globs that end in one of ${endings.join(' ')}; quote globs.`);
  return found;
}

function filesBelow(folder: string): readonly string[] {
  if (statSync(folder, { throwIfNoEntry: false })?.isDirectory() !== true) return [];
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry): readonly string[] => {
    const at = path.join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === 'node_modules' || entry.name.startsWith('.') ? [] : filesBelow(at);
    return entry.isFile() ? [at] : [];
  });
}
