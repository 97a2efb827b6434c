// What is wrong in the token files → findings `token-fault`, which belong to a theme but to no view.
import { exemptionOf } from '../../checks/exemption-cover.ts';
import { findingId } from '../../checks/finding-id.ts';
import type { ReadConfigured } from '../../config/read-tokens.ts';
import type { FindingEntry, ViewFindings } from '../../ledger/records.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { viewId } from '../../plan/make-plan.ts';
import type { FindingDraft } from '../../samples/finding.ts';
import type { ViewRef } from '../../samples/view.ts';
import { checkTokens } from '../../tokens/faults/check-tokens.ts';
import { foldProblems, timesMet } from '../../tokens/fold-problems.ts';
import type { TokenGraph } from '../../tokens/graph.ts';

/** Stands where a page would: token files have none. */
const FILES = '(token files)';

/** @param today YYYY-MM-DD, for exemptions @returns one list per theme; a fault of several themes stands under the first of them that is configured, with all of them named. */
export function tokenFindings(tokens: ReadConfigured, configuration: Configuration, today: string): readonly ViewFindings[] {
  if (configuration.checks['token-fault'] === 'off') return [];
  const drafts = [...problemDrafts(tokens.graph), ...faultDrafts(tokens, configuration.reference)];
  return configuration.themes.map(({ name }, place) => {
    const ref = { page: FILES, theme: name, state: '', viewport: '' };
    const view = { id: viewId(ref), ...ref };
    const first = (themes: readonly string[]): string =>
      configuration.themes.find((theme) => themes.includes(theme.name))?.name ?? configuration.reference;
    const here = drafts.filter(({ themes }) => (themes.length === 0 ? place === 0 : first(themes) === name));
    return { view, findings: here.map(({ draft }) => ({ id: findingId(view, draft), draft, ...exemptIn(view, draft) })) };
  });

  function exemptIn(view: ViewRef, draft: FindingDraft): Pick<FindingEntry, 'exempt'> {
    const code = String(draft.measured['code'] ?? '');
    const exemption = exemptionOf({ ...view, ...draft, code }, configuration.exempt, today);
    return exemption === undefined ? {} : { exempt: exemption.why };
  }
}

interface ThemedDraft {
  readonly themes: readonly string[];
  readonly draft: FindingDraft;
}

/** Of reading: what does not conform to the token format. */
function problemDrafts(graph: TokenGraph): readonly ThemedDraft[] {
  return foldProblems(graph.problems).map((problem) => ({
    themes: problem.themes,
    draft: {
      check: 'token-fault',
      level: problem.level,
      // Of many equal ones the first place may change from night to night; what they say does not.
      key:
        problem.count === 1
          ? `${problem.code} ${problem.file}${problem.pointer} ${problem.token}`
          : `${problem.code} ${problem.file} ${problem.expected}`,
      // What is no fault of a token is one of a place in a file.
      selector: problem.token === '' ? `${problem.file}${problem.pointer === '' ? '' : `#${problem.pointer}`}` : problem.token,
      rect: [0, 0, 0, 0],
      message:
        `${problem.file}:${problem.line}:${problem.column}: found ${problem.found}; expected ${problem.expected}. ${[problem.hint, timesMet(problem)].filter((part) => part !== '').join(' Met ')}`.trim(),
      measured: {
        code: problem.code,
        layer: problem.token === '' ? 'unknown' : 'token',
        found: problem.found,
        ...(problem.count === 1 ? {} : { times: problem.count }),
        file: problem.file,
        line: problem.line,
      },
      expected: { value: problem.expected },
    },
  }));
}

/**
 * Of judging: files that read well, but whose ramps, definitions or declared pairs look wrong. Pairs that pages show are no findings
 * here: where one is too weak, `text-contrast` or `graphic-contrast` tells each place.
 */
function faultDrafts({ graph, pairs }: ReadConfigured, reference: string): readonly ThemedDraft[] {
  return checkTokens({ graph, reference, pairs }).faults.map((fault) => ({
    themes: fault.themes,
    draft: {
      check: 'token-fault',
      level: fault.level,
      key: `${fault.code} ${[fault.token, ...fault.others].join(' ')}`,
      selector: fault.token,
      rect: [0, 0, 0, 0],
      message: fault.message,
      measured: {
        ...fault.measured,
        code: fault.code,
        layer: fault.layer,
        themes: fault.themes.join(', '),
        file: fault.file,
        line: fault.line,
      },
      expected: fault.expected,
    },
  }));
}
