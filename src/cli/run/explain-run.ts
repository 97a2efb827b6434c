// The findings and samples of a stored run → causes with repairs. Read from the ledger view by view, so that memory stays flat.
import { ALL_CHECKS } from '../../checks/table.ts';
import type { ReadTokens } from '../../tokens/read-token-files.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { StoredView } from '../../ledger/records.ts';
import type { Configuration } from '../../plan/configuration.ts';
import type { CheckId, Finding } from '../../samples/finding.ts';
import type { ServedProperty } from '../../triage/build-faults.ts';
import { openTriage } from '../../triage/open-triage.ts';
import type { Triaged } from '../../triage/open-triage.ts';
import { tableOfGraph } from '../../triage/table-of-graph.ts';
import type { TokenTable } from '../../triage/token-table.ts';
import type { ActiveCheck } from '../../triage/world.ts';
import { allOf } from '../choose-run.ts';

/** @returns what triage says; causes are not stored yet */
export async function explainRun(from: {
  readonly ledger: Ledger;
  readonly run: string;
  readonly configuration: Configuration;
  readonly tokens: ReadTokens | null;
}): Promise<{ readonly triaged: Triaged; readonly findings: readonly Finding[] }> {
  const { ledger, run, configuration } = from;
  const findings = await allOf((request) => ledger.findings(run, request));
  const views = (await allOf((request) => ledger.views(run, request))).filter((view) => view.status === 'captured');
  const triage = openTriage({
    table: tableFor(configuration, from.tokens),
    findings,
    checks: activeChecks(configuration),
    served: await servedProperties(ledger, run, views),
  });
  for (const view of views) triage.add(view, (await ledger.samplesOf(run, view.id)).samples);
  return { triaged: triage.close(), findings };
}

/** Findings of token files explain themselves and other findings; they are no effect to be explained. */
function tableFor(configuration: Configuration, tokens: ReadTokens | null): TokenTable {
  const themes = configuration.themes.map(({ name, tone }) => ({ name, tone }));
  const { reference } = configuration;
  if (tokens === null) {
    const place = Math.max(
      0,
      themes.findIndex(({ name }) => name === reference),
    );
    return { themes, reference: place, tokens: [], ramps: [] };
  }
  return tableOfGraph(tokens.graph, { themes, reference, css: configuration.tokens?.css ?? [{}] });
}

function activeChecks({ checks }: Configuration): ReadonlyMap<CheckId, ActiveCheck> {
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

/** One view per page and theme tells what the page serves: states and viewports share its style sheets. */
async function servedProperties(ledger: Ledger, run: string, views: readonly StoredView[]): Promise<readonly ServedProperty[]> {
  const seen = new Set<string>();
  const served = new Map<string, ServedProperty>();
  for (const view of views) {
    const place = JSON.stringify([view.page, view.theme]);
    if (seen.has(place)) continue;
    seen.add(place);
    const { properties } = await ledger.samplesOf(run, view.id);
    for (const { name, value, at } of properties) {
      if (at !== 'html') continue;
      served.set(JSON.stringify([view.theme, name, value]), { theme: view.theme, name, value });
    }
  }
  return [...served.values()];
}
