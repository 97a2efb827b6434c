// What nothing explains, at places whose fault is explained in another state of the page: an open menu throws its shadow on a link that
// could not be read before either. It is the same fault, though the change cannot be followed through the shadow.
import type { Finding } from '../../samples/finding.ts';
import { appendTo } from '../counting.ts';
import type { CaseFault } from '../world.ts';

export interface Sorted<E> {
  readonly explanations: readonly E[];
  readonly unexplained: readonly CaseFault[];
}

/** @returns each of them with the explanation that all of its places have elsewhere */
export function withOtherStates<E extends { readonly faults: readonly CaseFault[] }>(
  findings: readonly Finding[],
  { explanations, unexplained }: Sorted<E>,
): Sorted<E> {
  const behind = new Map<string, number>();
  explanations.forEach(({ faults }, explanation) => {
    for (const at of faults.flatMap((fault) => fault.findings)) {
      const place = placeOf(findings[at]);
      if (!behind.has(place)) behind.set(place, explanation);
    }
  });
  const found = new Map<number, CaseFault[]>();
  const left = unexplained.filter((fault) => {
    const [first = -1, ...others] = new Set(fault.findings.map((at) => behind.get(placeOf(findings[at])) ?? -1));
    if (first < 0 || others.length > 0) return true;
    appendTo(found, first, fault);
    return false;
  });
  return {
    explanations: explanations.map((each, at) => ({ ...each, faults: [...each.faults, ...(found.get(at) ?? [])] })),
    unexplained: left,
  };
}

function placeOf(finding: Finding | undefined): string {
  if (finding === undefined) return '';
  const { check, page, theme, viewport, key } = finding;
  return JSON.stringify([check, page, theme, viewport, key]);
}
