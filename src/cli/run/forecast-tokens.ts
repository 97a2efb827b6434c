// The token files somebody thinks of → the configuration as it would be: files that stand in for configured ones, or one more theme.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expectedName } from '../../config/nearest-name.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import { readTokens } from '../../config/read-tokens.ts';
import { wrongUse } from '../../errors/command-errors.ts';
import type { Configuration, Theme } from '../../plan/configuration.ts';
import { withContext } from './resolver-context.ts';

export interface ForecastAsked {
  /** As given on the command line, absolute. */
  readonly files: readonly string[];
  /** A theme that no page has yet, and the configured one that its pages look like. */
  readonly as?: string;
  readonly like?: string;
}

export interface ForecastTokens {
  /** With the theme that is thought of among the others. */
  readonly configuration: Configuration;
  readonly before: ReadConfigured;
  readonly after: ReadConfigured;
  /** Texts that stand for files, by absolute path. */
  readonly texts: ReadonlyMap<string, string>;
  /** The files as they are now are what is foretold: what pages served in the run tells how they were. */
  readonly isInPlace: boolean;
}

/** @throws wrong-use where no token files are configured, a file stands for none of them, or what they say has errors */
export function forecastTokens(configuration: Configuration, asked: ForecastAsked): ForecastTokens {
  const before = readTokens(configuration);
  if (before === null || configuration.tokens === undefined)
    throw wrongUse(
      'forecast: the configuration names no token files.',
      'A forecast asks what tokens would do: name them under tokens.',
    );
  const given = asked.files.map((file) => ({ file, text: textOf(file), stands: standsFor(file, before.files) }));
  for (const { file, stands } of given) {
    if (stands.length > 1)
      throw wrongUse(
        `--tokens ${file}: found several configured files of that name: ${stands.join(', ')}; expected one.`,
        'Put it in a folder named like theirs, so that its path tells which one it stands for.',
      );
  }
  const like = themeLike(configuration, asked);
  const made = like === null ? replaced(configuration, given) : withTheme(configuration, given, { ...like, as: asked.as ?? '' });
  const after = readTokens(made.configuration, { texts: made.texts });
  if (after === null) throw new TypeError('the configuration lost its token files');
  refuseErrors(before, after);
  const isInPlace = like === null && given.every(({ file }) => before.files.includes(file));
  return { ...made, before, after, isInPlace };
}

interface Given {
  readonly file: string;
  readonly text: string;
  /** Configured files whose place it takes; empty: it is a further one. */
  readonly stands: readonly string[];
}

interface Made {
  readonly configuration: Configuration;
  readonly texts: ReadonlyMap<string, string>;
}

function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    throw wrongUse(
      `--tokens ${file}: cannot be read: ${error instanceof Error ? error.message : String(error)}`,
      'Name token files that exist, relative to this folder.',
    );
  }
}

/** The configured files with which it has the longest end of the path in common, its name at least. */
function standsFor(file: string, configured: readonly string[]): readonly string[] {
  if (configured.includes(file)) return [file];
  const own = file.split(path.sep).reverse();
  const ranked = configured.map((each) => {
    const parts = each.split(path.sep).reverse();
    const end = parts.findIndex((part, at) => part !== own[at]);
    return { each, common: end === -1 ? parts.length : end };
  });
  const most = Math.max(...ranked.map(({ common }) => common), 0);
  return most === 0 ? [] : ranked.filter(({ common }) => common === most).map(({ each }) => each);
}

function themeLike({ themes, reference }: Configuration, { as, like }: ForecastAsked): { readonly theme: Theme } | null {
  const names = themes.map(({ name }) => name);
  if (as === undefined) {
    if (like !== undefined) throw wrongUse('--like has no meaning without --as.', 'Name the new theme: --as NAME --like THEME.');
    return null;
  }
  if (names.includes(as))
    throw wrongUse(
      `--as ${as}: the configuration has a theme of that name.`,
      'Leave --as out to foretell its changed files, or take another name.',
    );
  const name = like ?? reference;
  const theme = themes.find((each) => each.name === name);
  if (theme === undefined) throw wrongUse(`--like ${name}: the configuration has no such theme.`, expectedName(name, names));
  return { theme };
}

function replaced(configuration: Configuration, given: readonly Given[]): Made {
  const texts = new Map<string, string>();
  for (const { file, text, stands } of given) {
    const [place] = stands;
    if (place === undefined)
      throw wrongUse(
        `--tokens ${file}: found no configured token file that it could stand for.`,
        'Name it like the file it changes, or foretell a new theme with --as NAME --like THEME.',
      );
    texts.set(place, text);
  }
  return { configuration, texts };
}

/** The theme's own files are laid over those of the theme it is like; what stands for one of these takes its place. */
function withTheme(
  configuration: Configuration,
  given: readonly Given[],
  { theme, as }: { readonly theme: Theme; readonly as: string },
): Made {
  const { tokens } = configuration;
  const themes = [...configuration.themes, { ...theme, name: as }];
  if (tokens === undefined) return { configuration, texts: new Map() };
  if (tokens.kind === 'files') {
    const own = tokens.themes[theme.name] ?? [];
    const files = laidOver(own, given);
    return {
      configuration: { ...configuration, themes, tokens: { ...tokens, themes: { ...tokens.themes, [as]: files } } },
      texts: new Map(),
    };
  }
  const resolver = given.find(({ stands }) => stands.includes(tokens.file));
  const rest = given.filter((each) => each !== resolver);
  const { text, input } = withContext(
    { file: tokens.file, text: resolver?.text ?? textOf(tokens.file) },
    { as, like: theme.tokens },
    (own) => laidOver(own, rest),
  );
  return {
    configuration: { ...configuration, themes: themes.map((each) => (each.name === as ? { ...each, tokens: input } : each)) },
    texts: new Map([[tokens.file, text]]),
  };
}

/** First what stands for files of all themes, then the theme's own, then what is new. Absolute paths. */
function laidOver(own: readonly string[], given: readonly Given[]): readonly string[] {
  const standIn = (file: string): Given | undefined => given.find(({ stands }) => stands.includes(file));
  const common = given.filter(({ stands }) => stands.length > 0 && !own.some((file) => stands.includes(file)));
  const further = given.filter(({ stands }) => stands.length === 0);
  return [...common.map(({ file }) => file), ...own.map((file) => standIn(file)?.file ?? file), ...further.map(({ file }) => file)];
}

/** Errors that the files have now already are another matter. */
function refuseErrors({ graph }: ReadConfigured, after: ReadConfigured): void {
  const keyOf = ({ code, token, found }: { readonly code: string; readonly token: string; readonly found: string }): string =>
    JSON.stringify([code, token, found]);
  const known = new Set(graph.problems.map(keyOf));
  const fresh = after.graph.problems.filter((problem) => problem.level === 'error' && !known.has(keyOf(problem)));
  if (fresh.length === 0) return;
  const lines = fresh.slice(0, MOST_TOLD).map(({ file, line, token, found, expected }) => {
    const place = token === '' ? '' : ` ${token}:`;
    return `  ${file}:${String(line)}:${place} found ${found}; expected ${expected}`;
  });
  const more = fresh.length > MOST_TOLD ? `\n  and ${String(fresh.length - MOST_TOLD)} more` : '';
  throw wrongUse(`--tokens: the files have errors:\n${lines.join('\n')}${more}`, 'Correct these places; nothing was foretold.');
}

const MOST_TOLD = 12;
