// The verdict for scripts. A breaking change raises the number behind `gloam-gate/`.
import { mayAll } from './form.ts';
import type { Form } from './form.ts';
import type { GateVerdict } from '../verdict.ts';

export const json: Form = {
  file: 'gate.json',
  about: 'JSON, for scripts',
  write: ({ verdicts, version }) =>
    `${JSON.stringify({ format: 'gloam-gate/1', gloam: version, may: mayAll(verdicts), themes: verdicts.map(toPlain) }, null, 2)}\n`,
};

/** The findings themselves are the export's matter; here their ids. */
function toPlain(verdict: GateVerdict): unknown {
  const { theme, notAsked, findings, causes, exemptions, run, ...rest } = verdict;
  return {
    theme,
    notAsked,
    ...rest,
    run: run.id,
    startedAt: run.startedAt,
    finishedAt: run.finishedAt,
    exemptions: exemptions.map(({ exemption, ...standing }) => ({ ...exemption, ...standing })),
    findings: findings.map((finding) => finding.id),
    causes: causes.map((cause) => cause.id),
  };
}
