// A document as Chromium tells it with all that is in it → the closed shadow trees in it.

/** The parts of a node that are read here. */
interface PiercedNode {
  readonly children?: readonly PiercedNode[];
  readonly shadowRoots?: readonly PiercedNode[];
  readonly contentDocument?: PiercedNode;
  readonly shadowRootType?: string;
  readonly backendNodeId: number;
}

/** @returns backend node ids of the roots, outer ones first */
export function closedIn(root: PiercedNode): readonly number[] {
  const found: number[] = [];
  const stack = [root];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    if (node.shadowRootType === 'closed') found.push(node.backendNodeId);
    // What the browser puts into its own controls is no part of the page.
    const inner = (node.shadowRoots ?? []).filter(({ shadowRootType }) => shadowRootType !== 'user-agent');
    stack.push(...(node.children ?? []), ...inner, ...(node.contentDocument === undefined ? [] : [node.contentDocument]));
  }
  return found;
}
