// Reads from the ledger what the gate must know of one run: the facts of each theme that is judged.
import { pageUnsettled } from '../errors/capture-errors.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { RunSummary } from '../ledger/records.ts';
import type { Configuration } from '../plan/configuration.ts';
import { CHECK_IDS } from '../samples/finding.ts';
import type { Finding, Level } from '../samples/finding.ts';
import type { GateExemption, GateFacts, GateView } from './facts.ts';
import { readAll } from './read-all.ts';
import { unsettledNote, unsteadyNote } from './unsettled.ts';

/** Code of a view whose pixels still moved. */
const UNSETTLED = pageUnsettled('', '').code;

export interface GateRequest {
  readonly run: RunSummary;
  readonly theme: string;
  /** Run to compare with; null: none. */
  readonly since: RunSummary | null;
  /** YYYY-MM-DD */
  readonly today: string;
  /** Sets that accepted pictures are looked up in; null when nobody asks for them. */
  readonly sets: readonly string[] | null;
  /** With `covers` (cover-exemptions.ts). */
  readonly exemptions: readonly GateExemption[];
}

export async function readGateFacts(
  ledger: Ledger,
  configuration: Pick<Configuration, 'pages' | 'checks'>,
  { run, theme, since, today, sets, exemptions }: GateRequest,
): Promise<GateFacts> {
  const views = await readAll((page) => ledger.views(run.id, { theme, ...page }));
  const accepted = sets === null ? null : new Set((await ledger.accepted(sets)).map((picture) => picture.id));
  return {
    theme,
    run: {
      id: run.id,
      startedAt: run.startedAt,
      finishedAt: run.finishedAt,
      gloam: run.gloam,
      browser: run.browser,
      partial: run.narrowed || run.part !== null,
    },
    today,
    views: views.map(({ id, page, theme: worn, state, viewport, status, code, error, notes }): GateView => ({
      id,
      page,
      theme: worn,
      state,
      viewport,
      status,
      trouble: status === 'failed' ? error : unsettledNote(notes),
      unsteady: status === 'failed' ? null : unsteadyNote(notes),
      unsettled: code === UNSETTLED,
      accepted: accepted?.has(id) ?? null,
    })),
    pages: await expectedPages(ledger, configuration, run),
    findings: await readAll((page) => ledger.findings(run.id, { theme, ...page })),
    gone: (await ledger.gone(run.id, 100_000)).filter((finding) => finding.theme === theme).length,
    causes: await ledger.causes(run.id),
    coverage: (await ledger.coverage(run.id))
      .filter((fact) => fact.theme === theme)
      .map(({ owner = '', uses, throughTokens }) => ({ owner, uses, throughTokens })),
    exemptions,
    off: CHECK_IDS.filter((check) => configuration.checks[check] === 'off'),
    since: since === null ? null : await readSince(ledger, since, theme),
  };
}

/** As configured; where pages are found at run time, those the run before had. */
async function expectedPages(ledger: Ledger, { pages }: Pick<Configuration, 'pages'>, run: RunSummary): Promise<readonly string[]> {
  if (pages.kind === 'list') return pages.pages.map((page) => page.name);
  const views = await readAll((page) => ledger.views(run.previous ?? run.id, page));
  return [...new Set(views.map((view) => view.page))];
}

async function readSince(ledger: Ledger, run: RunSummary, theme: string): Promise<GateFacts['since']> {
  const open = (finding: Finding): boolean => finding.status !== 'exempt';
  const findings = await readAll((page) => ledger.findings(run.id, { theme, ...page }));
  const views = await readAll((page) => ledger.views(run.id, { theme, ...page }));
  return {
    run: run.id,
    findings: new Map(findings.filter(open).map((finding): [string, Level] => [finding.id, finding.level])),
    views: new Set(views.filter((view) => view.status === 'captured').map((view) => view.id)),
  };
}
