// Layers of one permutation → one tree (Resolver 2025.10, R6.2): groups merge deeply, a token is replaced whole, the most
// recent occurrence wins, and every declaration met is kept. Trees are never changed, so permutations share what they can.
import type { JsonObject, JsonString } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import type { FoundProblem, Report } from './problem.ts';
import type { Base, GroupNode, TokenNode } from './tree.ts';

/** Where a layer comes from: a set, or the chosen context of a modifier. */
export type Origin =
  { readonly kind: 'set'; readonly name: string } | { readonly kind: 'modifier'; readonly name: string; readonly context: string };

export interface Layer {
  readonly origin: Origin;
  readonly root: GroupNode;
}

/** One place that defines a token, and the layer through which it came. */
export interface Declared {
  readonly node: TokenNode;
  readonly origin: Origin;
}

export interface FlatToken {
  readonly kind: 'token';
  readonly path: string;
  /** In the order met; the last one wins. */
  readonly declared: readonly Declared[];
  readonly node: TokenNode;
  /** The token this one was copied from by `$extends`. */
  readonly copyOf: FlatToken | null;
  /** Unusable, and already reported. */
  readonly void: boolean;
}

export interface FlatGroup {
  readonly kind: 'group';
  readonly path: string;
  readonly children: ReadonlyMap<string, FlatNode>;
  /** The groups merged here, in the order met. */
  readonly from: readonly GroupNode[];
  readonly type: JsonString | null;
  readonly deprecated: string | boolean | null;
  readonly base: Base | null;
  /** Nothing but a `$ref` so far: an alias token if its target is no group. */
  readonly link: FlatToken | null;
}

export type FlatNode = FlatToken | FlatGroup;

/** A tree after some layers, and those after one layer more. */
interface Stage {
  readonly group: FlatGroup;
  /** Faults of all layers so far. */
  readonly faults: readonly FoundProblem[];
  readonly next: { readonly layer: Layer; readonly stage: Stage }[];
}

/** @returns a function that flattens; layers that several permutations begin with are merged once */
export function createFlattener(): (layers: readonly Layer[], report: Report) => FlatGroup {
  const root: FlatGroup = {
    kind: 'group',
    path: '',
    children: new Map(),
    from: [],
    type: null,
    deprecated: null,
    base: null,
    link: null,
  };
  const start: Stage = { group: root, faults: [], next: [] };
  return (layers, report) => {
    const end = layers.reduce(stageAfter, start);
    for (const fault of end.faults) report(fault);
    return end.group;
  };
}

function stageAfter(stage: Stage, layer: Layer): Stage {
  const known = stage.next.find((each) => each.layer.root === layer.root && sameOrigin(each.layer.origin, layer.origin));
  if (known !== undefined) return known.stage;
  const faults = [...stage.faults];
  const group = mergeGroup(stage.group, layer.root, layer.origin, (fault) => faults.push(fault));
  const after: Stage = { group, faults, next: [] };
  stage.next.push({ layer, stage: after });
  return after;
}

function sameOrigin(a: Origin, b: Origin): boolean {
  if (a.name !== b.name) return false;
  return a.kind === 'set' ? b.kind === 'set' : b.kind === 'modifier' && a.context === b.context;
}

function mergeGroup(known: FlatGroup | null, group: GroupNode, origin: Origin, report: Report): FlatGroup {
  const children = new Map(known?.children);
  for (const [name, child] of group.children) {
    const before = children.get(name);
    children.set(
      name,
      child.kind === 'token' ? mergeToken(child, before, origin, report) : mergeChild(child, before, origin, report),
    );
  }
  const link = group.link === null || children.size > 0 ? null : toToken(group.link, origin, known?.link ?? null);
  return { ...mergeMembers(known, group, report), children, link };
}

function mergeToken(node: TokenNode, known: FlatNode | undefined, origin: Origin, report: Report): FlatToken {
  if (known?.kind !== 'group') return toToken(node, origin, known ?? null);
  if (known.link !== null) return toToken(node, origin, known.link);
  return clash(toToken(node, origin, null), known.from[0]?.at ?? node.at, report);
}

function mergeChild(group: GroupNode, known: FlatNode | undefined, origin: Origin, report: Report): FlatNode {
  if (known?.kind !== 'token') return mergeGroup(known ?? null, group, origin, report);
  if (group.link === null) return clash(known, group.at, report);
  return { ...mergeGroup(null, group, origin, report), link: toToken(group.link, origin, known) };
}

function toToken(node: TokenNode, origin: Origin, earlier: FlatToken | null): FlatToken {
  const declared = earlier === null ? [{ node, origin }] : [...earlier.declared, { node, origin }];
  return { kind: 'token', path: node.path, declared, node, copyOf: null, void: node.void };
}

/** @returns the token, void: it cannot be told which of the two was meant */
export function clash(token: FlatToken, group: JsonObject, report: Report): FlatToken {
  if (!token.void) {
    const hint = 'A token is a leaf; rename the token or the group.';
    const found = `a token here and a group of that name in ${group.source.file}`;
    report({ code: 'token-has-children', token: token.path, at: token.node.at, found, expected: 'one or the other', hint });
  }
  return { ...token, void: true };
}

/** `$type`, `$deprecated`, `$extends` and a group's `$ref`: the last file that has one wins. */
function mergeMembers(known: FlatGroup | null, group: GroupNode, report: Report): Omit<FlatGroup, 'children' | 'link'> {
  const { path } = group;
  if (known?.type != null && group.type !== null && known.type.value !== group.type.value) {
    differs('$type', known.type, group.type, path, report);
  }
  // A reference alone is an alias, and an alias may be laid over like any token (F6.6.2, R6.2).
  const isAlias = group.link !== null && known?.link != null;
  if (!isAlias && known?.base != null && group.base !== null && known.base.at.value !== group.base.at.value) {
    differs(group.base.how, known.base.at, group.base.at, path, report);
  }
  return {
    kind: 'group',
    path,
    from: [...(known?.from ?? []), group],
    type: group.type ?? known?.type ?? null,
    deprecated: group.deprecated ?? known?.deprecated ?? null,
    base: group.base ?? known?.base ?? null,
  };
}

function differs(member: string, earlier: JsonString, later: JsonString, path: string, report: Report): void {
  const found = `${member} ${quote(later)}, but ${quote(earlier)} in ${earlier.source.file}`;
  const hint = 'The later file wins; make them agree.';
  report({ code: 'group-differs', token: path, at: later, found, expected: `one ${member} for a group`, hint });
}
