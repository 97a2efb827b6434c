// Reads token files that stand in the test itself.
import type { TokenGraph } from '../../src/tokens/graph.ts';
import type { ReadOptions, ReadTokens, ResolverFiles, ThemeFiles } from '../../src/tokens/read-token-files.ts';
import { readTokenFiles } from '../../src/tokens/read-token-files.ts';

export type Files = Readonly<Record<string, unknown>>;

/** @param files path → JSON text, or a value that is written as JSON */
export function readWith(files: Files, what: ResolverFiles | ThemeFiles, options: Omit<ReadOptions, 'readText'> = {}): ReadTokens {
  const readText = (path: string): string | null => {
    if (!Object.hasOwn(files, path)) return null;
    const file = files[path];
    return typeof file === 'string' ? file : JSON.stringify(file);
  };
  return readTokenFiles(what, { ...options, readText });
}

/** One file, one theme called `only`. */
export function readOne(file: unknown, options: Omit<ReadOptions, 'readText'> = {}): TokenGraph {
  return readWith({ 'one.tokens.json': file }, { base: ['one.tokens.json'], themes: { only: [] } }, options).graph;
}

/** A colour value from `#rrggbb` or `#rrggbbaa`. */
export function srgb(hex: string): unknown {
  const code = (at: number): number => Number.parseInt(hex.slice(at, at + 2), 16) / 255;
  return { colorSpace: 'srgb', components: [code(1), code(3), code(5)], ...(hex.length > 7 ? { alpha: code(7) } : {}) };
}

/** `code token`, sorted. */
export function problemsOf(graph: TokenGraph): readonly string[] {
  return graph.problems.map(({ code, token }) => `${code} ${token}`.trim()).sort();
}
