// Token graph and its report → what the page shows, and the page as one text: script, styles and facts are all in it.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import type { SheetCell, SheetPairCell, TokenSheet } from '../../report-ui/api/token-sheet.ts';
import { BLACK, WHITE } from '../colour/color.ts';
import type { Color } from '../colour/color.ts';
import { over } from '../colour/composite.ts';
import { contrastRatio } from '../colour/contrast-ratio.ts';
import { toCssText } from '../colour/format-color.ts';
import { pageNotBuilt } from '../errors/server-errors.ts';
import type { TokenReport } from '../tokens/faults/check-tokens.ts';
import type { PairCell } from '../tokens/faults/pair-table.ts';
import { foldProblems, timesMet } from '../tokens/fold-problems.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import { groupBy } from '../tokens/group-by.ts';
import type { RunUses } from './read-run-uses.ts';
import { rampsOf } from './report-sources.ts';

export function tokenSheet(facts: {
  readonly graph: TokenGraph;
  readonly report: TokenReport;
  readonly reference: string;
  readonly met: RunUses | null;
  readonly about: readonly string[];
}): TokenSheet {
  const { graph, report, reference, met, about } = facts;
  const { themes } = graph;
  const steps = new Set(graph.ramps.flatMap((ramp) => ramp.steps));
  const uses = new Map(report.counts.mostUsed.map((each) => [each.token, each.uses]));
  return {
    reference,
    themes,
    ramps: rampsOf(graph, report, met === null ? null : stepUses(graph, met)),
    colors: [...graph.tokens.keys()].flatMap((token) => {
      const cells = themes.map((theme) => cellOf(graph, token, theme));
      if (cells.every((cell) => cell === null)) return [];
      const places = met === null ? null : (uses.get(token) ?? 0);
      return [{ token, isStep: steps.has(token), uses: places, users: graph.users(token).length, themes: cells }];
    }),
    pairs: report.pairs.map(({ pair, cells }) => ({ ...pair, themes: themes.map((theme) => pairCell(cells.get(theme))) })),
    distances: distancesOf(report, themes),
    faults: [
      ...foldProblems(graph.problems).map((problem) => {
        const { level, code, token, themes: where, found, expected, hint, file, line } = problem;
        return {
          ...{ level, what: code, token, themes: where, place: `${file}:${String(line)}` },
          message: [`Found ${found}; expected ${expected}.`, hint, timesMet(problem)].filter((part) => part !== '').join(' '),
        };
      }),
      ...report.faults.map(({ level, code, token, themes: where, message, file, line }) => ({
        ...{ level, what: code, token, themes: where, message },
        place: file === '' ? '' : `${file}:${String(line)}`,
      })),
    ],
    about,
  };
}

function cellOf(graph: TokenGraph, token: string, theme: string): SheetCell | null {
  const color = graph.colorOf(token, theme);
  if (color === null) return null;
  const step = graph.stepOf(token, theme);
  const on = (background: typeof WHITE): number => contrastRatio({ ink: seen(color, background), background });
  return { color: toCssText(color), onWhite: on(WHITE), onBlack: on(BLACK), ...(step === null || step === token ? {} : { step }) };
}

function seen(color: Color, background: typeof WHITE): typeof WHITE {
  return over(color, background);
}

function distancesOf({ contrasts }: TokenReport, themes: readonly string[]): TokenSheet['distances'] {
  const byPair = groupBy(contrasts, ({ ink, surface }) => JSON.stringify([ink, surface]));
  return [...byPair.values()].flatMap((all) => {
    const [first] = all;
    if (first === undefined) return [];
    const inTheme = new Map(all.map(({ theme, distanceFor }) => [theme, distanceFor]));
    return [{ ink: first.ink, surface: first.surface, themes: themes.map((theme) => inTheme.get(theme) ?? []) }];
  });
}

function pairCell(cell: PairCell | undefined): SheetPairCell {
  if (cell === undefined) return { verdict: 'unknown', why: 'not judged' };
  if (cell.verdict === 'unknown') return cell;
  return { ...cell, ink: toCssText(cell.ink), surface: toCssText(cell.surface) };
}

/** Places by `theme step`: those of the step and of all tokens that end at it. */
function stepUses(graph: TokenGraph, { placesIn }: RunUses): ReadonlyMap<string, number> {
  const uses = new Map<string, number>();
  for (const [theme, places] of placesIn) {
    for (const [token, count] of places) {
      const key = `${theme} ${graph.stepOf(token, theme) ?? token}`;
      uses.set(key, (uses.get(key) ?? 0) + count);
    }
  }
  return uses;
}

/** One file that opens from disk and asks no network: the policy in it refuses every address. @throws page-not-built */
export function sheetPage(sheet: TokenSheet): string {
  const folder = path.join(packageFolder(), 'dist', 'sheet');
  if (!existsSync(path.join(folder, 'sheet.js'))) throw pageNotBuilt(folder);
  const read = (name: string): string => readFileSync(path.join(folder, name), 'utf8');
  const policy = "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; font-src data:; img-src data:";
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Tokens</title>
<style>${read('sheet.css').replaceAll('</', '<\\/')}</style>
</head>
<body>
<div id="sheet"></div>
<noscript>This page needs JavaScript.</noscript>
<script type="application/json" id="facts">${inScript(sheet)}</script>
<script>${read('sheet.js')
    .replaceAll(/<\/(?=script)/gi, '<\\/')
    .replaceAll('<!--', '<\\!--')}</script>
</body>
</html>
`;
}

/** JSON that cannot end the element it stands in, nor open a comment there. */
export function inScript(value: unknown): string {
  return JSON.stringify(value).replace(
    /[<>\u2028\u2029]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

function packageFolder(): string {
  let folder = import.meta.dirname;
  while (!existsSync(path.join(folder, 'package.json')) && path.dirname(folder) !== folder) folder = path.dirname(folder);
  return folder;
}
