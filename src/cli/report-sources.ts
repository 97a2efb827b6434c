// What the report shows besides the ledger: the launch criteria of the configuration, and the ramps of the token files with their uses.
import { benchSource } from './bench-source.ts';
import type { Ramp } from '../../report-ui/api/ramps.ts';
import type { ReportSources } from '../../report-ui/server/sources.ts';
import { BLACK, WHITE } from '../colour/color.ts';
import { contrastRatio } from '../colour/contrast-ratio.ts';
import { toCssText } from '../colour/format-color.ts';
import { readTokens } from '../config/read-tokens.ts';
import { openLedger } from '../ledger/ledger.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import type { Configuration } from '../plan/configuration.ts';
import { checkTokens } from '../tokens/faults/check-tokens.ts';
import type { TokenReport } from '../tokens/faults/check-tokens.ts';
import { rampViews } from '../tokens/faults/ramp-view.ts';
import type { RampView } from '../tokens/faults/ramp-view.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import { paintedPlaces } from './painted-places.ts';
import type { Painted } from './painted-places.ts';
import { exempting } from './report-exempt.ts';
import { tokenFacts } from './token-facts.ts';

/** @param live how the app and this command line are come by: then the bench may start them */
export function reportSources(
  configuration: Configuration,
  store: StorePlace,
  live?: Parameters<typeof benchSource>[2],
): ReportSources {
  const always = { criteria: { configuration }, exempt: exempting(configuration) };
  const tokens = readTokens(configuration);
  if (tokens === null) return always;
  const { graph } = tokens;
  const report = checkTokens({ graph, reference: configuration.reference });
  const css = configuration.tokens?.css ?? [{}];
  // Of a finished run they never change, and every sample is read for them.
  const kept = new Map<string, Promise<Painted>>();
  const painted = async (run: string): Promise<Painted> => {
    const known = kept.get(run);
    if (known !== undefined) return known;
    const made = paintedPlaces(store, run, graph, css);
    if (await isFinished(store, run)) kept.set(run, made);
    made.catch(() => kept.delete(run));
    return made;
  };
  let named: ReturnType<NonNullable<ReportSources['tokens']>> | undefined;
  return {
    ...always,
    bench: benchSource(configuration, store, live),
    ramps: async (run) => rampsOf(graph, report, (await painted(run)).uses),
    tokens: () => (named ??= namedColors(graph)),
    token: async (run, token) => (graph.tokens.has(token) ? tokenFacts(graph, token, await painted(run)) : null),
  };
}

function namedColors(graph: TokenGraph): readonly { readonly token: string; readonly colors: readonly string[] }[] {
  return [...graph.tokens.keys()].map((token) => ({
    token,
    colors: [
      ...new Set(
        graph.themes.flatMap((theme) => {
          const color = graph.colorOf(token, theme);
          return color === null ? [] : [toCssText(color)];
        }),
      ),
    ],
  }));
}

async function isFinished(store: StorePlace, run: string): Promise<boolean> {
  const ledger = await openLedger(store, { access: 'read' });
  try {
    return (await ledger.run(run)).state === 'finished';
  } finally {
    await ledger.close();
  }
}

/** @param uses painted places by `theme step`; null where no run tells them */
export function rampsOf(graph: TokenGraph, report: TokenReport, uses: ReadonlyMap<string, number> | null): readonly Ramp[] {
  const views = rampViews(graph);
  return graph.ramps.map(({ family, steps }) => ({
    name: family,
    themes: views.filter(({ ramp }) => ramp.family === family).map((view) => themeOf(graph, report, uses, view, steps)),
  }));
}

function themeOf(
  graph: TokenGraph,
  report: TokenReport,
  uses: ReadonlyMap<string, number> | null,
  { ramp, theme, steps }: RampView,
  all: readonly string[],
): Ramp['themes'][number] {
  return {
    theme,
    steps: steps.map(({ path, color, lightness, oklch }) => ({
      token: path,
      name: path.slice(ramp.family.length).replace(/^\./, '') || path,
      color: toCssText(color),
      lightness,
      chroma: oklch.chroma,
      hueDeg: oklch.chroma === 0 ? null : oklch.hueDeg,
      onWhite: contrastRatio({ ink: color, background: WHITE }),
      onBlack: contrastRatio({ ink: color, background: BLACK }),
      uses: uses === null ? null : (uses.get(`${theme} ${path}`) ?? 0),
      usedBy: graph.users(path, theme),
    })),
    faults: report.faults
      .filter(
        ({ layer, themes, token, code }) =>
          layer === 'ramp' && code !== 'ramps-alike' && themes.includes(theme) && all.includes(token),
      )
      .map(({ token, others, message }) => ({ steps: [token, ...others.filter((other) => all.includes(other))], message })),
    apart:
      report.contrasts.find((each) => each.theme === theme && each.ink === ramp.family && each.surface === ramp.family)?.leastAt ??
      [],
  };
}
