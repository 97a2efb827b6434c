// gloam match --all: every literal colour of source files with the tokens for it; with --write those that are exact in every theme are
// replaced, and nothing else in the files changes.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import type { ReadSource, UnreadableSource } from '../literals/source-literal.ts';
import type { Suggestion } from '../literals/suggest.ts';
import type { ThemeSigns } from '../literals/theme-of-scopes.ts';
import type { Configuration, Theme } from '../plan/configuration.ts';
import type { TokenPair } from '../tokens/faults/pair-table.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import type { Session } from './command.ts';
import { EXIT } from './exit-codes.ts';
import type { ExitCode } from './exit-codes.ts';
import { count } from './io.ts';
import type { Io } from './io.ts';
import type { loadTokens } from './load.ts';
import { NEARNESS } from './nearness.ts';
import type { SourceFile } from './source-files.ts';
import { swatch } from './swatch.ts';

type Kit = Awaited<ReturnType<typeof loadTokens>>;

const ENDINGS = ['.css', '.scss', '.ts', '.tsx', '.mts', '.cts', '.js', '.jsx', '.mjs', '.cjs'];
/** Tokens named for each literal in the machine list. */
const MOST = 3;

export async function matchFiles(
  session: Session,
  kit: Kit,
  asked: {
    readonly patterns: readonly string[];
    readonly write: boolean;
    readonly configuration: Configuration;
    readonly graph: TokenGraph;
    readonly theme: string;
    /** The graph was made of the pages' own custom properties. */
    readonly isOfPage: boolean;
    /** Declared in the configuration. */
    readonly pairs: readonly TokenPair[];
  },
): Promise<ExitCode> {
  const { io, folder } = session;
  const { configuration, graph, theme, write, isOfPage } = asked;
  const { sources, unreadable: unread, idle } = kit.readSources(asked.patterns, folder, ENDINGS);
  for (const why of idle) io.note(`${why}.`);
  const files = new Map<string, ReadSource>();
  const unreadable: (UnreadableSource & { readonly file: string })[] = [];
  for (const source of sources) {
    const read = readSource(kit, source);
    if (read.kind === 'read') files.set(source.file, read);
    else unreadable.push({ file: source.file, ...read });
  }
  const css = configuration.tokens?.css ?? [{}];
  const met = await kit.readRunUses(session, { graph, css, isOfPage });
  const { suggestions, definitions } = kit.suggestTokens({
    files,
    graph,
    theme,
    signs: configuration.themes.map(signsOf),
    namesOf: (token) => {
      const names = isOfPage ? [token] : kit.propertyNames(token, css);
      const onPage = met?.found.get(token);
      return onPage === undefined ? names : [onPage, ...names.filter((name) => name !== onPage)];
    },
    pairs: kit.joinPairs(asked.pairs, met?.pairs ?? []),
    ...(met === null ? {} : { roles: met.roles, onPages: met.properties, writtenAt: met.written.factsAt }),
  });
  const unfaithful = new Set(sources.filter((source) => !source.faithful).map(({ file }) => file));
  const replaceable = suggestions.filter(({ replacement, file }) => replacement !== null && !unfaithful.has(file));
  if (write) writeFiles(kit, folder, sources, replaceable);
  if (io.json) {
    const literals = suggestions.map((each) => asText(each, kit, unfaithful.has(each.file)));
    io.result({
      format: 'gloam-literals/1',
      theme,
      files: sources.map(({ file }) => file),
      literals,
      definitions,
      unreadable: [
        ...unread.map(({ file, reason }) => ({ file, line: 1, column: 1, reason })),
        ...unreadable.map(({ file, line, column, reason }) => ({ file, line, column, reason })),
      ],
      replaced: write ? replaceable.length : 0,
    });
  } else {
    for (const each of suggestions) show(io, kit, each);
  }
  for (const { file, reason } of unread)
    io.note(`${file}: cannot be read: ${reason}. Make it readable; the other files were read.`);
  for (const { file, line, column, reason } of unreadable)
    io.note(`${file}:${String(line)}:${String(column)}: cannot be parsed: ${reason}. Correct it; the other files were read.`);
  for (const file of unfaithful) io.note(`${file}: holds bytes that are no UTF-8, so it is never written.`);
  if (!io.json) {
    const gaps = suggestions.filter(({ result }) => result.gap).length;
    io.say(
      `${count(suggestions.length, 'literal colour')} in ${count(files.size, 'file')}; ${String(replaceable.length)} ${replaceable.length === 1 ? 'may' : 'may each'} become a token unseen${write && replaceable.length > 0 ? ', and did' : ''}, ${String(gaps)} without a token that serves.`,
    );
    if (definitions > 0) io.say(`${count(definitions, 'value')} of tokens' own properties left alone.`);
    if (!write && replaceable.length > 0) io.say('No file was changed; --write replaces those.');
  }
  return unreadable.length + unread.length > 0 ? EXIT.incomplete : EXIT.done;
}

function readSource(kit: Kit, { file, text }: SourceFile): ReadSource | UnreadableSource {
  const ending = path.extname(file).toLowerCase();
  if (ending === '.css' || ending === '.scss') return kit.readStyleSheet(text, ending === '.css' ? 'css' : 'scss');
  if (ending === '.tsx') return kit.readScript(text, 'tsx');
  return kit.readScript(text, /^\.[mc]?ts$/.test(ending) ? 'ts' : 'js');
}

function signsOf({ name, apply: { attributes = [], class: classes, media } }: Theme): ThemeSigns {
  const scheme = media?.colorScheme ?? 'no-preference';
  const contrast = media?.contrast ?? 'no-preference';
  return {
    name,
    attributes,
    classes: classes?.add ?? [],
    media: {
      ...(scheme === 'no-preference' ? {} : { 'prefers-color-scheme': scheme }),
      ...(contrast === 'no-preference' ? {} : { 'prefers-contrast': contrast }),
    },
  };
}

function writeFiles(kit: Kit, folder: string, sources: readonly SourceFile[], replaceable: readonly Suggestion[]): void {
  for (const { file, text, mark } of sources) {
    const edits = replaceable
      .filter((each) => each.file === file)
      .map(({ literal: { start, end }, replacement }) => ({ start, end, by: replacement ?? '' }));
    if (edits.length > 0) writeFileSync(path.resolve(folder, file), `${mark ? '\uFEFF' : ''}${kit.replaceParts(text, edits)}`);
  }
}

function asText(
  { file, literal, role, theme, result, exact, replacement, keep }: Suggestion,
  kit: Kit,
  unfaithful: boolean,
): object {
  const { line, column, text, property, color } = literal;
  return {
    ...{ file, line, column, literal: text, color: kit.toCssText(color), property, role, theme },
    exact: Object.fromEntries(exact),
    matches: result.matches.slice(0, MOST).map(({ token, deltaE, confidence, failing, reason, themes }) => ({
      ...{ token, deltaE, confidence, failing, reason },
      themes: Object.fromEntries(themes.map((each) => [each.theme, each.color === null ? null : kit.toCssText(each.color)])),
    })),
    gap: result.gap,
    advice: result.advice,
    replacement: unfaithful ? null : replacement,
    keep: unfaithful ? 'the file holds bytes that are no UTF-8' : keep,
  };
}

function show(io: Io, kit: Kit, { file, literal, role, theme, result, exact, replacement, keep }: Suggestion): void {
  const place = io.style('bold', `${file}:${String(literal.line)}:${String(literal.column)}`);
  const what = [literal.property, role === null ? '' : `(${role})`].filter((part) => part !== '').join(' ');
  io.say(
    `${place}  ${swatch(io, kit.toCssText(literal.color))}${literal.text === kit.toCssText(literal.color) ? '' : ` ${literal.text}`}  ${what}`,
  );
  const [best] = result.matches;
  if (best === undefined || (best.confidence === 'none' && !best.told)) {
    io.say(`    ${io.style('yellow', result.advice)}`);
    return;
  }
  const apart = [...exact].filter(([, same]) => !same).map(([name]) => name);
  const told =
    apart.length === 0
      ? 'exact in every theme'
      : apart.length === exact.size
        ? 'exact in none'
        : `not exact in ${apart.join(', ')}`;
  const sure = io.style(best.failing.length > 0 ? 'yellow' : 'green', NEARNESS[best.confidence]);
  io.say(`    ${best.token}  ${sure} in ${theme}, CIEDE2000 ${best.deltaE.toFixed(2)}; ${told}`);
  for (const { token, reason } of result.matches.slice(0, MOST)) io.say(`      ${io.style('dim', `${token}: ${reason}`)}`);
  if (replacement !== null) io.say(`    ${io.style('green', replacement)}`);
  else if (keep !== null) io.say(`    ${io.style('dim', `left alone: ${keep}`)}`);
}
