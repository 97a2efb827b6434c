// Strongly connected components of a directed graph (Tarjan 1972), without recursion: chains in files may be very long.

/**
 * @param count nodes are 0 … count − 1
 * @param starts the nodes to begin with
 * @param edgesOf the nodes a node depends on
 * @returns components, each after all components it depends on
 */
export function strongComponents(
  count: number,
  starts: Iterable<number>,
  edgesOf: (node: number) => readonly number[],
): readonly (readonly number[])[] {
  const index = new Int32Array(count).fill(-1);
  const low = new Int32Array(count);
  const waiting = new Uint8Array(count);
  const stack: number[] = [];
  const components: number[][] = [];
  let next = 0;

  const open = (node: number): { node: number; edges: readonly number[]; at: number } => {
    index[node] = next;
    low[node] = next;
    next += 1;
    stack.push(node);
    waiting[node] = 1;
    return { node, edges: edgesOf(node), at: 0 };
  };
  const lower = (node: number, to: number): void => {
    low[node] = Math.min(low[node] ?? 0, to);
  };

  for (const start of starts) {
    if (index[start] !== -1) continue;
    const calls = [open(start)];
    for (let call = calls.at(-1); call !== undefined; call = calls.at(-1)) {
      const to = call.edges[call.at];
      call.at += 1;
      if (to !== undefined) {
        if (index[to] === -1) calls.push(open(to));
        else if (waiting[to] === 1) lower(call.node, index[to] ?? 0);
        continue;
      }
      calls.pop();
      const caller = calls.at(-1);
      if (caller !== undefined) lower(caller.node, low[call.node] ?? 0);
      if (low[call.node] === index[call.node]) components.push(take(call.node));
    }
  }
  return components;

  function take(root: number): number[] {
    const component: number[] = [];
    for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
      waiting[node] = 0;
      component.push(node);
      if (node === root) break;
    }
    return component.reverse();
  }
}
