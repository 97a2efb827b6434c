// The part of the plan that `--page`, `--theme`, `--state` and `--viewport` ask for.
import picomatch from 'picomatch';
import { wrongUse } from '../../errors/command-errors.ts';
import type { View } from '../../samples/view.ts';

export interface Selection {
  readonly page?: readonly string[];
  readonly theme?: readonly string[];
  readonly state?: readonly string[];
  readonly viewport?: readonly string[];
}

const AXES = ['page', 'theme', 'state', 'viewport'] as const;

/**
 * Globs of one option are joined by *or*, options by *and*. A theme's reference view is kept, since others are compared with it.
 * @throws GloamError `wrong-use` where a glob matches nothing of the plan
 */
export function selectViews(plan: readonly View[], selection: Selection, reference: string): readonly View[] {
  const tests = AXES.map((axis) => {
    const globs = selection[axis] ?? [];
    for (const glob of globs) refuseIdle(plan, axis, glob);
    // `bash` lets `*` match a slash, since page names are paths.
    const matches = globs.length === 0 ? () => true : picomatch([...globs], { bash: true });
    return { axis, matches };
  });
  return plan.filter((view) =>
    tests.every(({ axis, matches }) => matches(view[axis]) || (axis === 'theme' && view.theme === reference)),
  );
}

export function isNarrowed(selection: Selection): boolean {
  return AXES.some((axis) => (selection[axis] ?? []).length > 0);
}

function refuseIdle(plan: readonly View[], axis: (typeof AXES)[number], glob: string): void {
  const matches = picomatch(glob, { bash: true });
  if (plan.some((view) => matches(view[axis]))) return;
  const known = [...new Set(plan.map((view) => view[axis]))];
  const shown = known.length <= 20 ? known.join(', ') : `${known.slice(0, 20).join(', ')} and ${known.length - 20} more`;
  throw wrongUse(`--${axis} ${glob}: matches nothing; known: ${shown}.`, 'Name one of these, or a glob over them.');
}
