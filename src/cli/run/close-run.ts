// All views are in: the token files are judged, findings explained by causes, coverage counted, and the run is finished.
import type { RunReader, RunWriter } from '../../ledger/ports.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import { hashOf } from '../../ledger/blobs/blobs.ts';
import { packageVersion } from '../package-facts.ts';
import { explainRun, storedFacts } from './explain-run.ts';
import { tokenFindings } from './token-findings.ts';

export async function closeRun(from: {
  readonly ledger: RunReader & RunWriter;
  readonly run: string;
  readonly configuration: Configuration;
  readonly tokens: ReadConfigured | null;
  readonly pages: readonly Page[];
  /** YYYY-MM-DD, for exemptions. */
  readonly today: string;
  readonly now: () => Date;
  /** It was ended by hand before its plan was done. */
  readonly cut: boolean;
  /** Causes are worked out anew, also where all they follow from is as it was. */
  readonly anew?: boolean;
}): Promise<void> {
  const { ledger, run, configuration, tokens } = from;
  if (tokens !== null) await ledger.storeFindings(run, tokenFindings(tokens, configuration, from.today));
  const basis = hashOf(JSON.stringify([packageVersion(), configuration, tokens?.digest ?? null, from.pages]));
  if (!(await ledger.carryExplanation(run, { basis, anew: from.anew === true }))) await explain(from);
  await ledger.finishRun(run, from.now().toISOString(), from.cut);
}

async function explain(from: Parameters<typeof closeRun>[0]): Promise<void> {
  const { ledger, run } = from;
  const { triaged, findings, coverage } = await explainRun({ ...from, facts: storedFacts(ledger, run) });
  await ledger.storeCoverage(run, coverage);
  await ledger.storeCauses(
    run,
    triaged.causes.map(({ cause, findings: places }) => ({
      cause,
      findings: places.flatMap((place) => findings[place]?.id ?? []),
    })),
  );
}
