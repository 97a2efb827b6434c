// A colour seen through the filters of the elements around it.
import type { Opaque } from '../colour/color.ts';
import { opaque } from '../colour/color.ts';
import { applyFilters, parseFilters } from '../colour/filters.ts';
import type { CaseFilter } from './case.ts';

/** Innermost first, as the browser applies them. */
export function throughFilters(filters: readonly CaseFilter[]): (color: Opaque) => Opaque {
  if (filters.length === 0) return (color) => color;
  const functions = filters.flatMap(({ filter }) => parseFilters(filter));
  return (color) => opaque(applyFilters(color, functions));
}
