// Views that failed by what may be a matter of luck are tried again; one that then comes is kept, and says that it was unsteady.
import type { ViewResult } from '../../src/samples/captured-view.ts';
import type { VisitQueue } from './visit-queue.ts';
import type { Visit } from './visits.ts';

/** Codes of failures that another try may not show: what moved, hung or crashed. Wrong addresses and selectors stay wrong. */
const LUCK: ReadonlySet<string> = new Set(['unsettled', 'page-crashed', 'page-timeout', 'view-out-of-time']);

export interface Retries {
  /** @param isLast no further try, whatever comes @returns what is to be handed on; null where the view will be tried again */
  judge(visit: Visit, result: ViewResult, isLast: boolean): ViewResult | null;
  /** Failures whose next try was not come to. */
  rest(): readonly ViewResult[];
}

/** @param retries tries after the first, from 0 @param queue takes up the views that are to be tried again */
export function openRetries(retries: number, queue: VisitQueue): Retries {
  const before = new Map<string, readonly string[]>();
  const waiting = new Map<string, ViewResult>();

  return {
    judge(visit, result, isLast) {
      const { id } = result.view;
      const errors = before.get(id) ?? [];
      waiting.delete(id);
      if (result.status === 'captured') return errors.length === 0 ? result : unsteady(result, errors);
      if (isLast || errors.length >= retries || !LUCK.has(result.code)) return result;
      before.set(id, [...errors, result.error]);
      waiting.set(id, result);
      queue.again(
        visit,
        visit.tasks.filter((task) => task.view.id === id),
      );
      return null;
    },
    rest: () => [...waiting.values()],
  };
}

/** Without a fingerprint: the next night must not take the note over. */
function unsteady(result: ViewResult & { status: 'captured' }, errors: readonly string[]): ViewResult {
  const members = Object.entries(result).filter(([name]) => name !== 'fingerprint');
  // All the members but one that is optional.
  const rest = Object.fromEntries(members) as unknown as typeof result;
  return { ...rest, notes: [...result.notes, { code: 'retried', data: { errors } }] };
}
