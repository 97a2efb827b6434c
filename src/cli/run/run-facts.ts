// What a run says of itself when it enters the ledger.
import { levelOf } from '../../checks/configured-checks.ts';
import type { NewRun } from '../../ledger/records.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { packageVersion } from '../package-facts.ts';
import { isNarrowed } from '../selection.ts';
import type { Selection } from '../selection.ts';

/** @param of `browser`: its version */
export function runFacts(
  asked: { readonly configuration: Configuration; readonly selection: Selection; readonly label?: string },
  of: { readonly started: Date; readonly browser: string },
): Omit<NewRun, 'views' | 'part'> {
  const { themes, reference, checks, exempt } = asked.configuration;
  return {
    startedAt: of.started.toISOString(),
    gloam: packageVersion(),
    browser: of.browser,
    reference,
    themes: themes.map(({ name, tone }) => ({ name, tone })),
    narrowed: isNarrowed(asked.selection),
    standard: { level: levelOf(checks), exempt },
    ...(asked.label === undefined ? {} : { label: asked.label }),
  };
}
