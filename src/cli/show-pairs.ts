// Pairs of ink and surface as a table for the terminal: the ones too weak somewhere first, then the other declared ones.
import { showRatio } from '../colour/contrast-ratio.ts';
import type { PairCell, PairRow } from '../tokens/faults/pair-table.ts';
import { count } from './io.ts';
import type { Io } from './io.ts';

/** Rows of either kind; all of them stand in the machine output and on the page. */
const SHOWN = 20;

export function showPairs(io: Io, rows: readonly PairRow[], themes: readonly string[]): void {
  if (rows.length === 0) return;
  const failing = rows.filter(({ cells }) => [...cells.values()].some(({ verdict }) => verdict === 'fail'));
  const sound = rows.filter((row) => row.pair.declared !== null && !failing.includes(row));
  const declared = rows.filter(({ pair }) => pair.declared !== null).length;
  const met = rows.filter(({ pair }) => pair.uses > 0).length;
  io.say(
    io.style(
      'bold',
      `Pairs of ink and surface: ${declared} declared, ${met} met on pages; ${failing.length} too weak in a theme (marked !)`,
    ),
  );
  const shown = [...failing.slice(0, SHOWN), ...sound.slice(0, SHOWN)];
  if (shown.length > 0)
    showTable(
      io,
      [...HEAD, ...themes],
      shown.map((row) => lineOf(row, themes)),
    );
  const more = Math.max(0, failing.length - SHOWN) + Math.max(0, sound.length - SHOWN);
  if (more > 0) io.say(io.style('dim', `  and ${more} more (all of them with --json or --page)`));
  io.say();
}

const HEAD = ['ink', 'surface', 'told by', 'needs'] as const;
/** Columns of words; those behind them hold numbers. */
const WORDS = 3;

interface Line {
  readonly texts: readonly string[];
  /** Places of the texts that are too weak. */
  readonly weak: ReadonlySet<number>;
}

function lineOf({ pair, cells }: PairRow, themes: readonly string[]): Line {
  const told = [...(pair.declared === null ? [] : ['declared']), ...(pair.uses === 0 ? [] : [count(pair.uses, 'place')])];
  const verdicts = themes.map((theme) => cells.get(theme));
  const weak = verdicts.flatMap((cell, i) => (cell?.verdict === 'fail' ? [HEAD.length + i] : []));
  return {
    texts: [pair.ink, pair.surface, told.join(', '), String(pair.required), ...verdicts.map(ratioText)],
    weak: new Set(weak),
  };
}

/** A space stands where a weak one has its mark. */
function ratioText(cell: PairCell | undefined): string {
  if (cell === undefined || cell.verdict === 'unknown') return '– ';
  return `${showRatio(cell.contrast)}${cell.verdict === 'fail' ? '!' : ' '}`;
}

function showTable(io: Io, head: readonly string[], lines: readonly Line[]): void {
  const widths = head.map((name, i) => Math.max(name.length, ...lines.map(({ texts }) => texts[i]?.length ?? 0)));
  const cell = (text: string, i: number): string => (i < WORDS ? text.padEnd(widths[i] ?? 0) : text.padStart(widths[i] ?? 0));
  io.say(io.style('dim', `  ${head.map(cell).join('  ')}`));
  for (const { texts, weak } of lines) {
    io.say(`  ${texts.map((text, i) => (weak.has(i) ? io.style('red', cell(text, i)) : cell(text, i))).join('  ')}`);
  }
}
