// What the report shows besides the ledger: the launch criteria of the configuration, and the ramps of the token files with their uses.
import type { Ramp } from '../../report-ui/api/ramps.ts';
import type { ReportSources } from '../../report-ui/server/sources.ts';
import { BLACK, WHITE } from '../colour/color.ts';
import { contrastRatio } from '../colour/contrast-ratio.ts';
import { toCssText } from '../colour/format-color.ts';
import { readTokens } from '../config/read-tokens.ts';
import { openLedger } from '../ledger/ledger.ts';
import type { Configuration } from '../plan/configuration.ts';
import { checkTokens } from '../tokens/faults/check-tokens.ts';
import type { TokenReport } from '../tokens/faults/check-tokens.ts';
import { rampViews } from '../tokens/faults/ramp-view.ts';
import type { RampView } from '../tokens/faults/ramp-view.ts';
import type { TokenGraph } from '../tokens/graph.ts';
import { propertyNames } from '../tokens/property-names.ts';
import { allOf } from './choose-run.ts';

export function reportSources(configuration: Configuration, store: string): ReportSources {
  const criteria = { configuration };
  const tokens = readTokens(configuration);
  if (tokens === null) return { criteria };
  const { graph } = tokens;
  const report = checkTokens({ graph, reference: configuration.reference });
  const css = configuration.tokens?.css ?? [{}];
  // Of a finished run they never change, and every sample is read for them.
  const kept = new Map<string, Promise<readonly Ramp[]>>();
  const read = async (run: string): Promise<readonly Ramp[]> => rampsOf(graph, report, await usesIn(store, run, graph, css));
  return {
    criteria,
    ramps: async (run) => {
      const known = kept.get(run);
      if (known !== undefined) return known;
      const ramps = read(run);
      if (await isFinished(store, run)) kept.set(run, ramps);
      ramps.catch(() => kept.delete(run));
      return ramps;
    },
  };
}

async function isFinished(store: string, run: string): Promise<boolean> {
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

/** Painted places of a run by `theme step`. */
async function usesIn(
  store: string,
  run: string,
  graph: TokenGraph,
  css: Parameters<typeof propertyNames>[1],
): Promise<ReadonlyMap<string, number>> {
  const tokenOf = new Map(
    [...graph.tokens.keys()].flatMap((path) => propertyNames(path, css).map((name) => [name, path] as const)),
  );
  const uses = new Map<string, number>();
  const ledger = await openLedger(store, { access: 'read' });
  try {
    for (const view of await allOf((request) => ledger.views(run, request))) {
      if (view.status !== 'captured' || view.state !== 'rest') continue;
      for (const sample of (await ledger.samplesOf(run, view.id)).samples) {
        const origin = sample.kind === 'text' ? sample.ink.origin : sample.kind === 'picture' ? null : sample.paint.origin;
        const token =
          origin?.kind === 'token' ? tokenOf.get(origin.property) : origin?.kind === 'inferred' ? origin.token : undefined;
        const step = token === undefined ? null : graph.stepOf(token, view.theme);
        if (step !== null) uses.set(`${view.theme} ${step}`, (uses.get(`${view.theme} ${step}`) ?? 0) + 1);
      }
    }
  } finally {
    await ledger.close();
  }
  return uses;
}
