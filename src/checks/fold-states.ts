// A fault that a page has at rest is not listed anew in each of its states: the finding of the rest view stands for it.
import type { Finding } from '../samples/finding.ts';
import { REST_STATE } from '../samples/view.ts';

/**
 * Leaves out what a state shows exactly as the rest view of the same page, theme and viewport does: same check, same place, same
 * level, same colours. What another colour or level tells apart is kept, and what only the state has exempt, and so is all of a state
 * whose rest view was not judged. An exemption of the finding at rest covers what it stands for.
 *
 * @param findings of views in any state
 * @param atRest findings of the rest views that were judged; others are passed over
 * @returns the findings that are left, in their order
 */
export function foldStates(findings: readonly Finding[], atRest: readonly Finding[] = findings): readonly Finding[] {
  const known = new Set(atRest.filter(({ state }) => state === REST_STATE).map(faultName));
  return findings.filter(
    (finding) =>
      finding.state === REST_STATE || !(known.has(faultName(finding)) || known.has(faultName({ ...finding, status: 'exempt' }))),
  );
}

function faultName({ check, page, theme, viewport, key, level, status, measured }: Finding): string {
  const colors = Object.entries(measured).filter(([, value]) => typeof value === 'string');
  return JSON.stringify([check, page, theme, viewport, key, level, status === 'exempt', colors.sort(byName)]);
}

function byName([one]: readonly [string, unknown], [other]: readonly [string, unknown]): number {
  return one < other ? -1 : 1;
}
