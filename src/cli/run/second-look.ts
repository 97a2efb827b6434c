// Views that came with far fewer samples than their siblings, or still said that they were loading, are rendered a second time before
// their group is judged. The fuller of the two counts.
import { loadingOf, thinViews } from '../../gate/doubts.ts';
import { counted } from '../../gate/words.ts';
import { noteWords } from '../../samples/note-words.ts';
import { sampleCount } from '../../samples/sample-count.ts';
import type { CapturedView, ViewResult } from '../../samples/captured-view.ts';
import type { View } from '../../samples/view.ts';

/** Samples of each view in the run before. */
export type CountsBefore = readonly { readonly id: string; readonly samples: number }[];

export interface SecondLook {
  /** @param group results of all its views @returns those that are not judged yet, since their views will come once more */
  doubted(group: readonly ViewResult[]): readonly ViewResult[];
  /** @returns what counts of the two looks; the one there was, where it was the only one */
  better(given: ViewResult): { readonly result: ViewResult; readonly isSecond: boolean; readonly isStored: boolean };
  /** Takes the views that are to come once more. */
  due(): readonly View[];
  /** First looks whose second never came. */
  rest(): readonly ViewResult[];
}

export function openSecondLook(before: CountsBefore): SecondLook {
  const first = new Map<string, { readonly result: CapturedView; readonly why: string }>();
  const looked = new Set<string>();
  let queue: View[] = [];
  return {
    doubted(group) {
      // What is as it was on an earlier night was looked at twice then.
      const captured = group.filter((result): result is CapturedView => result.status === 'captured');
      const thin = thinViews(
        captured.map((result) => ({ ...result.view, samples: sampleCount(result.samples) })),
        before,
      );
      const reasons = new Map(
        thin.map(({ view, samples, of, theme }) => [
          view.id,
          `${counted(samples, 'place')}, where ${theme ?? 'the run before'} had ${String(of)}`,
        ]),
      );
      for (const { view, notes } of captured) {
        const sign = loadingOf(notes);
        if (sign !== null) reasons.set(view.id, noteWords(sign));
      }
      return captured.filter((result) => {
        const { id } = result.view;
        const why = reasons.get(id);
        if (why === undefined || looked.has(id) || result.reused === true) return false;
        looked.add(id);
        first.set(id, { result, why });
        queue.push(result.view);
        return true;
      });
    },
    better(given) {
      const { id } = given.view;
      const seen = first.get(id);
      if (seen === undefined) return { result: given, isSecond: false, isStored: false };
      first.delete(id);
      const { result, why } = seen;
      const isBetter = given.status === 'captured' && isFuller(given, result);
      return { result: isBetter ? steadied(given, why) : result, isSecond: true, isStored: !isBetter };
    },
    due() {
      const views = queue;
      queue = [];
      return views;
    },
    rest: () => [...first.values()].map(({ result }) => result),
  };
}

function isFuller(second: CapturedView, first: CapturedView): boolean {
  const isDone = loadingOf(first.notes) !== null && loadingOf(second.notes) === null;
  return isDone || sampleCount(second.samples) > sampleCount(first.samples);
}

/** Without a fingerprint: the next night must not take the note over. */
function steadied({ fingerprint: _, ...view }: CapturedView, why: string): CapturedView {
  return { ...view, notes: [...view.notes, { code: 'retried', data: { errors: [why] } }] };
}
