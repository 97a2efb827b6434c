// Whether tokens end on steps, and on those of one ramp: in the reference theme.
import type { TableIndex } from '../tokens/table-index.ts';

export function isStep(index: TableIndex, token: number): boolean {
  return index.stepOf(index.rootOf(index.table.reference, token)) !== null;
}

/** @param current −1 for a literal, which has no ramp to keep to */
export function isSameRamp(index: TableIndex, token: number, current: number): boolean {
  if (current < 0) return true;
  const { reference } = index.table;
  const [one, other] = [index.stepOf(index.rootOf(reference, token)), index.stepOf(index.rootOf(reference, current))];
  return one?.ramp === other?.ramp;
}
