// Commands that speak of what was rendered have nothing to say of a forecast.
import { runForetold } from '../errors/ledger-errors.ts';
import type { RunSummary } from '../ledger/records.ts';

/** @throws run-foretold */
export function refuseForecast(run: RunSummary): void {
  if (run.foretold !== null) throw runForetold(run.id);
}
