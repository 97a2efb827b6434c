// A palette → what each theme's views wear to show it: a colour for every custom property that changes.
import { toCssText } from '../colour/format-color.ts';
import type { WornProperty } from '../triage/try-out.ts';
import type { World } from '../triage/world.ts';
import { colorUnder } from './assignment.ts';
import type { WorkedOut } from './palette.ts';

/** @param theme place in the table's list */
export function propertiesUnder(
  { index }: Pick<World, 'index'>,
  { movable, assignment }: Pick<WorkedOut, 'movable' | 'assignment'>,
  theme: number,
): readonly WornProperty[] {
  return index.table.tokens.flatMap(({ properties }, token) => {
    const now = index.colorOf(theme, token);
    const then = colorUnder({ index, movable, assignment }, theme, token);
    if (now === null || then === null || toCssText(now) === toCssText(then)) return [];
    return properties.map((name) => ({ name, color: toCssText(then) }));
  });
}
