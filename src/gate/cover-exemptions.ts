// How many findings of a run each exemption covers. Findings keep the reason of the exemption that covers them.
import type { RunReader } from '../ledger/ports.ts';
import type { RunSummary } from '../ledger/records.ts';
import type { Exemption } from '../plan/configuration.ts';
import { exemptionKey } from '../plan/exemption-key.ts';
import type { GateExemption } from './facts.ts';

/**
 * An exemption that the run did not know, or whose views it may not have rendered, is not called idle: the next whole run tells.
 * @returns in the same order; exemptions with one reason and check share their findings
 */
export async function coverExemptions(
  ledger: Pick<RunReader, 'exempted'>,
  run: Pick<RunSummary, 'id' | 'narrowed' | 'part' | 'standard'>,
  exempt: readonly Exemption[],
): Promise<readonly GateExemption[]> {
  if (exempt.length === 0) return [];
  const exempted = await ledger.exempted(run.id);
  const known = new Set(run.standard?.exempt.map(exemptionKey));
  const isWhole = !run.narrowed && run.part === null;
  return exempt.map((exemption) => {
    const covered = exempted
      .filter(({ why, check }) => why === exemption.why && (exemption.checks === undefined || exemption.checks.includes(check)))
      .reduce((sum, { count }) => sum + count, 0);
    const isKnown = isWhole && known.has(exemptionKey(exemption));
    return { ...exemption, covers: covered === 0 && !isKnown ? null : covered };
  });
}
