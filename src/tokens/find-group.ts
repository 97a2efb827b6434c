// Looks a path up in a flattened tree whose groups are not expanded yet: what a group lacks is sought in the one it builds on.
import type { GrowingGroup } from './growing-tree.ts';
import type { Target } from './reference.ts';
import { parseGroupReference, parseTokenPointer } from './reference.ts';
import type { Base } from './tree.ts';

export type FoundGroup =
  /** `through`: groups on the way whose own base may add to what was found. */
  | { readonly kind: 'group'; readonly group: GrowingGroup; readonly through: readonly GrowingGroup[] }
  | { readonly kind: 'token' }
  | { readonly kind: 'none' }
  /** Sought through more groups than anybody means. */
  | { readonly kind: 'too-far' };

const NONE: FoundGroup = { kind: 'none' };
const TOO_FAR: FoundGroup = { kind: 'too-far' };
/** Groups that build on each other one behind the other; real files reach 3. */
export const MOST_BASES = 100;

/** @returns a function from a base to what it points at; it ends on loops, which are judged elsewhere */
export function createGroupFinder(root: GrowingGroup): (base: Base) => FoundGroup {
  const known = new Map<Base, FoundGroup>();
  const busy = new Set<Base>();

  function targetOf(base: Base): FoundGroup {
    const found = known.get(base);
    if (found !== undefined) return found;
    if (busy.has(base)) return NONE;
    if (busy.size > MOST_BASES) return TOO_FAR;
    busy.add(base);
    const target = parseBase(base);
    const result = target === null ? NONE : target.rest.length > 0 ? ({ kind: 'token' } as const) : find(target.path);
    busy.delete(base);
    known.set(base, result);
    return result;
  }

  /** One walk, name by name; where a group lacks a name the walk goes on in the one it builds on. */
  function find(path: string): FoundGroup {
    let here = root;
    const passed: GrowingGroup[] = [];
    // Groups may build on themselves.
    const sought = new Set<Base>();
    const names = path === '' ? [] : path.split('.');
    for (let i = 0; i < names.length;) {
      if (here.base !== null) passed.push(here);
      const child = here.children.get(names[i] ?? '');
      if (child?.kind === 'token') return i === names.length - 1 ? { kind: 'token' } : NONE;
      if (child !== undefined) {
        here = child;
        i += 1;
        continue;
      }
      if (here.base === null || sought.has(here.base)) return NONE;
      if (sought.size > MOST_BASES) return TOO_FAR;
      sought.add(here.base);
      const target = targetOf(here.base);
      if (target.kind !== 'group') return target.kind === 'too-far' ? TOO_FAR : NONE;
      passed.push(...target.through);
      here = target.group;
    }
    if (here.link === null || here.base === null) return { kind: 'group', group: here, through: passed };
    // A bare $ref is what its target is.
    const { kind } = targetOf(here.base);
    if (kind === 'too-far') return TOO_FAR;
    return kind === 'group' ? { kind: 'group', group: here, through: passed } : { kind: 'token' };
  }

  return targetOf;
}

export function parseBase(base: Base): Target | null {
  return base.how === '$ref' ? parseTokenPointer(base.at.value) : parseGroupReference(base.at.value);
}
