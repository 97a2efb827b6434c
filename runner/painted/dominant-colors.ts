// Many pixels → the few colours they mostly have.
import type { Code } from './pixels.ts';

export interface Dominant {
  readonly code: Code;
  /** 0–1. */
  readonly share: number;
}

/** How often each colour occurs; weights add up. */
export type Tally = Map<Code, number>;

export function count(tally: Tally, code: Code, weight = 1): void {
  tally.set(code, (tally.get(code) ?? 0) + weight);
}

export function tallyOf(codes: readonly Code[]): Tally {
  const tally: Tally = new Map();
  for (const code of codes) count(tally, code);
  return tally;
}

/** The most frequent exact colour; null when nothing was counted. */
export function modeOf(tally: Tally): Dominant | null {
  let best: Code | null = null;
  let most = 0;
  let total = 0;
  for (const [code, times] of tally) {
    total += times;
    if (times > most) [best, most] = [code, times];
  }
  return best === null ? null : { code: best, share: most / total };
}

/**
 * Colours put together in a 16 × 16 × 16 grid, each group named by its most frequent colour.
 * @returns most frequent first, at most `most`
 */
export function groupsOf(tally: Tally, most: number): readonly Dominant[] {
  const bins = new Map<number, { code: Code; best: number; sum: number }>();
  let total = 0;
  for (const [code, times] of tally) {
    total += times;
    const bin = ((code >> 20) << 8) | (((code >> 12) & 15) << 4) | ((code >> 4) & 15);
    const known = bins.get(bin);
    if (known === undefined) bins.set(bin, { code, best: times, sum: times });
    else {
      known.sum += times;
      if (times > known.best) [known.code, known.best] = [code, times];
    }
  }
  return [...bins.values()]
    .sort((one, other) => other.sum - one.sum)
    .slice(0, most)
    .map(({ code, sum }) => ({ code, share: sum / total }));
}
