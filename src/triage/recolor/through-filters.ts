// A colour seen through the filters of the elements around it.
import type { Opaque } from '../../colour/color.ts';
import { opaque } from '../../colour/color.ts';
import type { FilterFunction } from '../../colour/filters.ts';
import { applyFilters, parseFilters } from '../../colour/filters.ts';
import type { CaseFilter } from '../cases/case.ts';

/** Innermost first, as the browser applies them. */
export function throughFilters(filters: readonly CaseFilter[]): (color: Opaque) => Opaque {
  if (filters.length === 0) return (color) => color;
  const functions = filters.flatMap(({ filter }) => functionsOf(filter));
  return (color) => opaque(applyFilters(color, functions));
}

const parsed = new Map<string, readonly FilterFunction[]>();

/** Pages have few filters, and each is asked for many times. */
function functionsOf(filter: string): readonly FilterFunction[] {
  let found = parsed.get(filter);
  if (found === undefined) parsed.set(filter, (found = parseFilters(filter)));
  return found;
}
