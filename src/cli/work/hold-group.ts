// The ledger as whoever renders and judges a group sees it: what it stores is held until the group is whole, then all of it enters at once.
import type { Ledger } from '../../ledger/ledger.ts';
import type { RunReader, RunWriter } from '../../ledger/ports.ts';
import type { AcceptedPicture, ComparisonEntry, ViewFindings } from '../../ledger/records.ts';
import type { GroupYield } from '../../ledger/write/store-group.ts';
import { shotOf } from '../../ledger/write/store-view.ts';
import type { KeptView } from '../../ledger/write/store-view.ts';
import { asFindings } from '../run/as-findings.ts';
import type { JudgeInput } from '../run/judge-groups.ts';
import type { openComparer } from '../run/compare-views.ts';

export interface HeldGroup {
  readonly ledger: JudgeInput['ledger'] & Parameters<typeof openComparer>[0];
  found(): GroupYield;
}

/** @param accepted read once for all groups of a run */
export function holdGroup(ledger: Ledger, accepted: Promise<readonly AcceptedPicture[]>): HeldGroup {
  const views = new Map<string, KeptView>();
  const comparisons = new Map<string, ComparisonEntry>();
  const findings = new Map<string, ViewFindings>();
  const storeView: RunWriter['storeView'] = async (_run, result) => {
    const kept = await ledger.keepView(result);
    views.set(kept.view.id, kept);
    return { shot: shotOf(kept), unchanged: false };
  };
  const readFindings: RunReader['findings'] = (_run, { page, viewport, state } = {}) => {
    const wanted = [...findings.values()].filter(
      ({ view }) => view.page === page && view.viewport === viewport && view.state === state,
    );
    return Promise.resolve({ items: wanted.flatMap(asFindings), next: null });
  };
  return {
    ledger: {
      storeView,
      storeFindings: (_run, list) => {
        for (const entry of list) findings.set(entry.view.id, entry);
        return Promise.resolve();
      },
      storeComparisons: (_run, entries) => {
        for (const entry of entries) comparisons.set(entry.view.id, entry);
        return Promise.resolve();
      },
      findings: readFindings,
      accepted: () => accepted,
      acceptedFacts: (picture) => ledger.acceptedFacts(picture),
      knownDifference: (pair) => ledger.knownDifference(pair),
      blob: (hash) => ledger.blob(hash),
    },
    found: () => ({
      views: [...views.values()],
      comparisons: [...comparisons.values()],
      findings: [...findings.values()],
    }),
  };
}
