// What became of each colour that was seen in a view, where that is known: the commonest answer counts.
import type { Opaque } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';

export interface Likeness {
  /** @param before as a sample writes it */
  learn(before: string, after: Opaque): void;
  /** Undefined where nothing is known, or where there are two answers. */
  find(before: string): Opaque | undefined;
}

/** Share of one answer from which the others are taken for accidents of equal colours (ours). */
const AGREED = 0.9;

export function openLikeness(): Likeness {
  const answers = new Map<string, Map<string, { readonly color: Opaque; times: number }>>();
  return {
    learn: (before, after) => {
      const known = answers.get(before) ?? new Map<string, { readonly color: Opaque; times: number }>();
      answers.set(before, known);
      const text = toCssText(after);
      const same = known.get(text);
      if (same === undefined) known.set(text, { color: after, times: 1 });
      else same.times += 1;
    },
    find: (before) => {
      const known = [...(answers.get(before)?.values() ?? [])].sort((one, other) => other.times - one.times);
      const [most] = known;
      const all = known.reduce((sum, { times }) => sum + times, 0);
      return most !== undefined && most.times >= AGREED * all ? most.color : undefined;
    },
  };
}
