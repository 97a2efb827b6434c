// A palette → what each theme's views wear to show it: a colour for every custom property that changes.
import type { WornProperty } from '../triage/try-out.ts';
import { propertiesUnder } from '../triage/worn-properties.ts';
import type { World } from '../triage/world.ts';
import { colorUnder } from './assignment.ts';
import type { WorkedOut } from './palette.ts';

/** @param theme place in the table's list */
export function paletteProperties(
  { index }: Pick<World, 'index'>,
  { movable, assignment }: Pick<WorkedOut, 'movable' | 'assignment'>,
  theme: number,
): readonly WornProperty[] {
  return propertiesUnder(index, theme, (token) => colorUnder({ index, movable, assignment }, theme, token));
}
