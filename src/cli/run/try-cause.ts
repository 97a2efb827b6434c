// A cause's repair put on the live pages: the affected views are rendered again with it, and what was predicted is held against what happens.
import { compareTry, openTryOut } from '../../triage/try-out.ts';
import type { TryOutcome } from '../../triage/try-out.ts';
import { groupId } from '../../plan/make-plan.ts';
import type { WornFrom } from './render-worn.ts';
import { renderWorn } from './render-worn.ts';

export interface TriedCause {
  /** Null where the repair cannot be put on a page: a token that does not exist yet, a page to be built anew in its own way. */
  readonly outcome: TryOutcome | null;
  /** Views rendered again. */
  readonly views: number;
}

/** @returns null where the run has no such cause any more under the present configuration */
export async function tryCause(from: WornFrom & { readonly cause: string }): Promise<TriedCause | null> {
  const tried = await renderWorn(from, ({ triaged, findings, plan }) => {
    const explained = triaged.causes.find(({ cause }) => cause.id === from.cause);
    if (explained === undefined) return null;
    const shown = new Set(explained.findings.flatMap((place) => findings[place]?.view ?? []));
    // In all themes of the page: what a declaration takes it takes in each of them.
    const groups = new Set(plan.filter(({ id }) => shown.has(id)).map(groupId));
    const here = plan.filter((view) => groups.has(groupId(view)));
    const { wearFor, forecast } = openTryOut(triaged.ground, explained, findings);
    return { wear: new Map(here.map((view) => [view.id, wearFor(view)])), kept: forecast };
  });
  if (tried === null) return null;
  const { worn, kept } = tried;
  return worn === null
    ? { outcome: null, views: 0 }
    : { outcome: compareTry(kept, worn.names, { before: worn.before, after: worn.after }), views: worn.views };
}
