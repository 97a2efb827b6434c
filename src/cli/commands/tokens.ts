// gloam tokens: checks the token files alone, without a browser; without files the custom properties of the last whole run's pages.
import { writeFile } from 'node:fs/promises';
import path from 'node:path';
import type { Command } from 'commander';
import type { Color } from '../../colour/color.ts';
import { wrongUse } from '../../errors/command-errors.ts';
import { LEVELS } from '../../samples/finding.ts';
import type { Level } from '../../samples/finding.ts';
import { command } from '../command.ts';
import type { CommonOptions, Run } from '../command.ts';
import { EXIT } from '../exit-codes.ts';
import { count } from '../io.ts';
import type { Io } from '../io.ts';
import { loadTokens } from '../load.ts';
import { asLevel } from '../option-values.ts';
import type { RunUses } from '../read-run-uses.ts';
import { showPairs } from '../show-pairs.ts';
import { swatch } from '../swatch.ts';
import { foldProblems, timesMet } from '../../tokens/fold-problems.ts';
import type { TokenGraph } from '../../tokens/graph.ts';
import { groupBy } from '../../tokens/group-by.ts';
import type { TokenReport } from '../../tokens/faults/check-tokens.ts';
import type { PairRow } from '../../tokens/faults/pair-table.ts';

interface TokensOptions extends CommonOptions {
  readonly strict?: boolean;
  readonly page?: string;
  readonly failOn?: Level;
}

export function tokensCommand(run: Run): Command {
  return command<TokensOptions>('tokens', 'check the token files alone, without a browser', run, async (session, options) => {
    const { readTokens, pageTokens, checkTokens, toCssText, readRunUses, tokenSheet, sheetPage, joinPairs } = await loadTokens();
    const configuration = await session.configuration();
    const read = readTokens(configuration, { strict: options.strict ?? false });
    const graph = read?.graph ?? (await pageTokens(await session.store(), configuration));
    if (graph === null)
      throw wrongUse(
        'there are no tokens to check: the configuration names no token files, and no stored run knows custom properties of the pages.',
        'Render a run first (gloam run), or set tokens: a resolver document, or base and themes.',
      );
    const { reference } = configuration;
    const { io } = session;
    const isOfPage = read === null;
    if (isOfPage)
      io.note(
        'No token files are configured: ramps, roles and aliases are inferred from the custom properties that pages had in the last whole run.',
      );
    const { pairs = [], idlePairs = [], idleRamps = [] } = read ?? {};
    for (const { at, found } of idlePairs) io.note(`${at} was left aside: found ${found}, but the files have errors.`);
    for (const { at, found, expected } of idleRamps)
      io.note(`${at} was left aside: found ${found}; expected ${expected}${expected.endsWith('?') ? '' : '.'}`);
    const met = await readRunUses(session, { graph, css: configuration.tokens?.css ?? [{}], isOfPage });
    const report = checkTokens({
      ...{ graph, reference, pairs: joinPairs(pairs, met?.pairs ?? []) },
      ...(met === null ? {} : { uses: met.uses, through: met.through, whole: met.whole }),
      inferred: isOfPage,
    });
    const about = [...aboutSet(graph, report, met), ...(isOfPage ? [NOT_ASKED] : [])];
    if (io.json) {
      const rows = report.pairs.map((row) => pairText(row, toCssText));
      const { problems } = graph;
      io.result({
        ...{ format: 'gloam-tokens/1', standard: '2025.10', inferred: isOfPage, problems, ...report, pairs: rows },
        ...runText(met),
      });
    } else {
      showProblems(io, graph);
      showRamps(io, graph, (path, theme) => {
        const color = graph.colorOf(path, theme);
        return color === null ? null : toCssText(color);
      });
      showContrasts(io, report);
      showPairs(io, report.pairs, graph.themes);
      showFaults(io, report.faults);
      for (const sentence of whatWasJudged(graph, report)) io.say(sentence);
      io.say();
      for (const sentence of about) io.say(sentence);
    }
    if (options.page !== undefined) {
      const file = path.resolve(session.folder, options.page);
      await writePage(
        file,
        sheetPage(tokenSheet({ graph, report, reference, met, about: [...whatWasJudged(graph, report), ...about] })),
      );
      io.note(`Written: ${options.page}`);
    }
    const levels = options.failOn === undefined ? [] : LEVELS.slice(0, LEVELS.indexOf(options.failOn) + 1);
    const told: readonly Level[] = [...graph.problems.map(({ level }): Level => level), ...report.faults.map(({ level }) => level)];
    return told.some((level) => levels.includes(level)) ? EXIT.no : EXIT.done;
  })
    .option('--page <file>', 'also write a page with plots, swatches, pairs and faults, all in one HTML file')
    .option('--strict', 'older notations are errors')
    .option('--fail-on <level>', `exit with 1 where something is at this level or above (${LEVELS.join(', ')})`, asLevel);
}

function showProblems(io: Io, graph: TokenGraph): void {
  for (const problem of foldProblems(graph.problems)) {
    const { level, file, line, column, code, token, found, expected, hint } = problem;
    const place = `${file}:${line}:${column}`;
    io.say(
      `${io.style(level === 'error' ? 'red' : 'yellow', level)} ${io.style('bold', place)} ${code}${token === '' ? '' : ` ${token}`}`,
    );
    io.say(`  found ${found}; expected ${expected}.${hint === '' ? '' : ` ${hint}`}`);
    const times = timesMet(problem);
    if (times !== '') io.say(`  ${io.style('bold', times)}`);
  }
  if (graph.problems.length > 0) io.say();
}

/** Where no colour can be shown a ramp is its text: one line a theme either way. */
function showRamps(io: Io, graph: TokenGraph, textOf: (path: string, theme: string) => string | null): void {
  for (const { family, steps } of graph.ramps) {
    io.say(io.style('bold', family));
    let before = '';
    for (const theme of graph.themes) {
      const colors = steps.map((path) => textOf(path, theme) ?? '–');
      const line = colors.map((color) => (io.color ? swatch(io, color) : color)).join(' ');
      io.say(`  ${theme.padEnd(12)} ${line === before ? io.style('dim', 'as above') : line}`);
      before = line;
    }
  }
  if (graph.ramps.length > 0) io.say();
}

/** How many steps apart two colours of a ramp must stand to reach 3, 4.5 and 7. */
function showContrasts(io: Io, { contrasts }: TokenReport): void {
  const own = contrasts.filter(({ ink, surface }) => ink === surface);
  if (own.length === 0) return;
  io.say(io.style('bold', 'Steps apart that always reach 3, 4.5 and 7 : 1'));
  const families = [...new Set(own.map(({ ink }) => ink))];
  for (const family of families) {
    const cells = own
      .filter(({ ink }) => ink === family)
      .map(({ theme, distanceFor }) => `${theme} ${distanceFor.map((d) => d ?? '–').join('/')}`);
    io.say(`  ${family.padEnd(12)} ${cells.join('   ')}`);
  }
  io.say();
}

function showFaults(io: Io, faults: TokenReport['faults']): void {
  for (const { shown, rest } of foldFaults(faults)) {
    for (const fault of shown) showFault(io, fault);
    if (rest.length > 0) {
      const names = rest.slice(0, FURTHER).map(({ token }) => token);
      io.say(
        `  ${io.style('bold', `and ${String(rest.length)} more of this kind`)}: ${names.join(', ')}${rest.length > FURTHER ? ' …' : ''}`,
      );
    }
  }
}

/** Of one kind in the same themes so many are told in full; with a few more, all of them. */
const IN_FULL = 4;
const FURTHER = 6;

/** Faults of one kind in the same themes, in the order they came. */
function foldFaults(
  faults: TokenReport['faults'],
): readonly { readonly shown: TokenReport['faults']; readonly rest: TokenReport['faults'] }[] {
  const kinds = groupBy(faults, ({ code, level, themes }) => JSON.stringify([code, level, themes]));
  return [...kinds.values()].map((all) => {
    const full = all.length <= IN_FULL + 2 ? all.length : IN_FULL;
    return { shown: all.slice(0, full), rest: all.slice(full) };
  });
}

function showFault(io: Io, { level, layer, token, themes, message, file, line }: TokenReport['faults'][number]): void {
  const style = level === 'error' ? 'red' : level === 'warning' ? 'yellow' : 'dim';
  const place = file === '' ? '' : io.style('dim', `  ${file}:${line}`);
  io.say(`${io.style(style, level.padEnd(7))} ${layer.padEnd(5)} ${io.style('bold', token)} (${themes.join(', ')})${place}`);
  io.say(`  ${message}`);
}

/** What a silence means: what was judged, and what was not there to be judged. */
function whatWasJudged({ problems, ramps, tokens }: TokenGraph, { faults, pairs, counts }: TokenReport): readonly string[] {
  const errors = problems.filter(({ level }) => level === 'error').length;
  const judged = [
    ...(ramps.length === 0 ? [] : [count(ramps.length, 'ramp')]),
    ...(counts.semantic === 0 ? [] : [count(counts.semantic, 'semantic colour')]),
    ...(pairs.length === 0 ? [] : [count(pairs.length, 'pair')]),
  ];
  const looked = judged.length === 0 ? 'Nothing was there to be judged' : `${judged.join(', ')} judged`;
  const outcome =
    judged.length === 0 || faults.length > 0
      ? ''
      : errors === 0
        ? ': nothing is wrong with them'
        : ': no fault in what could be read';
  return [
    `${looked}${outcome}.`,
    ...(errors === 0
      ? []
      : [
          `${count(errors, 'error')} above ${errors === 1 ? 'keeps' : 'keep'} tokens from being read; what they would say is not known.`,
        ]),
    ...(tokens.size === 0 ? ['No token was read.'] : []),
    ...(tokens.size > 0 && ramps.length === 0
      ? [
          'No ramp was found, so none was judged: say which token paths are ramps with "ramps": ["GLOB"], beside "tokens" in the configuration.',
        ]
      : []),
    ...(tokens.size > 0 && counts.colors === 0 ? ['None of the tokens is a colour.'] : []),
  ];
}

/** Size of the set, and what the last whole run says about it. */
function aboutSet({ problems }: TokenGraph, { counts, faults }: TokenReport, met: RunUses | null): readonly string[] {
  const all = [...problems, ...faults];
  const levels = LEVELS.map((level) => count(all.filter((each) => each.level === level).length, level));
  const size = `${count(counts.tokens, 'token')}, ${count(counts.ramps, 'ramp')} with ${count(counts.steps, 'step')}, ${counts.semantic} semantic colours${counts.plain === 0 ? '' : `, ${counts.plain} others`}, ${counts.themed} themed; ${levels.join(', ')}.`;
  if (met === null) return [size];
  const { found, missing, unknown, collisions } = met.names;
  const used = counts.mostUsed.filter(({ uses }) => uses > 0);
  const first = used.slice(0, SHOWN_NAMES).map(({ token, uses }) => `${token} ${uses.toLocaleString('en-GB')}`);
  const harmful = collisions.filter(({ harmless }) => !harmless);
  return [
    size,
    `Run ${met.run}${met.whole ? '' : ' (of some pages only)'}: ${count(used.length, 'colour')} met on its pages${first.length === 0 ? '.' : `, most used ${first.join(', ')}.`}`,
    `Names: ${count(found.size, 'token')} of ${counts.tokens} ${found.size === 1 ? 'is' : 'are'} on the pages; ${someOf(
      'missing',
      missing.map(({ token }) => token),
    )}; ${someOf('properties without a token', unknown)}.`,
    ...harmful.map(({ property, tokens }) => `${property} is the name of ${tokens.join(' and ')}, which differ.`),
  ];
}

const NOT_ASKED = 'Which of them are not used was not asked: what refers to what is known only where pages showed it.';
const SHOWN_NAMES = 5;

function someOf(what: string, names: readonly string[]): string {
  const shown = names.slice(0, SHOWN_NAMES).join(', ');
  return `${what}: ${names.length}${names.length === 0 ? '' : ` (${shown}${names.length > SHOWN_NAMES ? ' …' : ''})`}`;
}

function runText(met: RunUses | null): object {
  if (met === null) return { run: null };
  const { run, names, uses } = met;
  const found = Object.fromEntries(names.found);
  return { run, uses, names: { found, missing: names.missing, unknown: names.unknown, collisions: names.collisions } };
}

function pairText({ pair, cells }: PairRow, toCssText: (color: Color) => string): object {
  const themes = [...cells].map(([theme, cell]): [string, object] => [
    theme,
    cell.verdict === 'unknown' ? cell : { ...cell, ink: toCssText(cell.ink), surface: toCssText(cell.surface) },
  ]);
  return { ...pair, themes: Object.fromEntries(themes) };
}

async function writePage(file: string, text: string): Promise<void> {
  try {
    await writeFile(file, text);
  } catch (error) {
    throw wrongUse(
      `--page ${file}: cannot be written: ${error instanceof Error ? error.message : String(error)}`,
      'Name a file in a folder that exists.',
    );
  }
}
