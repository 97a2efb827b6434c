// A finding → the exemption that covers it and as little else as can be.
import { ownElement } from '../checks/own-element.ts';
import type { Exemption } from '../plan/configuration.ts';
import type { Finding } from '../samples/finding.ts';

/** Ways to make it wider than the finding. */
export const WIDTHS = ['check', 'page', 'theme', 'state'] as const;
export type Width = (typeof WIDTHS)[number];

export interface ExemptionWish {
  readonly why: string;
  readonly owner?: string;
  readonly until?: string;
  readonly logotype?: boolean;
  readonly any: readonly Width[];
  /** Instead of the finding's own element. */
  readonly selector?: string;
}

/** Of a token fault: its token and its code, for token files have neither pages nor states. */
export function exemptionFor(
  finding: Pick<Finding, 'check' | 'page' | 'theme' | 'state' | 'selector' | 'measured'>,
  { why, owner, until, logotype, any, selector }: ExemptionWish,
): Exemption {
  const isOfFiles = finding.check === 'token-fault';
  const { code } = finding.measured;
  return {
    selector: selector ?? (isOfFiles ? finding.selector : ownElement(finding.selector)),
    ...(any.includes('check') ? {} : { checks: [finding.check] }),
    ...(isOfFiles || any.includes('page') ? {} : { pages: [finding.page] }),
    ...(any.includes('theme') ? {} : { themes: [finding.theme] }),
    ...(isOfFiles || any.includes('state') ? {} : { states: [finding.state] }),
    ...(isOfFiles && typeof code === 'string' && !any.includes('check') ? { faults: [code] } : {}),
    ...(logotype === undefined ? {} : { logotype }),
    why,
    ...(owner === undefined ? {} : { owner }),
    ...(until === undefined ? {} : { until }),
  };
}
