// The port to the visits that are left: workers take the next one, give back what they did not come to, and ask for another try.
// Whoever hands work out in another way puts another queue behind it.
import type { Task, Visit } from './visits.ts';

export interface VisitQueue {
  /** Undefined where none is left at this moment. */
  take(): Visit | undefined;
  /** What a visit did not come to: before all others. */
  giveBack(visits: readonly Visit[]): void;
  /** Once more, behind all others; tasks of one visit make one visit again, while nobody took it. */
  again(visit: Visit, tasks: readonly Task[]): void;
}

/** In the memory of one process. */
export function visitQueue(visits: readonly Visit[]): VisitQueue {
  const left = [...visits];
  const repeats = new Map<Visit, Visit>();
  return {
    take: () => left.shift(),
    giveBack: (given) => {
      left.unshift(...given);
    },
    again: (visit, tasks) => {
      const repeat = repeats.get(visit);
      const place = repeat === undefined ? -1 : left.indexOf(repeat);
      const next = { ...visit, tasks: [...(place < 0 ? [] : (repeat?.tasks ?? [])), ...tasks] };
      if (place < 0) left.push(next);
      else left[place] = next;
      repeats.set(visit, next);
    },
  };
}
