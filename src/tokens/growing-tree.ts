// A flattened tree while its groups are expanded: the only stage at which a tree changes, on a copy of its own.
import type { FlatGroup, FlatToken } from './flatten.ts';

export type GrowingNode = FlatToken | GrowingGroup;

export interface GrowingGroup extends Omit<FlatGroup, 'children' | 'type' | 'deprecated' | 'base' | 'link'> {
  readonly children: Map<string, GrowingNode>;
  type: FlatGroup['type'];
  deprecated: FlatGroup['deprecated'];
  base: FlatGroup['base'];
  link: FlatGroup['link'];
}

/** Copies the groups; tokens are shared. */
export function growing(group: FlatGroup): GrowingGroup {
  const children = new Map<string, GrowingNode>();
  for (const [name, child] of group.children) children.set(name, child.kind === 'group' ? growing(child) : child);
  return { ...group, children };
}

/** Some group builds on another, or a bare `$ref` may be one. */
export function hasBases(group: FlatGroup): boolean {
  if (group.base !== null) return true;
  for (const child of group.children.values()) if (child.kind === 'group' && hasBases(child)) return true;
  return false;
}
