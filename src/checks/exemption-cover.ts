// Which exemption covers a finding. The one place that decides it, for findings of checks, of pictures and of token files.
import type { CheckId } from '../samples/finding.ts';
import { pathMatcher } from '../tokens/path-glob.ts';
import { ownElement } from './own-element.ts';

/** Absent lists hold everywhere; `*` in a name stands for any characters. */
export interface ExemptionRule {
  /** A selector of elements; for `token-fault` a token path or a glob over token paths. Where absent, marks alone tell. */
  readonly selector?: string;
  readonly checks?: readonly CheckId[];
  readonly pages?: readonly string[];
  readonly themes?: readonly string[];
  readonly states?: readonly string[];
  /** Codes of token faults. */
  readonly faults?: readonly string[];
  /** Its text is a logotype (WCAG 2.2, 1.4.3). */
  readonly logotype?: boolean;
  readonly until?: string;
  /** The reason, kept with the findings it covers. */
  readonly why: string;
}

/** What of a finding decides whether it is exempt. */
export interface Exemptible {
  readonly check: CheckId;
  readonly page: string;
  readonly theme: string;
  readonly state: string;
  /** Of the finding; for `token-fault` the token's path, or the place in the file. */
  readonly selector: string;
  /** Of a token fault. */
  readonly code?: string;
}

/**
 * @param marks indexes of the exemptions whose selector matches the element or an ancestor, as its page told; without a page
 *   (something that is gone, a finding read from the store) only an exemption of the very element is known to cover it
 * @param today YYYY-MM-DD: an exemption holds up to and including its `until`
 */
export function exemptionOf<R extends ExemptionRule>(
  finding: Exemptible,
  exempt: readonly R[],
  today: string,
  marks: readonly number[] = [],
): R | undefined {
  return exempt.find((rule, index) => {
    if (rule.until !== undefined && rule.until < today) return false;
    if (!(rule.checks?.includes(finding.check) ?? true) || !named(rule.themes, finding.theme)) return false;
    if (finding.check === 'token-fault') return coversToken(rule, finding);
    if (rule.faults !== undefined || !named(rule.pages, finding.page) || !named(rule.states, finding.state)) return false;
    return marks.includes(index) || rule.selector === ownElement(finding.selector);
  });
}

/** Token files have neither pages nor states: an exemption that names some is about elements. */
function coversToken({ selector, pages, states, faults }: ExemptionRule, { selector: token, code = '' }: Exemptible): boolean {
  if (selector === undefined || pages !== undefined || states !== undefined || !named(faults, code)) return false;
  const glob = /^\{(.*)\}$/s.exec(selector)?.[1] ?? selector;
  return glob === token || glob === '*' || pathMatcher(glob)(token);
}

function named(patterns: readonly string[] | undefined, name: string): boolean {
  return patterns === undefined || patterns.some((pattern) => matchesName(pattern, name));
}

function matchesName(pattern: string, name: string): boolean {
  const parts = pattern.split('*').map((part) => part.replace(/[\\^$.|?+()[\]{}]/g, '\\$&'));
  return new RegExp(`^${parts.join('.*')}$`, 's').test(name);
}
