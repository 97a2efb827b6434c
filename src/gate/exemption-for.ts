// A finding → the exemption that covers it and as little else as can be.
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

export function exemptionFor(
  finding: Pick<Finding, 'check' | 'page' | 'theme' | 'state' | 'selector'>,
  { why, owner, until, logotype, any, selector }: ExemptionWish,
): Exemption {
  return {
    selector: selector ?? ownElement(finding.selector),
    ...(any.includes('check') ? {} : { checks: [finding.check] }),
    ...(any.includes('page') ? {} : { pages: [finding.page] }),
    ...(any.includes('theme') ? {} : { themes: [finding.theme] }),
    ...(any.includes('state') ? {} : { states: [finding.state] }),
    ...(logotype === undefined ? {} : { logotype }),
    why,
    ...(owner === undefined ? {} : { owner }),
    ...(until === undefined ? {} : { until }),
  };
}

/**
 * Exemptions are matched element by element: of a path through shadow trees the innermost part remains,
 * and a pseudo-element counts as its element.
 */
function ownElement(selector: string): string {
  const innermost = selector.split(' >>> ').at(-1) ?? selector;
  return innermost.replace(/::[a-z-]+(\([^)]*\))?$/i, '');
}
