// Exports a stored run with the verdicts on its samples, by what the run itself judged by.
import { standardOf, verdictOnSample } from '../../checks/verdict-on-sample.ts';
import type { ExportReceipt } from '../../ledger/read/export-run.ts';
import { exportRun } from '../../ledger/read/export-run.ts';
import type { RunReader } from '../../ledger/ports.ts';

export function exportJudged(ledger: RunReader, run: string, folder: string, samples: boolean): Promise<ExportReceipt> {
  return exportRun(ledger, run, folder, {
    samples,
    verdictsIn: (stored) => {
      const standard = standardOf(stored);
      return (sample, view) => verdictOnSample(sample, view, standard);
    },
  });
}
