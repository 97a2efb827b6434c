// Median and mode, and lists kept by key.

/** Of an even number the mean of the middle two; 0 of none. */
export function median(values: readonly number[]): number {
  const sorted = values.toSorted((one, other) => one - other);
  const middle = sorted.length >> 1;
  const high = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] ?? high) + high) / 2;
}

/** The most frequent; of equally frequent ones the least. −1 of none. */
export function commonest(values: readonly number[]): number {
  return byFrequency(values)[0] ?? -1;
}

/** Distinct, the most frequent first; of equally frequent ones the least. */
export function byFrequency(values: readonly number[]): readonly number[] {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].sort((one, other) => other[1] - one[1] || one[0] - other[0]).map(([value]) => value);
}

export function appendTo<K, V>(lists: Map<K, V[]>, key: K, value: V): void {
  const known = lists.get(key);
  if (known === undefined) lists.set(key, [value]);
  else known.push(value);
}

/** Distinct numbers, ascending. */
export function ascending(values: Iterable<number>): readonly number[] {
  return [...new Set(values)].sort((one, other) => one - other);
}
