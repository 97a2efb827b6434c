// A stored run, the configuration and a day → the verdicts on its themes.
import { BEFORE } from '../ledger/read/base-views.ts';
import type { Baselines, RunReader } from '../ledger/ports.ts';
import type { RunSummary } from '../ledger/records.ts';
import type { Configuration } from '../plan/configuration.ts';
import { coverExemptions } from './cover-exemptions.ts';
import { criteriaFor } from './criteria-for.ts';
import { judge } from './criteria.ts';
import { type GateRequest, gateFactsReader } from './from-ledger.ts';
import { readAll } from './read-all.ts';
import type { GateJudgement, GateVerdict } from './verdict.ts';

/** What `gloam accept` writes to unless told otherwise. */
const MAIN_SET = 'main';

export interface JudgeRequest {
  readonly run: RunSummary;
  readonly themes: readonly string[];
  /** YYYY-MM-DD */
  readonly today: string;
  /** Accepted set, after the one of the run's own label; `main` when absent. */
  readonly set?: string;
  /** Id of the run to compare with, or `previous`; overrides the criteria's own. */
  readonly since?: string;
}

type Setup = Pick<Configuration, 'pages' | 'checks' | 'states' | 'exempt' | 'gate'>;

/**
 * @returns in the order of `themes`, with the findings that the forms list
 * @throws GloamError `run-unknown` for a run to compare with that is not stored
 */
export async function judgeRun(
  ledger: RunReader & Baselines,
  configuration: Setup,
  request: JudgeRequest,
): Promise<readonly GateVerdict[]> {
  const verdicts: GateVerdict[] = [];
  for (const judgement of await judgeThemes(ledger, configuration, request)) {
    const { theme } = judgement;
    const findings = await readAll((page) => ledger.findings(request.run.id, { theme, status: ['new', 'known'], ...page }));
    verdicts.push({ ...judgement, findings });
  }
  return verdicts;
}

/** The same from counts alone, whatever number of findings there are. */
export async function judgeThemes(
  ledger: RunReader & Baselines,
  configuration: Setup,
  { run, themes, today, set = MAIN_SET, since }: JudgeRequest,
): Promise<readonly GateJudgement[]> {
  const exemptions = await coverExemptions(ledger, run, configuration.exempt);
  const factsOf = await gateFactsReader(ledger, configuration, run);
  const judgements: GateJudgement[] = [];
  for (const theme of themes) {
    const own = criteriaFor(configuration.gate, theme);
    const compared = await toCompare(ledger, run, since ?? own.criteria.since);
    const sets = own.criteria.accepted === true ? [...(run.label === null ? [] : [run.label]), set] : null;
    judgements.push(judge(await factsOf({ theme, since: compared, today, sets, exemptions }), own));
  }
  return judgements;
}

/** The first run has nothing before it: then every finding counts. */
async function toCompare(ledger: RunReader, run: RunSummary, since: string | undefined): Promise<GateRequest['since']> {
  if (since === undefined) return null;
  if (since !== 'previous') {
    const { id } = await ledger.run(since);
    return { base: { kind: 'run', id }, runs: [id] };
  }
  const runs = await ledger.bases(run.id);
  return runs.length === 0 ? null : { base: BEFORE, runs };
}
