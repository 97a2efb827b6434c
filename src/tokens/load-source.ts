// Reads the files of a token set, each once; file access itself is an argument.
import type { JsonObject, Source } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import { parseJson } from './json/parse-json.ts';
import type { Report } from './problem.ts';
import { levelOf } from './problem.ts';

/** @param path relative to the same folder as the paths given to the reader @returns null when it cannot be read */
export type ReadText = (path: string) => string | null;

export interface Loader {
  /** @returns null when the file cannot be read; that is for the caller to report, who knows where it was named */
  readonly load: (file: string) => Source | null;
  /** The text is JSON through and through; of others only what could be read is there. */
  readonly isSound: (source: Source) => boolean;
}

export function createLoader(readText: ReadText, report: Report, options: { readonly comments?: boolean } = {}): Loader {
  const known = new Map<string, Source | null>();
  const unsound = new Set<Source>();
  return {
    isSound: (source) => !unsound.has(source),
    load: (file) => {
      const before = known.get(file);
      if (before !== undefined) return before;
      const text = readText(file);
      const parsed = text === null ? null : parseJson(file, text, options);
      for (const fault of parsed?.faults ?? []) {
        report(fault);
        if (levelOf(fault.code, false) === 'error') unsound.add(fault.at.source);
      }
      known.set(file, parsed?.source ?? null);
      return parsed?.source ?? null;
    },
  };
}

/** The root of a document, which must be an object. @returns null when it is none (reported, unless nothing could be read) */
export function rootObject(source: Source, report: Report): JsonObject | null {
  const { root } = source;
  if (root === null || root.kind === 'broken') return null;
  if (root.kind === 'object') return root;
  report({
    code: 'not-json-object',
    token: '',
    at: root,
    found: quote(root),
    expected: 'a JSON object',
    hint: 'The root of the file is a group.',
  });
  return null;
}

/** A path as written in a file → relative to where that file's own path starts. Both slashes are understood. */
export function pathBeside(file: string, relative: string): string {
  const isAbsolute = /^([/\\]|[A-Za-z]:[/\\])/.test(relative);
  const cut = Math.max(file.lastIndexOf('/'), file.lastIndexOf('\\'));
  const joined = isAbsolute || cut === -1 ? relative : file.slice(0, cut + 1) + relative;
  const parts: string[] = [];
  for (const part of joined.split(/[/\\]/)) {
    if (part === '.' || (part === '' && parts.length > 0)) continue;
    const above = parts.at(-1);
    if (part !== '..' || above === undefined || above === '..') parts.push(part);
    // There is nothing above the root.
    else if (above !== '') parts.pop();
  }
  return parts.join('/');
}
