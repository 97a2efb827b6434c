// Counts and measures → places along an axis. Pure.

export interface Axis {
  /** Value → 0 (bottom) to 1 (top). */
  readonly at: (value: number) => number;
  readonly ticks: readonly number[];
  /** What is to be added to its name. */
  readonly note: string;
}

/** Counts of which one is this many times another would lie flat on a plain axis. */
const WIDE = 30;
const TICKS = 5;

/** @param tops largest value of each line @param domain fixed ends; else from 0 to a round number above all */
export function axisFor(tops: readonly number[], domain?: readonly [number, number]): Axis {
  if (domain !== undefined) return plain(domain[0], domain[1]);
  const most = Math.max(0, ...tops);
  const seen = tops.filter((top) => top > 0);
  if (most < WIDE * Math.min(...seen) || most <= 0) return plain(0, roundAbove(most));
  const decades = Array.from({ length: Math.ceil(Math.log10(most)) + 1 }, (_, power) => 10 ** power);
  const end = Math.log1p(most * 1.2);
  return {
    at: (value) => Math.log1p(Math.max(0, value)) / end,
    ticks: [0, ...decades.filter((decade) => Math.log1p(decade) <= end)],
    note: ', each line ten times the one below',
  };
}

function plain(from: number, to: number): Axis {
  const step = stepFor((to - from) / TICKS);
  const count = Math.floor((to - from) / step + 1e-9);
  return {
    at: (value) => (value - from) / (to - from),
    ticks: Array.from({ length: count + 1 }, (_, index) => from + index * step),
    note: '',
  };
}

/** 1, 2 or 5 times a power of ten, the least that is no smaller. */
function stepFor(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * ([1, 2, 5].find((factor) => factor * power >= rough * (1 - 1e-9)) ?? 10);
}

function roundAbove(most: number): number {
  if (most <= 0) return 1;
  const step = stepFor(most / TICKS);
  return Math.ceil(most / step - 1e-9) * step;
}
