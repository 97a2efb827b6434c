// Sums over the ledger's counts.
import type { CheckId } from '../../src/samples/finding.ts';
import type { CountCell } from '../../src/ledger/records.ts';

export function total(cells: readonly Pick<CountCell, 'count'>[]): number {
  return cells.reduce((sum, { count }) => sum + count, 0);
}

/** Checks without any are left out. */
export function byCheck(cells: readonly Pick<CountCell, 'check' | 'count'>[]): Readonly<Record<CheckId, number>> {
  const sums: Record<CheckId, number> = {};
  for (const { check, count } of cells) sums[check] = (sums[check] ?? 0) + count;
  return sums;
}

export function groupBy<T>(items: readonly T[], keyOf: (item: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return groups;
}

export function distinct(names: readonly string[]): readonly string[] {
  return [...new Set(names)];
}
