// The token files a configuration names → the token graph over its themes. Reading files is all that happens here.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { FileFault } from '../errors/command-errors.ts';
import { configInvalid } from '../errors/command-errors.ts';
import type { Configuration } from '../plan/configuration.ts';
import { readTokenFiles } from '../tokens/read-token-files.ts';
import type { TokenPair } from '../tokens/faults/pair-table.ts';
import type { ReadTokens } from '../tokens/read-token-files.ts';
import { pathMatcher } from '../tokens/path-glob.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import { nearestName } from './nearest-name.ts';
import { readPairs } from './read-pairs.ts';

export interface ReadConfigured extends ReadTokens {
  /** SHA-256 over the files' paths and texts. */
  readonly digest: string;
  /** Absolute paths, also of those that are missing. */
  readonly files: readonly string[];
  /** Declared in the configuration. */
  readonly pairs: readonly TokenPair[];
  /** What of the declared pairs was left aside: their tokens may be missing because the files have errors. */
  readonly idlePairs: readonly FileFault[];
  /** Globs of `ramps` that match nothing, where others do. */
  readonly idleRamps: readonly FileFault[];
}

export interface ReadOptions {
  readonly strict?: boolean;
  /** Texts that stand for files, by absolute path: what somebody thinks of writing. */
  readonly texts?: ReadonlyMap<string, string>;
}

/**
 * @returns null where no token files are configured; what is wrong in them stands in `graph.problems`
 * @throws config-invalid where a declared pair names no token of files without errors
 */
export function readTokens(configuration: Configuration, options: ReadOptions = {}): ReadConfigured | null {
  const { tokens, themes, ramps, folder } = configuration;
  if (tokens === undefined) return null;
  const rules = tokens.pairs;
  const digest = createHash('sha256');
  const files = new Set<string>();
  const settings = {
    readText: (file: string): string | null => {
      const absolute = path.resolve(folder, file);
      files.add(absolute);
      const text = options.texts?.get(absolute) ?? readText(absolute);
      digest.update(JSON.stringify([file, text]));
      return text;
    },
    ...(ramps === undefined ? {} : { ramps }),
    ...(options.strict === undefined ? {} : { strict: options.strict }),
  };
  // Paths relative to the configuration read better in messages than absolute ones.
  const short = (file: string): string => path.relative(folder, file).replaceAll(path.sep, '/');
  if (tokens.kind === 'resolver') {
    const inputs = Object.fromEntries(themes.map((theme) => [theme.name, theme.tokens]));
    return finished(readTokenFiles({ resolver: short(tokens.file), themes: inputs }, settings));
  }
  const own = Object.fromEntries(themes.map((theme) => [theme.name, (tokens.themes[theme.name] ?? []).map(short)]));
  return finished(readTokenFiles({ base: tokens.base.map(short), themes: own }, settings));

  function finished(read: ReadTokens): ReadConfigured {
    const idleRamps = rampFaults(read.graph, ramps ?? []);
    const { pairs, faults } = readPairs(read.graph, rules);
    if (faults.length > 0 && read.graph.problems.every(({ level }) => level !== 'error'))
      throw configInvalid(configuration.file, faults);
    if (idleRamps.length > 0 && idleRamps.length === ramps?.length && read.graph.tokens.size > 0)
      throw configInvalid(configuration.file, idleRamps);
    return { ...read, digest: digest.digest('hex'), files: [...files], pairs, idlePairs: faults, idleRamps };
  }
}

/** Globs of `ramps` that name no colour; where all do, nothing would be judged and nobody told. */
function rampFaults(graph: TokenGraph, globs: readonly string[]): readonly FileFault[] {
  const colors = [...graph.tokens.keys()].filter((path) => graph.themes.some((theme) => graph.colorOf(path, theme) !== null));
  const groups = [...new Set(colors.map((path) => path.replace(/[^.]+$/, '*')))];
  return globs.flatMap((glob, i) => {
    if (colors.some(pathMatcher(glob))) return [];
    const near = nearestName(glob, [...groups, ...colors]);
    const expected = near === null ? `a glob over colour tokens, e.g. ${groups.slice(0, 5).join(', ')}` : `"${near}"?`;
    return [{ at: `ramps[${i}]`, found: `${JSON.stringify(glob)}, which matches no colour token`, expected }];
  });
}

function readText(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}
