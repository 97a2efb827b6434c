// Views that came with far fewer samples than their siblings, that still said that they were loading, or that look as at rest though
// they are in a state, are rendered a second time before their group is judged. The fuller of the two counts.
import { createHash } from 'node:crypto';
import { idleViews, isToShow, loadingOf, thinViews } from '../../gate/doubts.ts';
import { counted } from '../../gate/words.ts';
import type { State } from '../../plan/configuration.ts';
import { groupId } from '../../plan/make-plan.ts';
import { noteWords } from '../../samples/note-words.ts';
import { sampleCount } from '../../samples/sample-count.ts';
import type { CapturedView, ViewResult } from '../../samples/captured-view.ts';
import type { View, ViewRef } from '../../samples/view.ts';
import { REST_STATE } from '../../samples/view.ts';

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

/** Where a second picture is another one, something was entered after all. */
interface FirstLook {
  readonly result: CapturedView;
  readonly why: string;
  readonly isIdle: boolean;
}

export function openSecondLook(before: CountsBefore, states: readonly State[]): SecondLook {
  const first = new Map<string, FirstLook>();
  /** Views at rest so far, by their group: a state that comes before them is not held against them here. */
  const rests = new Map<string, readonly Pictured[]>();
  const looked = new Set<string>();
  let queue: View[] = [];

  /** @returns ids of those of one group that look as at rest */
  function idleIn(group: readonly CapturedView[]): readonly string[] {
    const [any] = group;
    if (any === undefined || !states.some(isToShow)) return [];
    const pictured = group.map(picturedOf);
    const rest = groupId({ ...any.view, state: REST_STATE });
    if (any.view.state === REST_STATE) rests.set(rest, pictured);
    return idleViews([...(rests.get(rest) ?? []), ...pictured], states).map(({ view }) => view.id);
  }

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
      const idle = new Set(idleIn(captured));
      for (const id of idle) if (!reasons.has(id)) reasons.set(id, 'it looked as at rest');
      return captured.filter((result) => {
        const { id } = result.view;
        const why = reasons.get(id);
        if (why === undefined || looked.has(id) || result.reused === true) return false;
        looked.add(id);
        first.set(id, { result, why, isIdle: idle.has(id) });
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
      const isBetter = given.status === 'captured' && isFuller(given, seen);
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

type Pictured = ViewRef & { readonly shot: string };

function picturedOf({ view, shot }: CapturedView): Pictured {
  return { ...view, shot: createHash('sha1').update(shot).digest('hex') };
}

function isFuller(second: CapturedView, { result: first, isIdle }: FirstLook): boolean {
  const isDone = loadingOf(first.notes) !== null && loadingOf(second.notes) === null;
  const isEntered = isIdle && Buffer.compare(first.shot, second.shot) !== 0;
  return isDone || isEntered || sampleCount(second.samples) > sampleCount(first.samples);
}

/** Without a fingerprint: the next night must not take the note over. */
function steadied({ fingerprint: _, ...view }: CapturedView, why: string): CapturedView {
  return { ...view, notes: [...view.notes, { code: 'retried', data: { errors: [why] } }] };
}
