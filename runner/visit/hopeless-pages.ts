// Pages whose views ran out of time one after the other: the rest of them is not tried, or one page could cost a night.
import type { ViewResult } from '../../src/samples/captured-view.ts';
import type { Visit } from './visits.ts';

/** One may be a matter of luck or of its theme. */
const MOST = 2;
const OUT_OF_TIME: ReadonlySet<string> = new Set(['view-out-of-time', 'page-timeout', 'page-floods']);

export interface HopelessPages {
  take(visit: Visit, result: ViewResult): void;
  /** What the last view said; null while there is hope. */
  reason(visit: Visit): string | null;
}

export function openHopelessPages(): HopelessPages {
  const outs = new Map<string, { readonly count: number; readonly error: string }>();
  const keyOf = ({ page, viewport }: Visit): string => JSON.stringify([page.name, viewport.name]);
  return {
    take(visit, result) {
      const key = keyOf(visit);
      if (result.status === 'captured') outs.delete(key);
      else if (OUT_OF_TIME.has(result.code)) outs.set(key, { count: (outs.get(key)?.count ?? 0) + 1, error: result.error });
    },
    reason(visit) {
      const out = outs.get(keyOf(visit));
      return out === undefined || out.count < MOST ? null : out.error;
    },
  };
}
