// How long a run takes where several workers share its groups, and how much of that they wait. Arithmetic, no clock.

export interface GroupTime {
  /** By which it is handed out: what it took the last time. */
  readonly expectedMs: number;
  /** What it takes. */
  readonly tookMs: number;
}

export interface SharedTime {
  /** From the first group to the end of the last. */
  readonly spanMs: number;
  /** No division takes less: all workers busy to the end, or the longest group alone. */
  readonly idealMs: number;
  /** Of all workers' time, 0–1. */
  readonly idleShare: number;
  /** From the first worker that finds nothing left to the end. */
  readonly tailMs: number;
}

/**
 * Each worker takes the next group when it is done with one.
 * @param how `handOverMs`: between two groups of one worker; `order`: as the queue hands them out, or as they stand in the plan
 */
export function simulateWork(
  groups: readonly GroupTime[],
  how: { readonly workers: number; readonly handOverMs: number; readonly order: 'longest-first' | 'as-planned' },
): SharedTime {
  const { workers, handOverMs, order } = how;
  const queue = order === 'as-planned' ? groups : [...groups].sort((a, b) => b.expectedMs - a.expectedMs);
  const freeAtMs = Array.from({ length: workers }, () => 0);
  for (const { tookMs } of queue) {
    const next = freeAtMs.indexOf(Math.min(...freeAtMs));
    freeAtMs[next] = (freeAtMs[next] ?? 0) + handOverMs + tookMs;
  }
  const spanMs = Math.max(0, ...freeAtMs);
  const busyMs = groups.reduce((sum, { tookMs }) => sum + tookMs, 0);
  const longestMs = groups.reduce((most, { tookMs }) => Math.max(most, tookMs), 0);
  return {
    spanMs,
    idealMs: Math.max(busyMs / workers, longestMs),
    idleShare: spanMs === 0 ? 0 : (workers * spanMs - busyMs) / (workers * spanMs),
    tailMs: spanMs - Math.min(...freeAtMs),
  };
}
