// The coordinates of a view, taken out of anything that has them.
import type { ViewRef } from '../samples/view.ts';

export function viewParts({ page, theme, state, viewport }: Omit<ViewRef, 'id'>): Omit<ViewRef, 'id'> {
  return { page, theme, state, viewport };
}
