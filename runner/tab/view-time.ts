// The time that one view may take, over all its steps, and what it went into.

export interface ViewTime {
  /** Another view begins; it has all the time. */
  begin(): void;
  /** Ms that are left; none before the first view begins is endless. */
  left(): number;
  /** A step ended that took so long. */
  spend(doing: string, ms: number): void;
  /** The steps that took most, for people. */
  spentOn(): string;
}

/** Told of the steps; more would hide which one it was. */
const TOLD = 3;

/** @param viewMs ms that a view may take @param now monotonic, ms */
export function openViewTime(viewMs: number, now: () => number): ViewTime {
  let end = Infinity;
  const spent = new Map<string, number>();
  return {
    begin: () => {
      end = now() + viewMs;
      spent.clear();
    },
    left: () => Math.max(0, end - now()),
    spend: (doing, ms) => {
      spent.set(doing, (spent.get(doing) ?? 0) + ms);
    },
    spentOn: () =>
      [...spent]
        .sort(([, a], [, b]) => b - a)
        .slice(0, TOLD)
        .map(([doing, ms]) => `${doing} ${(ms / 1000).toFixed(1)} s`)
        .join(', '),
  };
}
