// `--page`, `--theme`, `--state`, `--viewport`: globs over the names of views, the same for every command that takes them.
import type { Command } from 'commander';
import picomatch from 'picomatch';
import { wrongUse } from '../errors/command-errors.ts';
import type { ViewRef } from '../samples/view.ts';

export interface Selection {
  readonly page?: readonly string[];
  readonly theme?: readonly string[];
  readonly state?: readonly string[];
  readonly viewport?: readonly string[];
}

const AXES = ['page', 'theme', 'state', 'viewport'] as const;

/** Adds the four options. */
export function takesSelection(command: Command): Command {
  for (const axis of AXES) command.option(`--${axis} <glob>`, `only these ${axis}s (repeatable)`, collect);
  return command;
}

/** An option that may be given several times. */
export function collect(value: string, before: readonly string[] | undefined): readonly string[] {
  return [...(before ?? []), value];
}

export function isNarrowed(selection: Selection): boolean {
  return AXES.some((axis) => (selection[axis] ?? []).length > 0);
}

/**
 * Globs of one option are joined by *or*, options by *and*.
 * @param also views kept whatever `--theme` says
 * @throws GloamError `wrong-use` where a glob matches none of the views
 */
export function selectViews<V extends ViewRef>(
  views: readonly V[],
  selection: Selection,
  also: (view: V) => boolean = () => false,
): readonly V[] {
  const tests = AXES.map((axis) => {
    const globs = selection[axis] ?? [];
    for (const glob of globs) refuseIdle(views, axis, glob);
    return { axis, matches: globs.length === 0 ? () => true : matcher([...globs]) };
  });
  return views.filter((view) => tests.every(({ axis, matches }) => matches(view[axis]) || (axis === 'theme' && also(view))));
}

/** `bash` lets `*` match a slash, since page names are paths. */
function matcher(globs: string[]): (name: string) => boolean {
  return picomatch(globs, { bash: true });
}

function refuseIdle(views: readonly ViewRef[], axis: (typeof AXES)[number], glob: string): void {
  const matches = matcher([glob]);
  if (views.some((view) => matches(view[axis]))) return;
  const known = [...new Set(views.map((view) => view[axis]))];
  const shown = known.length <= 20 ? known.join(', ') : `${known.slice(0, 20).join(', ')} and ${known.length - 20} more`;
  throw wrongUse(`--${axis} ${glob}: matches nothing; known: ${shown}.`, 'Name one of these, or a glob over them.');
}
