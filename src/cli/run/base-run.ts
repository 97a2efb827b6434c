// The run that a summary counts against: the one named, or the latest that looked at the same.
import type { Ledger } from '../../ledger/ledger.ts';
import type { RunSummary } from '../../ledger/records.ts';

/**
 * @param since id of a run, or `previous`
 * @returns null where there is none before
 * @throws GloamError `run-unknown`
 */
export async function baseRun(ledger: Ledger, run: RunSummary, since: string | undefined): Promise<string | null> {
  if (since !== undefined && since !== 'previous') return (await ledger.run(since)).id;
  const all = await ledger.runs({ state: 'finished' });
  const earlier = all.slice(all.findIndex(({ id }) => id === run.id) + 1);
  // A narrowed run says little of a whole one; of a narrowed one, any run says what it saw.
  const fitting = run.narrowed || run.part !== null ? earlier : earlier.filter((one) => !one.narrowed && one.part === null);
  return (fitting.find(({ label }) => label === run.label) ?? fitting[0])?.id ?? null;
}
