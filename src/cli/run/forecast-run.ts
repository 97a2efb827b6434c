// A stored run under other token files: every sample recoloured, judged by the same checks, explained by the same causes, and stored beside
// the runs as a forecast.
import { foldStates } from '../../checks/fold-states.ts';
import { levelOf } from '../../checks/configured-checks.ts';
import { runChecks } from '../../checks/run-checks.ts';
import { toCssText } from '../../colour/format-color.ts';
import { findColor } from '../../colour/parse-color.ts';
import { compareFindings } from '../../forecast/compare-findings.ts';
import type { Compared } from '../../forecast/compare-findings.ts';
import { recolorView } from '../../forecast/recolor-view.ts';
import type { Fate } from '../../forecast/recolor-view.ts';
import { servedTable } from '../../forecast/served-table.ts';
import type { Unforetold } from '../../forecast/unforetold.ts';
import type { RunReader, RunWriter } from '../../ledger/ports.ts';
import type { RunSummary, StoredView } from '../../ledger/records.ts';
import type { Page } from '../../plan/configuration.ts';
import { groupId, viewId } from '../../plan/make-plan.ts';
import type { PageProperty } from '../../samples/captured-view.ts';
import type { Finding } from '../../samples/finding.ts';
import type { Sample } from '../../samples/sample.ts';
import type { View } from '../../samples/view.ts';
import { isSameColor } from '../../triage/cases/paint-ref.ts';
import type { TokenMoves } from '../../triage/recolor/token-recoloring.ts';
import { movesTo } from '../../triage/recolor/token-recoloring.ts';
import type { TableIndex } from '../../triage/tokens/table-index.ts';
import { indexTable } from '../../triage/tokens/table-index.ts';
import { allOf } from '../choose-run.ts';
import { packageVersion } from '../package-facts.ts';
import { checkSettings, toneOf } from './check-settings.ts';
import { closeRun } from './close-run.ts';
import { servedProperties, storedFacts, tableOfFiles } from './explain-run.ts';
import type { EachView } from './explain-run.ts';
import type { ForecastAsked, ForecastTokens } from './forecast-tokens.ts';
import { entryOf } from './judge-groups.ts';
import { openSeen } from './seen-run.ts';

export interface Forecast {
  readonly run: RunSummary;
  /** Id of the run that was recoloured. */
  readonly of: string;
  /** Held against the findings of that run: of the same theme, or of the one that a new theme is like. */
  readonly compared: Compared;
  /** Samples: those that stay as they are, those that were recoloured, and why others could not be. */
  readonly samples: {
    readonly same: number;
    readonly foretold: number;
    readonly untold: Readonly<Partial<Record<Unforetold, number>>>;
  };
  /** Views of the run that failed: nothing is known of them. */
  readonly failed: number;
}

/** Where the pages of a configuration are listed, they tell owners; pages that are found at run time do not. */
export function listedPages({ pages }: ForecastTokens['configuration']): readonly Page[] {
  return pages.kind === 'list' ? pages.pages : [];
}

export async function foretellRun(from: {
  readonly ledger: RunReader & RunWriter;
  readonly run: string;
  readonly tokens: ForecastTokens;
  readonly asked: ForecastAsked;
  /** As they are told in lists, relative to the configuration's folder. */
  readonly files: readonly string[];
  readonly now: () => Date;
}): Promise<Forecast> {
  const { ledger, tokens, asked } = from;
  const { configuration } = tokens;
  const source = await ledger.run(from.run);
  const today = source.startedAt.slice(0, 10);
  const stored = await allOf((request) => ledger.views(source.id, request));
  const setting = await openSetting(from);
  const pairs = stored.flatMap((view) => targetsOf(view, asked));
  const id = await ledger.beginRun({
    startedAt: from.now().toISOString(),
    gloam: packageVersion(),
    browser: source.browser,
    reference: configuration.reference,
    themes: configuration.themes.map(({ name, tone }) => ({ name, tone })),
    views: pairs.map(({ view }) => view),
    narrowed: source.narrowed,
    standard: { level: levelOf(configuration.checks), exempt: configuration.exempt },
    ...(source.label === null ? {} : { label: source.label }),
    foretold: {
      of: source.id,
      files: from.files,
      ...(asked.as === undefined ? {} : { as: asked.as, like: asked.like ?? configuration.reference }),
    },
  });
  const pages = listedPages(configuration);
  const counts = new Map<string, number>();
  const found: Finding[] = [];
  const judged: View[] = [];
  for (const group of new Set(pairs.map(({ view }) => groupId(view)))) {
    const members = [];
    for (const { view, source: seen } of pairs.filter((pair) => groupId(pair.view) === group)) {
      if (seen.status !== 'captured') {
        const error = seen.error ?? 'the run did not come to it';
        await ledger.storeView(id, { view, status: 'failed', ms: 0, code: seen.code ?? 'view-not-captured', error });
        continue;
      }
      const facts = await ledger.samplesOf(source.id, seen.id);
      const { samples, fates } = setting.recolor(seen, view, facts.samples);
      for (const fate of fates) counts.set(fateKey(fate), (counts.get(fateKey(fate)) ?? 0) + 1);
      const properties = setting.properties(seen, view, facts.properties);
      await ledger.storeForetold(id, view, { from: seen.id, samples, properties, masks: facts.masks });
      members.push({ view, samples, tone: toneOf(configuration, view.theme) });
    }
    judged.push(...members.map(({ view }) => view));
    found.push(...runChecks(members, checkSettings({ configuration, pages, today, run: id }, members[0]?.view)));
  }
  const findings = foldStates(found);
  await ledger.storeFindings(
    id,
    judged.map((view) => ({ view, findings: findings.filter((finding) => finding.view === view.id).map(entryOf) })),
  );
  await closeRun({ ledger, run: id, configuration, tokens: tokens.after, pages, today, now: from.now, cut: false });
  const [before, after] = await Promise.all(
    [source.id, id].map(async (run) => {
      const all = await allOf((request) => ledger.findings(run, request));
      return all.filter(({ check }) => check !== 'drift');
    }),
  );
  return {
    run: await ledger.run(id),
    of: source.id,
    compared: compareFindings(before ?? [], after ?? [], (theme) =>
      theme === asked.as ? (asked.like ?? configuration.reference) : theme,
    ),
    samples: {
      same: counts.get('same') ?? 0,
      foretold: counts.get('foretold') ?? 0,
      untold: Object.fromEntries([...counts].filter(([key]) => key !== 'same' && key !== 'foretold')),
    },
    failed: stored.filter(({ status }) => status !== 'captured').length,
  };
}

function fateKey(fate: Fate): string {
  return fate.kind === 'untold' ? fate.why : fate.kind;
}

/** The view itself, and the same page in the new theme where it is like that. */
function targetsOf(
  source: StoredView,
  { as, like }: ForecastAsked,
): readonly { readonly view: View; readonly source: StoredView }[] {
  const { id, page, theme, state, viewport, url } = source;
  const own = { view: { id, page, theme, state, viewport, url }, source };
  if (as === undefined || theme !== like) return [own];
  const ref = { page, theme: as, state, viewport };
  return [own, { view: { id: viewId(ref), ...ref, url }, source }];
}

export interface ForecastSetting {
  readonly index: TableIndex;
  /** What tokens of the theme `seen` become in the theme `then`. */
  movesIn(then: string): TokenMoves;
  recolor(seen: StoredView, view: View, samples: readonly Sample[]): ReturnType<typeof recolorView>;
  properties(seen: StoredView, view: View, properties: readonly PageProperty[]): readonly PageProperty[];
}

/** What all views of a forecast share. */
export async function openSetting(from: {
  readonly ledger: RunReader;
  readonly run: string;
  readonly tokens: ForecastTokens;
}): Promise<ForecastSetting> {
  const { ledger, run, tokens } = from;
  const facts = storedFacts(ledger, run);
  const views = await facts.views();
  const eachView: EachView = async (use) => {
    for (const view of views) use(view, await facts.samplesOf(view.id));
  };
  const served = await servedProperties(facts, views);
  // Before, too, by the themes of the forecast: the new one is just not painted yet.
  const files = tableOfFiles(tokens.configuration, tokens.after);
  const now = tokens.isInPlace ? servedTable(files, served) : tableOfFiles(withoutNew(tokens), tokens.before);
  const { index, infer, filters, readPaint } = await openSeen(indexTable(now), served, eachView);
  const after = indexTable(files);
  const moves = new Map<string, TokenMoves>();
  const movesIn = (then: string): TokenMoves => {
    const known = moves.get(then);
    if (known !== undefined) return known;
    const theme = after.themeAt(then);
    const made = movesTo(index, (_, token) => after.colorOf(theme, after.tokenAt(index.pathOf(token))));
    moves.set(then, made);
    return made;
  };
  return {
    index,
    movesIn,
    recolor: (seen, view, samples) => {
      const theme = index.themeAt(seen.theme);
      const inferred = infer(seen, samples);
      const how = { theme, readPaint, moves: movesIn(view.theme), filters: filters.of(seen.theme) };
      const { samples: made, fates } = recolorView(inferred, how);
      return { samples: view.id === seen.id ? made : made.map((sample) => ({ ...sample, view: view.id })), fates };
    },
    properties: (seen, view, properties) => {
      const theme = index.themeAt(seen.theme);
      const own = movesIn(view.theme);
      return properties.flatMap((property): PageProperty[] => {
        const token = index.tokenOfProperty(property.name);
        const then = token < 0 ? undefined : own(theme, token);
        const before = index.colorOf(theme, token);
        const served = then === undefined ? null : findColor(property.value);
        // A page that lags behind its files does not follow them.
        const lags = served !== null && before !== null && !isSameColor(served, before);
        if (then === undefined || lags) return [property];
        // Of a shadow's or a border's value only the colour is known here.
        if (then === null || index.table.tokens[token]?.isComposite === true) return [];
        return [{ ...property, value: toCssText(then) }];
      });
    },
  };
}

/** The configuration as the run knew it. */
function withoutNew({ configuration, before }: ForecastTokens): ForecastTokens['configuration'] {
  const known = new Set<string>(before.graph.themes);
  return { ...configuration, themes: configuration.themes.filter(({ name }) => known.has(name)) };
}
