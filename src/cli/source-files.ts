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

/** A file or folder below the named ones that could not be read. */
export interface UnreadablePlace {
  readonly file: string;
  readonly reason: string;
}

const MARK = '\uFEFF';

/**
 * @param patterns files, folders or globs, relative to `folder`; folders named `node_modules` and those with a leading dot are not entered
 * @returns the files, what could not be read, and of each pattern that gives none, though others do, in words what it is
 * @throws GloamError `wrong-use` where no pattern matches anything, or what one names plainly cannot be read
 */
export function readSources(
  patterns: readonly string[],
  folder: string,
  endings: readonly string[],
): {
  readonly sources: readonly SourceFile[];
  readonly unreadable: readonly UnreadablePlace[];
  readonly idle: readonly string[];
} {
  const unreadable: UnreadablePlace[] = [];
  const report = (file: string, error: unknown): void => {
    unreadable.push({ file: path.relative(folder, path.resolve(folder, file)).replaceAll(path.sep, '/'), reason: reasonOf(error) });
  };
  const found = patterns.map((pattern) => {
    const before = unreadable.length;
    const all = expand(pattern, { folder, endings, report });
    return { pattern, files: all, isIdle: all.length === 0 && unreadable.length === before };
  });
  const idle = found.flatMap(({ pattern, isIdle }) => (isIdle ? [`${pattern}: ${whyNone(pattern, folder)}`] : []));
  if (idle.length === found.length)
    throw wrongUse(
      `${idle.join('; ')}.`,
      `Name files that end in one of ${endings.join(' ')}, folders with such files, or globs in quotes.`,
    );
  const files = new Set(found.flatMap(({ files: all }) => all));
  const sources = [...files].flatMap((file): readonly SourceFile[] => {
    try {
      const bytes = readFileSync(path.resolve(folder, file));
      const all = bytes.toString('utf8');
      const mark = all.startsWith(MARK);
      return [{ file, text: mark ? all.slice(1) : all, mark, faithful: Buffer.from(all, 'utf8').equals(bytes) }];
    } catch (error) {
      report(file, error);
      return [];
    }
  });
  return { sources, unreadable, idle };
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message.replace(/,.*$/su, '') : String(error);
}

interface Expansion {
  readonly folder: string;
  readonly endings: readonly string[];
  readonly report: (file: string, error: unknown) => void;
}

function expand(pattern: string, { folder, endings, report }: Expansion): readonly string[] {
  const hasEnding = (file: string): boolean => endings.includes(path.extname(file).toLowerCase());
  const stat = factsOf(pattern, folder);
  if (stat?.isFile() === true) {
    if (hasEnding(pattern)) return [pattern];
    throw wrongUse(`${pattern}: cannot be read for literals.`, `Expected a file that ends in one of ${endings.join(' ')}.`);
  }
  const isFolder = stat?.isDirectory() === true;
  const scanned = picomatch.scan(pattern);
  // Of a pattern that says what it is not, nothing is plain.
  const { base, glob } = scanned.negated ? { base: '', glob: pattern } : scanned;
  const top = path.resolve(folder, isFolder ? pattern : base);
  // Only what stands below the plain part of the pattern is matched: a glob does not lead upwards, and names of folders may look like globs.
  const matches = isFolder ? () => true : glob === '' ? () => false : picomatch(glob, { dot: false });
  const withSlashes = (from: string, file: string): string => path.relative(from, file).replaceAll(path.sep, '/');
  return filesBelow(top, report)
    .filter((file) => hasEnding(file) && matches(withSlashes(top, file)))
    .map((file) => withSlashes(folder, file))
    .sort();
}

/** Why a pattern gives no file, as the end of a sentence that begins with it. */
function whyNone(pattern: string, folder: string): string {
  if (factsOf(pattern, folder) !== undefined)
    return 'a folder without any file to read (`node_modules` and folders with a leading dot are not entered)';
  return picomatch.scan(pattern).isGlob ? 'a glob that matches no file to read' : 'no such file or folder';
}

/** A pattern with signs of a glob in it names no file; what it names plainly must be there to be read. */
function factsOf(pattern: string, folder: string): ReturnType<typeof statSync> | undefined {
  try {
    return statSync(path.resolve(folder, pattern), { throwIfNoEntry: false });
  } catch (error) {
    throw wrongUse(`${pattern}: cannot be read: ${reasonOf(error)}.`, 'Name files and folders that this user may read.');
  }
}

function filesBelow(folder: string, report: Expansion['report']): readonly string[] {
  let entries;
  try {
    if (statSync(folder, { throwIfNoEntry: false })?.isDirectory() !== true) return [];
    entries = readdirSync(folder, { withFileTypes: true });
  } catch (error) {
    report(folder, error);
    return [];
  }
  return entries.flatMap((entry): readonly string[] => {
    const at = path.join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === 'node_modules' || entry.name.startsWith('.') ? [] : filesBelow(at, report);
    return entry.isFile() ? [at] : [];
  });
}
