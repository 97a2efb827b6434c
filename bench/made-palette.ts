// The least change of the palette of a made run, and its table with the changes made.
import { ALL_CHECKS } from '../src/checks/table.ts';
import { parseColor } from '../src/colour/parse-color.ts';
import type { Palette } from '../src/palette/palette.ts';
import { workOutPalette } from '../src/palette/palette.ts';
import type { Solver } from '../src/palette/programme.ts';
import type { CheckId } from '../src/samples/finding.ts';
import { openTriage } from '../src/triage/open-triage.ts';
import type { Definition, TokenTable } from '../src/triage/tokens/token-table.ts';
import type { ActiveCheck } from '../src/triage/world.ts';
import type { MadeSystem } from './made-run.ts';
import { madeRun } from './made-run.ts';

export interface Timed {
  readonly explainMs: number;
  readonly paletteMs: number;
  /** Of both, at the end. */
  readonly heapMb: number;
}

export function madePalette(
  system: MadeSystem,
  views: number,
  solver: Solver,
): Timed & { readonly palette: Palette; readonly table: TokenTable } {
  const { table, viewAt, samplesAt, findings } = madeRun(system, views);
  const checks: ReadonlyMap<CheckId, ActiveCheck> = new Map(ALL_CHECKS.map((check) => [check.id, { check, options: {} }]));
  const triage = openTriage({ table, findings: findings(), checks, served: [] });
  let explainMs = 0;
  const timing = <T>(work: () => T): T => {
    const from = performance.now();
    const done = work();
    explainMs += performance.now() - from;
    return done;
  };
  for (let at = 0; at < views; at += 1) {
    const samples = samplesAt(at);
    timing(() => {
      triage.add(viewAt(at), samples);
    });
  }
  const { ground, causes } = timing(() => triage.close());
  const from = performance.now();
  const worked = workOutPalette(ground, causes, solver, { pins: [], moves: 'both', binding: 5 });
  const paletteMs = performance.now() - from;
  return { palette: worked.palette, table, explainMs, paletteMs, heapMb: process.memoryUsage().heapUsed / 2 ** 20 };
}

/** As somebody would who took the changes over. */
export function withPalette(table: TokenTable, { changes }: Palette): TokenTable {
  const tokens = table.tokens.map((token) => {
    const own = changes.filter(({ of }) => of === token.path);
    const definitions = token.definitions.map((definition, theme): Definition | null => {
      const change = own.find(({ themes }) => themes.includes(table.themes[theme]?.name ?? ''));
      if (change === undefined || definition === null) return definition;
      const { declared } = definition;
      return change.change === 'value'
        ? { kind: 'literal', color: parseColor(change.to), declared }
        : { kind: 'alias', target: change.to, declared };
    });
    return { ...token, definitions };
  });
  return { ...table, tokens };
}
