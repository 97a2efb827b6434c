// A plan → the groups that machines share: a page in one viewport, with all its themes and states. They share loads, and what the page
// shows at rest is not told anew in its states, so one machine does and judges them together.
import type { View, ViewRef } from '../samples/view.ts';
import { viewId } from './make-plan.ts';

export interface PageGroup {
  /** The same from run to run. */
  readonly name: string;
  readonly page: string;
  readonly viewport: string;
  /** Ids of its views, in the order of the plan. */
  readonly views: readonly string[];
  /** What it is expected to take. */
  readonly expectedMs: number;
}

/** A view nobody has seen yet, where nothing is known of any other: about half a second each on one core (measured on the demo app). */
const UNKNOWN_MS = 500;

/** @param tookMs what each view took the last time, by its id @returns in the order of the plan */
export function planGroups(views: readonly View[], tookMs: ReadonlyMap<string, number>): readonly PageGroup[] {
  const known = views.flatMap(({ id }) => tookMs.get(id) ?? []);
  const usual = known.length === 0 ? UNKNOWN_MS : known.reduce((sum, ms) => sum + ms, 0) / known.length;
  const groups = new Map<string, View[]>();
  for (const view of views) {
    const name = pageGroupName(view);
    const members = groups.get(name);
    if (members === undefined) groups.set(name, [view]);
    else members.push(view);
  }
  return [...groups].flatMap(([name, members]): readonly PageGroup[] => {
    const [first] = members;
    if (first === undefined) return [];
    return [
      {
        name,
        page: first.page,
        viewport: first.viewport,
        views: members.map(({ id }) => id),
        expectedMs: Math.round(members.reduce((sum, { id }) => sum + (tookMs.get(id) ?? usual), 0)),
      },
    ];
  });
}

export function pageGroupName(view: Omit<ViewRef, 'id'>): string {
  return viewId({ ...view, theme: '*', state: '*' });
}
