// gloam match: which tokens can replace a literal colour, how well, and what they are in every theme; with --all, of whole files.
import type { Command } from 'commander';
import { wrongUse } from '../../errors/command-errors.ts';
import type { Color } from '../../colour/color.ts';
import { nearestName } from '../../config/nearest-name.ts';
import type { TokenGraph } from '../../tokens/graph.ts';
import type { Partner } from '../../tokens/match/match-query.ts';
import type { MatchResult, TokenMatch } from '../../tokens/match/match-result.ts';
import { ROLES } from '../../tokens/roles.ts';
import type { Role } from '../../tokens/roles.ts';
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
      const read = readTokens(configuration);
      if (read === null)
        throw wrongUse('the configuration names no token files.', 'Set tokens: a resolver document, or base and themes.');
      const { graph } = read;
      const theme = knownTheme(graph, options.theme ?? configuration.reference);
      if (literal === undefined)
        return matchFiles(session, kit, {
          patterns: options.all ?? [],
          write: options.write ?? false,
          configuration,
          graph,
          theme,
        });
      const partner = options.on === undefined ? undefined : partnerOf(graph, options.on, findColor);
      const met = await kit.readRunUses(session, { graph, css: configuration.tokens?.css ?? [{}] });
      const result = matchLiteral({
        graph,
        literal: parseColor(literal),
        role: options.for,
        theme,
        ...(partner === undefined ? {} : { partner }),
        ...(met === null ? {} : { roles: met.roles }),
      });
      const { io } = session;
      if (io.json) io.result({ format: 'gloam-match/1', literal, role: options.for, theme, ...asText(result, toCssText) });
      else {
        const color = swatch(io, toCssText(parseColor(literal)));
        const on = options.on === undefined ? '' : ` on ${options.on}`;
        io.say(`${color.endsWith(literal) ? color : `${color} ${literal}`} as ${options.for}${on}, written for ${theme}`);
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
    .option('--most <n>', 'how many suggestions', wholeFromOne, 8);
}

function asRole(text: string): Role {
  const role = ROLES.find((known) => known === text);
  if (role === undefined) throw wrongUse(`--for ${text}: no such role.`, `Expected one of ${ROLES.join(', ')}.`);
  return role;
}

function knownTheme(graph: TokenGraph, name: string): string {
  if (graph.themes.includes(name)) return name;
  throw wrongUse(`--theme ${name}: no such theme.`, `Known: ${graph.themes.join(', ')}.`);
}

function partnerOf(graph: TokenGraph, text: string, findColor: (text: string) => Color | null): Partner {
  if (graph.tokens.has(text)) return { kind: 'token', path: text };
  const color = findColor(text);
  if (color !== null) return { kind: 'color', color };
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
      return `${theme} ${shown}${contrast === null ? '' : ` ${(Math.floor(contrast * 100) / 100).toFixed(2)}`}`;
    })
    .join('   ');
}
