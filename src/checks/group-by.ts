// Puts together what shares a name, and tells which of equals speaks for them: never the order they came in.

/** Groups in the order of first appearance. */
export function groupBy<T>(items: readonly T[], nameOf: (item: T) => string): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const name = nameOf(item);
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}

/** For sorting: an order that depends on the places alone. */
export function byKey(one: { readonly key: string }, other: { readonly key: string }): number {
  return one.key < other.key ? -1 : one.key > other.key ? 1 : 0;
}
