// `$extends` and group `$ref` in a flattened tree (Format 2025.10, F6.4): decides which bare `$ref` are alias tokens, finds
// loops, then lays each group over a copy of the one it builds on.
import type { FoundGroup } from './find-group.ts';
import { MOST_BASES, createGroupFinder, parseBase } from './find-group.ts';
import type { FlatGroup } from './flatten.ts';
import type { GrowingGroup } from './growing-tree.ts';
import { growing, hasBases } from './growing-tree.ts';
import { createCopier } from './lay-over.ts';
import type { ProblemCode, Report } from './problem.ts';
import { strongComponents } from './strong-components.ts';
import type { Base } from './tree.ts';

/** A group with a base, and where it hangs. */
interface Extender {
  readonly group: GrowingGroup;
  readonly base: Base;
  readonly parent: GrowingGroup | null;
  readonly name: string;
}

/** Extenders inside a group (itself included): these indices of the list. */
interface Range {
  readonly from: number;
  readonly to: number;
}

/** Loops are judged on this many dependencies at most; real files have a few hundred. */
const MOST_EDGES = 1_000_000;

/** @returns the tree itself when no group builds on another */
export function expandGroups(tree: FlatGroup, report: Report): FlatGroup {
  if (!hasBases(tree)) return tree;
  const root = growing(tree);
  const targetOf = createGroupFinder(root);
  for (const extender of listExtenders(root).list) settleKind(extender, targetOf(extender.base), report);
  const { list, ranges } = listExtenders(root);
  const { order, looped } = orderExtenders(list, ranges, targetOf, report);
  const layOver = createCopier(report);
  for (const { group, base } of order) {
    // The groups its target depends on are expanded by now: a plain walk finds it.
    const target = walk(root, parseBase(base)?.path ?? '');
    if (target === null) continue;
    if (looped.has(target)) tell('ref-invalid-target', group, base, 'a group whose own $extends is faulty', report);
    layOver(group, target, base);
  }
  return root;
}

function listExtenders(root: GrowingGroup): {
  readonly list: readonly Extender[];
  readonly ranges: ReadonlyMap<GrowingGroup, Range>;
} {
  const list: Extender[] = [];
  const ranges = new Map<GrowingGroup, Range>();
  const visit = (group: GrowingGroup, parent: GrowingGroup | null, name: string): void => {
    const from = list.length;
    if (group.base !== null) list.push({ group, base: group.base, parent, name });
    for (const [childName, child] of group.children) if (child.kind === 'group') visit(child, group, childName);
    ranges.set(group, { from, to: list.length });
  };
  visit(root, null, '');
  return { list, ranges };
}

/** A bare `$ref` to anything but a group becomes an alias token; a base that is no group is reported and dropped. */
function settleKind({ group, base, parent, name }: Extender, found: FoundGroup, report: Report): void {
  if (found.kind === 'group') {
    group.link = null;
    return;
  }
  group.base = null;
  if (found.kind === 'too-far') {
    group.link = null;
    tell('too-large', group, base, `${base.at.value}, which leads through more than ${String(MOST_BASES)} groups`, report);
    return;
  }
  if (group.link !== null && parent !== null) {
    parent.children.set(name, group.link);
    return;
  }
  if (parseBase(base) === null) tell('ref-syntax', group, base, base.at.value, report);
  else if (found.kind === 'none') tell('ref-unresolved', group, base, `${base.at.value}, which does not exist`, report);
  else if (base.how === '$extends') tell('extends-not-group', group, base, `${base.at.value}, a token`, report);
  else tell('token-has-children', group, base, `a $ref to the token ${base.at.value} beside children`, report);
}

function orderExtenders(
  list: readonly Extender[],
  ranges: ReadonlyMap<GrowingGroup, Range>,
  targetOf: (base: Base) => FoundGroup,
  report: Report,
): { readonly order: readonly Extender[]; readonly looped: ReadonlySet<GrowingGroup> } {
  const indexOf = new Map(list.map(({ group }, i) => [group, i]));
  const edges = list.map(() => new Set<number>());
  let left = MOST_EDGES;
  for (const [i, { group, base }] of list.entries()) {
    const target = targetOf(base);
    if (target.kind !== 'group') continue;
    const needs = edges[i] ?? new Set();
    for (const passed of target.through) {
      const index = indexOf.get(passed);
      if (index !== undefined && passed !== group) needs.add(index);
    }
    const { from, to } = ranges.get(target.group) ?? { from: 0, to: 0 };
    left -= to - from;
    if (left < 0) {
      tell('too-large', group, base, 'more nested $extends than can be followed', report);
      return { order: [], looped: new Set() };
    }
    for (let inside = from; inside < to; inside += 1) needs.add(inside);
  }
  const looped = new Set<GrowingGroup>();
  const order: Extender[] = [];
  for (const component of strongComponents(list.length, list.keys(), (i) => [...(edges[i] ?? [])])) {
    for (const i of component) {
      const extender = list[i];
      if (extender === undefined) continue;
      if (component.length === 1 && edges[i]?.has(i) !== true) {
        order.push(extender);
      } else {
        looped.add(extender.group);
        tell('extends-cycle', extender.group, extender.base, `${extender.base.at.value}, which leads back here`, report);
      }
    }
  }
  return { order, looped };
}

function walk(root: GrowingGroup, path: string): GrowingGroup | null {
  let here = root;
  for (const name of path === '' ? [] : path.split('.')) {
    const child = here.children.get(name);
    if (child?.kind !== 'group') return null;
    here = child;
  }
  return here;
}

const ADVICE = {
  'ref-syntax': 'Write "{group}" or "#/group".',
  'ref-unresolved': 'Check the path; names are case-sensitive.',
  'extends-not-group': 'A group can build on a group only; refer to a token in $value.',
  'token-has-children': 'Remove the children, or point at a group.',
  'extends-cycle': 'Take one $extends out of the loop.',
  'ref-invalid-target': 'Mend the other group first.',
  'too-large': 'Check how this file was made.',
} as const satisfies Partial<Record<ProblemCode, string>>;

function tell(code: keyof typeof ADVICE, group: GrowingGroup, base: Base, found: string, report: Report): void {
  report({ code, token: group.path, at: base.at, found, expected: 'an existing group to build on', hint: ADVICE[code] });
}
