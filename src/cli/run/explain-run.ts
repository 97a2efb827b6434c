// The findings and samples of a run → causes with repairs. A stored run is read view by view, so that memory stays flat.
import { findingId } from '../../checks/finding-id.ts';
import { exemptionAt } from '../../checks/run-checks.ts';
import { ALL_CHECKS } from '../../checks/table.ts';
import { driftFindings } from '../../pictures/drift-findings.ts';
import type { ReadTokens } from '../../tokens/read-token-files.ts';
import type { RunReader } from '../../ledger/ports.ts';
import type { CoverageFact } from '../../ledger/records.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import { pageOwner } from '../../plan/page-owner.ts';
import type { CheckId, Finding } from '../../samples/finding.ts';
import type { CapturedView } from '../../samples/captured-view.ts';
import type { Sample } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';
import type { ServedProperty } from '../../triage/tokens/build-faults.ts';
import type { IsExempt } from '../../triage/cases/collect-cases.ts';
import type { DriftExplanations } from '../../triage/tell/drift-causes.ts';
import { openCoverage } from '../../triage/tell/coverage.ts';
import type { CoverageRow } from '../../triage/tell/coverage.ts';
import { isBaked, openInference } from '../../triage/tokens/infer-origins.ts';
import { openTriage } from '../../triage/open-triage.ts';
import type { Triage, Triaged } from '../../triage/open-triage.ts';
import { pageWide, standIns } from '../../triage/tokens/page-wide.ts';
import { indexTable } from '../../triage/tokens/table-index.ts';
import { tableOfGraph } from '../../triage/tokens/table-of-graph.ts';
import { openPageTable } from '../../triage/tokens/table-of-page.ts';
import type { TokenTable } from '../../triage/tokens/token-table.ts';
import type { ActiveCheck, World } from '../../triage/world.ts';
import { allOf } from '../choose-run.ts';

export interface Explained {
  readonly triaged: Triaged;
  /** What the causes' places count. */
  readonly findings: readonly Finding[];
  readonly coverage: readonly CoverageFact[];
}

/** What is explained: a stored run, or one that lives in memory. */
export interface RunFacts {
  findings(): Promise<readonly Finding[]>;
  /** Those that were captured. */
  views(): Promise<readonly ViewRef[]>;
  samplesOf(view: string): Promise<CapturedView['samples']>;
  propertiesOf(view: string): Promise<CapturedView['properties']>;
  /** Where pictures were compared. */
  drift?(): Promise<DriftExplanations>;
}

export function storedFacts(ledger: RunReader, run: string): RunFacts {
  return {
    findings: () => allOf((request) => ledger.findings(run, request)),
    views: async () => (await allOf((request) => ledger.views(run, request))).filter((view) => view.status === 'captured'),
    samplesOf: async (view) => (await ledger.samplesOf(run, view)).samples,
    propertiesOf: (view) => ledger.propertiesOf(run, view),
    drift: () => storedDrift(ledger, run),
  };
}

/** The findings that a comparison gives follow from it: so do their ids. */
async function storedDrift(ledger: RunReader, run: string): Promise<DriftExplanations> {
  const changed = await allOf((request) => ledger.comparisons(run, { ...request, verdict: 'changed' }));
  return new Map(
    changed.flatMap(({ difference, ...view }) => {
      if (difference === null) return [];
      return driftFindings(difference).flatMap((draft, at) => {
        const explanation = difference.explanations[at];
        return explanation === undefined ? [] : [[findingId(view, draft), explanation] as const];
      });
    }),
  );
}

interface ExplainedFrom {
  readonly facts: RunFacts;
  readonly configuration: Configuration;
  readonly tokens: ReadTokens | null;
  readonly pages: readonly Page[];
  /** YYYY-MM-DD, for exemptions. */
  readonly today: string;
}

/** @returns what triage says; nothing is stored yet */
export async function explainRun(from: ExplainedFrom): Promise<Explained> {
  const { triage, findings, coverage } = await fedTriage(from);
  return { triaged: triage.close(), findings, coverage };
}

/** What triage would look for causes in. */
export async function worldOfRun(from: ExplainedFrom): Promise<World> {
  return (await fedTriage(from)).triage.world();
}

/** Triage that has seen every sample of the run. */
async function fedTriage(from: ExplainedFrom): Promise<{ readonly triage: Triage } & Omit<Explained, 'triaged'>> {
  const { facts, configuration, today } = from;
  const findings = await facts.findings();
  const views = await facts.views();
  const eachView = async (use: (view: ViewRef, samples: readonly Sample[]) => void): Promise<void> => {
    for (const view of views) use(view, await facts.samplesOf(view.id));
  };
  const served = await servedProperties(facts, views);
  const table =
    from.tokens === null
      ? await tableOfPages(configuration, { served, standIns: await servedProperties(facts, views, standIns) }, eachView)
      : tableOfFiles(configuration, from.tokens);
  const infer = await inferenceFor(table, served, eachView);
  const drift = await facts.drift?.();
  const checks = activeChecks(configuration);
  const { exempt } = configuration;
  const isExempt: IsExempt = (view, sample, check) => exemptionAt(sample, check, view, { exempt, today }) !== undefined;
  const triage = openTriage({ table, findings, checks, served, isExempt, ...(drift === undefined ? {} : { drift }) });
  const coverage = openCoverage();
  const owners = new Map(from.pages.map((page) => [page.name, pageOwner(page, configuration.owners)]));
  await eachView((view, stored) => {
    const samples = infer(view, stored);
    triage.add(view, samples);
    coverage.add(view, samples, owners.get(view.page));
  });
  return { triage, findings, coverage: coverage.rows().map(coverageFact) };
}

export type EachView = (use: (view: ViewRef, samples: readonly Sample[]) => void) => Promise<void>;

function coverageFact({ page, theme, owner, painted, throughTokens }: CoverageRow): CoverageFact {
  return { page, theme, ...(owner === '' ? {} : { owner }), uses: painted, throughTokens };
}

/** Where the build writes tokens out as literals, a colour's values over all themes tell its token. */
export async function inferenceFor(
  table: TokenTable,
  served: readonly ServedProperty[],
  eachView: EachView,
): Promise<(view: ViewRef, samples: readonly Sample[]) => readonly Sample[]> {
  const index = indexTable(table);
  if (!isBaked(index, served)) return (_, samples) => samples;
  const inference = openInference(index);
  await eachView((view, samples) => {
    inference.add(view, samples);
  });
  return (view, samples) => inference.apply(view, samples);
}

/** Without token files the page's own custom properties are the tokens. */
async function tableOfPages(
  configuration: Configuration,
  { served, standIns }: { readonly served: readonly ServedProperty[]; readonly standIns: readonly ServedProperty[] },
  eachView: EachView,
): Promise<TokenTable> {
  const themes = configuration.themes.map(({ name, tone }) => ({ name, tone }));
  const { reference, ramps } = configuration;
  const table = openPageTable({ themes, reference, ...(ramps === undefined ? {} : { ramps }) });
  await eachView((view, samples) => {
    table.add(view, samples);
  });
  return table.close(served, standIns);
}

export function tableOfFiles(configuration: Configuration, tokens: ReadTokens): TokenTable {
  const themes = configuration.themes.map(({ name, tone }) => ({ name, tone }));
  const css = configuration.tokens?.css ?? [{}];
  return tableOfGraph(tokens.graph, { themes, reference: configuration.reference, css });
}

export function activeChecks({ checks }: Configuration): ReadonlyMap<CheckId, ActiveCheck> {
  return new Map(
    ALL_CHECKS.flatMap((check): [CheckId, ActiveCheck][] => {
      const options = checks[check.id] ?? {};
      if (options === 'off') return [];
      const plain = Object.entries(options).filter((entry): entry is [string, number | string] =>
        ['number', 'string'].includes(typeof entry[1]),
      );
      return [[check.id, { check, options: Object.fromEntries(plain) }]];
    }),
  );
}

/**
 * One view per page and theme tells what the page serves: states and viewports share its style sheets.
 * @param choose which of its properties
 */
export async function servedProperties(
  facts: Pick<RunFacts, 'propertiesOf'>,
  views: readonly ViewRef[],
  choose = pageWide,
): Promise<readonly ServedProperty[]> {
  const seen = new Set<string>();
  const served = new Map<string, ServedProperty>();
  for (const view of views) {
    const place = JSON.stringify([view.page, view.theme]);
    if (seen.has(place)) continue;
    seen.add(place);
    for (const [name, value] of choose(await facts.propertiesOf(view.id))) {
      served.set(JSON.stringify([view.theme, name, value]), { theme: view.theme, name, value });
    }
  }
  return [...served.values()];
}
