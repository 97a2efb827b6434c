// gloam tokens: checks the token files alone, without a browser.
import type { Command } from 'commander';
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
import { swatch } from '../swatch.ts';
import type { TokenGraph } from '../../tokens/graph.ts';
import type { TokenReport } from '../../tokens/faults/check-tokens.ts';

interface TokensOptions extends CommonOptions {
  readonly strict?: boolean;
  readonly failOn?: Level;
}

export function tokensCommand(run: Run): Command {
  return command<TokensOptions>('tokens', 'check the token files alone, without a browser', run, async (session, options) => {
    const { readTokens, checkTokens, toCssText } = await loadTokens();
    const configuration = await session.configuration();
    const read = readTokens(configuration, { strict: options.strict ?? false });
    if (read === null)
      throw wrongUse('the configuration names no token files.', 'Set tokens: a resolver document, or base and themes.');
    const { graph } = read;
    const report = checkTokens({ graph, reference: configuration.reference });
    const { io } = session;
    if (io.json) io.result({ format: 'gloam-tokens/1', standard: '2025.10', problems: graph.problems, ...report });
    else {
      showProblems(io, graph);
      showRamps(io, graph, (path, theme) => {
        const color = graph.colorOf(path, theme);
        return color === null ? null : toCssText(color);
      });
      showContrasts(io, report);
      showFaults(io, report);
      showCounts(io, report);
    }
    const levels = options.failOn === undefined ? [] : LEVELS.slice(0, LEVELS.indexOf(options.failOn) + 1);
    const told: readonly Level[] = [...graph.problems.map(({ level }): Level => level), ...report.faults.map(({ level }) => level)];
    return told.some((level) => levels.includes(level)) ? EXIT.no : EXIT.done;
  })
    .option('--strict', 'older notations are errors')
    .option('--fail-on <level>', `exit with 1 where something is at this level or above (${LEVELS.join(', ')})`, asLevel);
}

function showProblems(io: Io, graph: TokenGraph): void {
  for (const { level, file, line, column, code, token, found, expected, hint } of graph.problems) {
    const place = `${file}:${line}:${column}`;
    io.say(
      `${io.style(level === 'error' ? 'red' : 'yellow', level)} ${io.style('bold', place)} ${code}${token === '' ? '' : ` ${token}`}`,
    );
    io.say(`  found ${found}; expected ${expected}.${hint === '' ? '' : ` ${hint}`}`);
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

function showFaults(io: Io, { faults }: TokenReport): void {
  for (const { level, layer, token, themes, message, file, line } of faults) {
    const style = level === 'error' ? 'red' : level === 'warning' ? 'yellow' : 'dim';
    const place = file === '' ? '' : io.style('dim', `  ${file}:${line}`);
    io.say(`${io.style(style, level.padEnd(7))} ${layer.padEnd(5)} ${io.style('bold', token)} (${themes.join(', ')})${place}`);
    io.say(`  ${message}`);
  }
  if (faults.length === 0) io.say(io.style('green', 'Nothing is wrong with the ramps and definitions.'));
  io.say();
}

function showCounts(io: Io, { counts, faults }: TokenReport): void {
  const levels = LEVELS.map((level) => count(faults.filter((fault) => fault.level === level).length, level));
  io.say(
    `${count(counts.tokens, 'token')}, ${count(counts.ramps, 'ramp')} with ${count(counts.steps, 'step')}, ${counts.semantic} semantic colours, ${counts.themed} themed; ${levels.join(', ')}.`,
  );
}
