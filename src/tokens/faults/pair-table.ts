// Which inks lie on which surfaces, and the contrast of each pair in every theme. Pairs are declared in the configuration or learnt
// from runs; a pair that fails in a theme is a fault of the definitions there, or a gap where no step would do.
import type { Opaque } from '../../colour/color.ts';
import { isOpaque } from '../../colour/color.ts';
import { over } from '../../colour/composite.ts';
import { contrastRatio, showRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { TokenGraph } from '../graph.ts';
import { groupBy } from '../group-by.ts';
import { rampPlaces } from './definition-view.ts';
import type { FaultFacts, FaultLayer } from './token-fault.ts';
import { listed } from './token-fault.ts';

export interface TokenPair {
  /** Token of the text, icon or edge. */
  readonly ink: string;
  /** Token it lies on. */
  readonly surface: string;
  /** Least contrast ratio. */
  readonly required: number;
  /** Places it was met at. */
  readonly uses: number;
  /** Contrast it was declared with in the configuration; null where pages alone tell of the pair. */
  readonly declared: number | null;
  /** Themes that were rendered and show it nowhere: what pages alone tell of is not judged there. */
  readonly absentIn?: readonly string[];
}

export type PairCell =
  | { readonly verdict: 'pass' | 'fail'; readonly contrast: number; readonly ink: Opaque; readonly surface: Opaque }
  | { readonly verdict: 'unknown'; readonly why: string };

export interface PairRow {
  readonly pair: TokenPair;
  /** Theme → what the pair is there. */
  readonly cells: ReadonlyMap<string, PairCell>;
}

/** One place on a page; what is not known is null. */
export interface MetPair {
  readonly ink: string | null;
  readonly surface: string | null;
  readonly required: number | null;
}

/** Places of runs → pairs, most used first; the strictest requirement met counts. */
export function learnPairs(places: Iterable<MetPair>): readonly TokenPair[] {
  const pairs = new Map<string, TokenPair>();
  for (const { ink, surface, required } of places) {
    if (ink === null || surface === null || required === null) continue;
    const key = JSON.stringify([ink, surface]);
    const known = pairs.get(key) ?? { ink, surface, required, uses: 0, declared: null };
    pairs.set(key, { ...known, required: Math.max(known.required, required), uses: known.uses + 1 });
  }
  return [...pairs.values()].sort((a, b) => b.uses - a.uses || (a.ink + a.surface < b.ink + b.surface ? -1 : 1));
}

export function pairTable(graph: TokenGraph, pairs: readonly TokenPair[]): readonly PairRow[] {
  return pairs.map((pair) => ({ pair, cells: new Map(graph.themes.map((theme) => [theme, cellOf(graph, pair, theme)])) }));
}

function cellOf(graph: TokenGraph, { ink, surface, required, absentIn }: TokenPair, theme: string): PairCell {
  if (absentIn?.includes(theme) === true) return { verdict: 'unknown', why: `no page shows it in ${theme}` };
  const [inkColor, surfaceColor] = [graph.colorOf(ink, theme), graph.colorOf(surface, theme)];
  if (inkColor === null) return { verdict: 'unknown', why: `${ink} has no colour in ${theme}` };
  if (surfaceColor === null) return { verdict: 'unknown', why: `${surface} has no colour in ${theme}` };
  if (!isOpaque(surfaceColor))
    return { verdict: 'unknown', why: `${surface} is translucent in ${theme}: what lies beneath decides` };
  const seen = over(inkColor, surfaceColor);
  const contrast = contrastRatio({ ink: seen, background: surfaceColor });
  return { verdict: contrast >= required ? 'pass' : 'fail', contrast, ink: seen, surface: surfaceColor };
}

/** One fault for the themes in which the same would mend it. */
export function pairFaults(graph: TokenGraph, rows: readonly PairRow[]): readonly FaultFacts[] {
  const places = rampPlaces(graph);
  return rows.flatMap(({ pair, cells }) => {
    const failing = [...cells].flatMap(([theme, cell]) =>
      cell.verdict === 'fail' ? [{ theme, cell, ...adviceFor(graph, places, pair, cell.surface, theme) }] : [],
    );
    return [...groupBy(failing, ({ layer, advice }) => `${layer} ${advice}`).values()].flatMap((all) => {
      const [first] = all;
      return first === undefined ? [] : [toFault(pair, first, all)];
    });
  });
}

interface Failing extends Advice {
  readonly theme: string;
  readonly cell: Exclude<PairCell, { readonly verdict: 'unknown' }>;
}

function toFault(pair: TokenPair, { cell, layer, step, advice }: Failing, all: readonly Failing[]): FaultFacts {
  const byRatio = groupBy(all, (each) => showRatio(each.cell.contrast));
  const reached = [...byRatio].map(([ratio, same]) => `${ratio} in ${listed(same.map(({ theme }) => theme))}`);
  return {
    code: 'pair-contrast',
    layer,
    token: pair.ink,
    others: [pair.surface],
    themes: all.map(({ theme }) => theme),
    measured: { contrast: cell.contrast, ink: toCssText(cell.ink), surface: toCssText(cell.surface) },
    expected: { contrast: pair.required, ...(step === null ? {} : { step }) },
    message: `${pair.ink} on ${pair.surface} has a contrast of ${reached.join(', ')}; it needs ${needOf(pair)}.${advice}`,
  };
}

function needOf({ required, declared, uses }: TokenPair): string {
  if (declared === null || declared >= required) return String(required);
  return `${String(required)} at ${uses === 1 ? 'a place' : 'places'} on pages, though ${String(declared)} is declared`;
}

interface Advice {
  readonly layer: FaultLayer;
  /** One that would do. */
  readonly step: string | null;
  /** A sentence, or nothing. */
  readonly advice: string;
}

/** A step that is itself the ink has the wrong value; else the token points at the wrong step, or none would do. */
function adviceFor(
  graph: TokenGraph,
  places: ReturnType<typeof rampPlaces>,
  { ink, required }: TokenPair,
  surface: Opaque,
  theme: string,
): Advice {
  const own = graph.stepOf(ink, theme) ?? ink;
  const family = places.get(own)?.family;
  if (family === undefined)
    return { layer: 'token', step: null, advice: own === ink ? '' : ` It is ${own}, which is no step of a ramp.` };
  const step = nearestSufficient(graph, family, own, surface, required, theme);
  if (step === null) return { layer: 'gap', step, advice: ` No step of ${family} reaches it on that surface.` };
  return { layer: own === ink ? 'ramp' : 'token', step, advice: ` ${step} would do.` };
}

/** The step of a ramp nearest to the present one that reaches the contrast. */
function nearestSufficient(
  graph: TokenGraph,
  family: string,
  step: string,
  surface: Opaque,
  required: number,
  theme: string,
): string | null {
  const steps = graph.ramps.find((ramp) => ramp.family === family)?.steps ?? [];
  const own = steps.indexOf(step);
  const enough = steps.filter((path) => {
    const color = graph.colorOf(path, theme);
    return color !== null && contrastRatio({ ink: over(color, surface), background: surface }) >= required;
  });
  const [nearest] = enough.sort((a, b) => Math.abs(steps.indexOf(a) - own) - Math.abs(steps.indexOf(b) - own));
  return nearest ?? null;
}
