// Copies a group under another and lets the local content win (Format 2025.10, F6.4.2, F6.4.3): groups merge deeply, tokens
// are replaced whole, references inside the copy are not re-aimed.
import { MOST_LEVELS } from './json/parse-json.ts';
import { clash } from './flatten.ts';
import type { GrowingGroup, GrowingNode } from './growing-tree.ts';
import type { Report } from './problem.ts';
import type { Base } from './tree.ts';

/** Copies can multiply (a group twice in a group twice …); ours: five times the tokens of a very large set. */
const MOST_COPIES = 100_000;

export function createCopier(report: Report): (group: GrowingGroup, source: GrowingGroup, base: Base) => void {
  let left = MOST_COPIES;
  let told = false;

  /** @returns false once there is too much to copy, which is told once */
  function mayCopy(path: string, base: Base): boolean {
    left -= 1;
    if (left >= 0 && path.split('.').length <= MOST_LEVELS) return true;
    if (!told) {
      told = true;
      const found =
        left < 0
          ? `more than ${String(MOST_COPIES)} copies made by $extends`
          : `more than ${String(MOST_LEVELS)} levels made by $extends`;
      const hint = 'Groups that build on each other multiply; check how this file was made.';
      report({ code: left < 0 ? 'too-large' : 'too-deep', token: path.slice(0, 120), at: base.at, found, expected: 'fewer', hint });
    }
    return false;
  }

  function layOver(into: GrowingGroup, source: GrowingGroup, base: Base): void {
    if (into.type !== null && source.type !== null && into.type.value !== source.type.value) {
      const hint = 'Both constraints hold: give the group the type of the one it builds on, or type the tokens one by one.';
      const found = `$type "${into.type.value}" on a group that builds on one of type "${source.type.value}"`;
      report({ code: 'extends-type', token: into.path, at: into.type, found, expected: 'the same type', hint });
    }
    into.type ??= source.type;
    into.deprecated ??= source.deprecated;
    for (const [name, child] of [...source.children]) {
      const path = into.path === '' ? name : `${into.path}.${name}`;
      const local = into.children.get(name);
      if (local === undefined) {
        const copied = copy(child, path, base);
        if (copied !== null) into.children.set(name, copied);
      } else if (local.kind === 'group' && child.kind === 'group') {
        layOver(local, child, base);
      } else if (local.kind === 'token' && child.kind === 'group') {
        into.children.set(name, clash(local, child.from[0]?.at ?? local.node.at, report));
      } else if (local.kind === 'group' && child.kind === 'token') {
        into.children.set(name, { ...clash(child, local.from[0]?.at ?? child.node.at, report), path });
      }
    }
  }

  function copy(node: GrowingNode, path: string, base: Base): GrowingNode | null {
    if (!mayCopy(path, base)) return null;
    if (node.kind === 'token') return { ...node, path, copyOf: node };
    const group: GrowingGroup = { ...node, path, children: new Map(), base: null, link: null };
    for (const [name, child] of node.children) {
      const copied = copy(child, `${path}.${name}`, base);
      if (copied !== null) group.children.set(name, copied);
    }
    return group;
  }

  return layOver;
}
