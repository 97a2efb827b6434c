// How many findings of a run each exemption covers. Findings keep the reason of the exemption that covers them.
import type { Ledger } from '../ledger/ledger.ts';
import type { RunSummary } from '../ledger/records.ts';
import type { Exemption } from '../plan/configuration.ts';
import type { GateExemption } from './facts.ts';

/**
 * @param changedAt when the configuration or its exemptions were last written; an exemption that may be younger than the run
 *   and covers nothing in it is not called idle: the run may not have known it
 * @returns in the same order; exemptions with one reason and check share their findings
 */
export async function coverExemptions(
  ledger: Ledger,
  run: RunSummary,
  exempt: readonly Exemption[],
  changedAt: Date,
): Promise<readonly GateExemption[]> {
  if (exempt.length === 0) return [];
  const exempted = await ledger.exempted(run.id);
  const mayBeYounger = changedAt.getTime() > Date.parse(run.startedAt);
  return exempt.map((exemption) => {
    const covered = exempted
      .filter(({ why, check }) => why === exemption.why && (exemption.checks === undefined || exemption.checks.includes(check)))
      .reduce((sum, { count }) => sum + count, 0);
    return { ...exemption, covers: covered === 0 && mayBeYounger ? null : covered };
  });
}
