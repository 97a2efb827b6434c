// gloam match: which tokens can replace a literal colour, how well, and what they are in every theme; with --all, of whole files.
import type { Command } from 'commander';
import { wrongUse } from '../../errors/command-errors.ts';
import type { Color } from '../../colour/color.ts';
import { showRatio } from '../../colour/contrast-ratio.ts';
import { nearestName } from '../../config/nearest-name.ts';
import type { TokenGraph } from '../../tokens/graph.ts';
import type { Partner } from '../../tokens/match/match-query.ts';
import type { MatchResult, TokenMatch } from '../../tokens/match/match-result.ts';
import { ROLES } from '../../tokens/roles.ts';
import type { Role, RolesOf } from '../../tokens/roles.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import type { Io } from '../io.ts';
import { matchFiles } from '../match-files.ts';
import { loadTokens } from '../load.ts';
import { NEARNESS } from '../nearness.ts';
import { wholeFromOne } from '../option-values.ts';
import { swatch } from '../swatch.ts';

interface MatchOptions extends CommonOptions {
  readonly all?: readonly string[];
  readonly write?: boolean;
  readonly for: Role;
  readonly on?: string;
  readonly theme?: string;
  readonly most: number;
}

export function matchCommand(run: Run): Command {
  return command<MatchOptions>(
    'match',
    'suggest tokens that can replace a literal colour',
    run,
    async (session, options, [literal]) => {
      const kit = await loadTokens();
      const { readTokens, parseColor, findColor, matchLiteral, toCssText } = kit;
      if ((literal === undefined) === (options.all === undefined))
        throw wrongUse(
          'match takes a colour, or --all with files.',
          'E.g. gloam match "#2a6f86", or gloam match --all "app/**/*.css".',
        );
      if (options.write === true && options.all === undefined)
        throw wrongUse('--write goes with --all.', 'Name the files: gloam match --all FILE… --write.');
      const configuration = await session.configuration();
      const { io } = session;
      const read = readTokens(configuration);
      const graph = read?.graph ?? (await kit.pageTokens(await session.store(), configuration));
      if (graph === null)
        throw wrongUse(
          'there are no tokens to go by: the configuration names no token files, and no stored run knows custom properties of the pages.',
          'Render a run first (gloam run), or set tokens: a resolver document, or base and themes.',
        );
      if (read === null)
        io.note('No token files are configured: the custom properties that pages had in the last whole run stand in for tokens.');
      const isOfPage = read === null;
      const css = configuration.tokens?.css ?? [{}];
      const theme = knownTheme(graph, options.theme ?? configuration.reference);
      if (literal === undefined)
        return matchFiles(session, kit, {
          patterns: options.all ?? [],
          write: options.write ?? false,
          configuration,
          graph,
          theme,
          isOfPage,
          pairs: read?.pairs ?? [],
        });
      const met = await kit.readRunUses(session, { graph, css, isOfPage });
      const pairs = kit.joinPairs(read?.pairs ?? [], met?.pairs ?? []);
      const partner =
        options.on === undefined
          ? undefined
          : partnerOf(graph, options.on, { findColor, toCssText, theme, role: options.for, roles: met?.roles ?? new Map(), pairs });
      const result = matchLiteral({
        graph,
        literal: parseColor(literal),
        role: options.for,
        theme,
        pairs,
        ...(partner === undefined ? {} : { partner }),
        ...(met === null ? {} : { roles: met.roles }),
      });
      if (io.json) io.result({ format: 'gloam-match/1', literal, role: options.for, theme, ...asText(result, toCssText) });
      else {
        const color = swatch(io, toCssText(parseColor(literal)));
        const on =
          options.on === undefined
            ? ''
            : ` on ${options.on}${partner?.kind === 'token' && partner.path !== options.on ? `, which is ${partner.path} in ${theme}` : ''}`;
        io.say(`${color.endsWith(literal) ? color : `${color} ${literal}`} as ${options.for}${on}, written for ${theme}`);
        if (partner?.kind === 'color')
          io.note(
            `--on ${options.on ?? ''}: no token is that in ${theme}, so it is taken for the same in every theme; name a token where it changes.`,
          );
        showResult(io, result, options.most, toCssText);
      }
      return EXIT.done;
    },
  )
    .argument('[colour]', 'any CSS colour, quoted where the shell would split it')
    .option('--all <file...>', 'every literal colour of these files (CSS, SCSS, TypeScript, JavaScript; globs in quotes)')
    .option('--write', 'with --all: put the token where the first match is the same colour in every theme')
    .option('--for <role>', `what it is used for (${ROLES.join(', ')})`, asRole, 'ink')
    .option('--on <token or colour>', 'what it lies on; for a surface: what lies on it')
    .option('--theme <name>', 'the theme it was written for; the reference unless set')
    .option('--most <n>', 'how many suggestions', wholeFromOne, MOST);
}

/** More are not read. */
const MOST = 3;

function asRole(text: string): Role {
  const role = ROLES.find((known) => known === text);
  if (role === undefined) throw wrongUse(`--for ${text}: no such role.`, `Expected one of ${ROLES.join(', ')}.`);
  return role;
}

function knownTheme(graph: TokenGraph, name: string): string {
  if (graph.themes.includes(name)) return name;
  throw wrongUse(`--theme ${name}: no such theme.`, `Known: ${graph.themes.join(', ')}.`);
}

/** A colour is taken for the token that is it in the theme, so that it changes with the others. */
function partnerOf(
  graph: TokenGraph,
  text: string,
  facts: {
    readonly findColor: (text: string) => Color | null;
    readonly toCssText: (color: Color) => string;
    readonly theme: string;
    readonly role: Role;
    readonly roles: RolesOf;
    readonly pairs: readonly { readonly ink: string; readonly surface: string }[];
  },
): Partner {
  const { findColor, toCssText, theme, role, roles, pairs } = facts;
  if (graph.tokens.has(text)) return { kind: 'token', path: text };
  const color = findColor(text);
  if (color !== null) {
    const wanted = role === 'surface' ? 'ink' : 'surface';
    const meant = (token: string): number =>
      (roles.get(token)?.get(wanted) ?? 0) + pairs.filter((pair) => (wanted === 'ink' ? pair.ink : pair.surface) === token).length;
    const [token] = [...graph.tokens.keys()]
      .filter((path) => {
        const own = graph.colorOf(path, theme);
        return own !== null && toCssText(own) === toCssText(color) && meant(path) > 0;
      })
      .sort((a, b) => meant(b) - meant(a) || (a < b ? -1 : 1));
    return token === undefined ? { kind: 'color', color } : { kind: 'token', path: token };
  }
  const nearest = nearestName(text, [...graph.tokens.keys()]);
  throw wrongUse(
    `--on ${text}: neither a token nor a colour.`,
    nearest === null ? 'Name a token path or a CSS colour.' : `Did you mean ${nearest}?`,
  );
}

function asText(result: MatchResult, toCssText: (color: Color) => string): object {
  const matches = result.matches.map((match) => ({
    ...match,
    themes: match.themes.map(({ theme, color, contrast }) => ({
      theme,
      color: color === null ? null : toCssText(color),
      contrast,
    })),
  }));
  return { ...result, matches };
}

function showResult(io: Io, result: MatchResult, most: number, toCssText: (color: Color) => string): void {
  for (const [place, match] of result.matches.slice(0, most).entries()) {
    const sure = io.style(match.failing.length > 0 ? 'yellow' : 'green', NEARNESS[match.confidence]);
    io.say(`${String(place + 1).padStart(2)}  ${io.style('bold', match.token)}  ${sure}  CIEDE2000 ${match.deltaE.toFixed(2)}`);
    io.say(`    ${themesOf(io, match, toCssText)}`);
    io.say(`    ${match.reason}`);
  }
  io.say(result.gap ? io.style('yellow', result.advice) : result.advice);
}

function themesOf(io: Io, match: TokenMatch, toCssText: (color: Color) => string): string {
  return match.themes
    .map(({ theme, color, contrast }) => {
      const shown = color === null ? '–' : swatch(io, toCssText(color));
      return `${theme} ${shown}${contrast === null ? '' : ` ${showRatio(contrast)}`}`;
    })
    .join('   ');
}
