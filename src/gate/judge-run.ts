// A stored run, the configuration and a day → the verdicts on its themes.
import type { Ledger } from '../ledger/ledger.ts';
import type { RunSummary } from '../ledger/records.ts';
import type { Configuration } from '../plan/configuration.ts';
import { coverExemptions } from './cover-exemptions.ts';
import { criteriaFor } from './criteria-for.ts';
import { judge } from './criteria.ts';
import { readGateFacts } from './from-ledger.ts';
import type { GateVerdict } from './verdict.ts';

/** What `gloam accept` writes to unless told otherwise. */
const MAIN_SET = 'main';

export interface JudgeRequest {
  readonly run: RunSummary;
  readonly themes: readonly string[];
  /** YYYY-MM-DD */
  readonly today: string;
  /** When the configuration or the file of exemptions beside it was last written. */
  readonly changedAt: Date;
  /** Accepted set, after the one of the run's own label; `main` when absent. */
  readonly set?: string;
  /** Id of the run to compare with, or `previous`; overrides the criteria's own. */
  readonly since?: string;
}

/**
 * @returns in the order of `themes`
 * @throws GloamError `run-unknown` for a run to compare with that is not stored
 */
export async function judgeRun(
  ledger: Ledger,
  configuration: Pick<Configuration, 'pages' | 'checks' | 'exempt' | 'gate'>,
  { run, themes, today, changedAt, set = MAIN_SET, since }: JudgeRequest,
): Promise<readonly GateVerdict[]> {
  const exemptions = await coverExemptions(ledger, run, configuration.exempt, changedAt);
  const verdicts: GateVerdict[] = [];
  for (const theme of themes) {
    const own = criteriaFor(configuration.gate, theme);
    const compared = await runToCompare(ledger, run, since ?? own.criteria.since);
    const sets = own.criteria.accepted === true ? [...(run.label === null ? [] : [run.label]), set] : null;
    const facts = await readGateFacts(ledger, configuration, { run, theme, since: compared, today, sets, exemptions });
    verdicts.push(judge(facts, own));
  }
  return verdicts;
}

/** The first run has nothing before it: then every finding counts. */
async function runToCompare(ledger: Ledger, run: RunSummary, since: string | undefined): Promise<RunSummary | null> {
  if (since === undefined) return null;
  if (since !== 'previous') return ledger.run(since);
  return run.previous === null ? null : ledger.run(run.previous);
}
