// Looks a path up in a flattened tree whose groups are not expanded yet: what a group lacks is sought in the one it builds on.
import type { GrowingGroup } from './growing-tree.ts';
import type { Target } from './reference.ts';
import { parseGroupReference, parseTokenPointer } from './reference.ts';
import type { Base } from './tree.ts';

export type Found =
  /** `through`: groups on the way whose own base may add to what was found. */
  | { readonly kind: 'group'; readonly group: GrowingGroup; readonly through: readonly GrowingGroup[] }
  | { readonly kind: 'token' }
  | { readonly kind: 'none' };

const NONE: Found = { kind: 'none' };
/** Groups that build on each other one behind the other; real files reach 3. */
const MOST_BASES = 100;

/** @returns a function from a base to what it points at; it ends on loops, which are judged elsewhere */
export function createGroupFinder(root: GrowingGroup): (base: Base) => Found {
  const known = new Map<Base, Found>();
  const busy = new Set<Base>();

  function targetOf(base: Base): Found {
    const found = known.get(base);
    if (found !== undefined) return found;
    if (busy.has(base) || busy.size > MOST_BASES) return NONE;
    busy.add(base);
    const target = parseBase(base);
    const result =
      target === null ? NONE : target.rest.length > 0 ? ({ kind: 'token' } as const) : find(root, target.path, [], new Set());
    busy.delete(base);
    known.set(base, result);
    return result;
  }

  /** @param sought bases already looked into for what is missing: groups may build on themselves */
  function find(from: GrowingGroup, path: string, through: readonly GrowingGroup[], sought: ReadonlySet<Base>): Found {
    let here = from;
    const passed = [...through];
    const names = path === '' ? [] : path.split('.');
    for (const [i, name] of names.entries()) {
      if (here.base !== null) passed.push(here);
      const child = here.children.get(name);
      if (child?.kind === 'token') return i === names.length - 1 ? { kind: 'token' } : NONE;
      if (child === undefined) return here.base === null ? NONE : findInBase(here.base, names.slice(i).join('.'), passed, sought);
      here = child;
    }
    if (here.link === null || here.base === null) return { kind: 'group', group: here, through: passed };
    // A bare $ref is what its target is.
    return targetOf(here.base).kind === 'group' ? { kind: 'group', group: here, through: passed } : { kind: 'token' };
  }

  function findInBase(base: Base, path: string, through: readonly GrowingGroup[], sought: ReadonlySet<Base>): Found {
    if (sought.has(base) || sought.size > MOST_BASES) return NONE;
    const target = targetOf(base);
    return target.kind === 'group' ? find(target.group, path, [...through, ...target.through], new Set([...sought, base])) : NONE;
  }

  return targetOf;
}

export function parseBase(base: Base): Target | null {
  return base.how === '$ref' ? parseTokenPointer(base.at.value) : parseGroupReference(base.at.value);
}
