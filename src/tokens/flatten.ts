// Layers of one permutation → one tree (Resolver 2025.10, R6.2): groups merge deeply, a token is replaced whole, the most
// recent occurrence wins, and every declaration met is kept.
import type { JsonObject, JsonString } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import type { Report } from './problem.ts';
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
  readonly void: boolean;
}

export interface FlatGroup {
  readonly kind: 'group';
  readonly path: string;
  readonly children: Map<string, FlatNode>;
  /** The groups merged here, in the order met. */
  readonly from: GroupNode[];
  type: JsonString | null;
  deprecated: string | boolean | null;
  base: Base | null;
  /** Nothing but a `$ref` so far: an alias token if its target is no group. */
  link: FlatToken | null;
}

export type FlatNode = FlatToken | FlatGroup;

export function flattenLayers(layers: readonly Layer[], report: Report): FlatGroup {
  const root = emptyGroup('');
  for (const { root: tree, origin } of layers) mergeGroup(root, tree, origin, report);
  return root;
}

export function emptyGroup(path: string): FlatGroup {
  return { kind: 'group', path, children: new Map(), from: [], type: null, deprecated: null, base: null, link: null };
}

function mergeGroup(into: FlatGroup, group: GroupNode, origin: Origin, report: Report): void {
  mergeMembers(into, group, report);
  into.link = group.link === null ? null : toToken(group.link, origin, into.link);
  for (const [name, child] of group.children) {
    const known = into.children.get(name);
    into.children.set(
      name,
      child.kind === 'token' ? mergeToken(child, known, origin, report) : mergeChild(child, known, origin, report),
    );
  }
  if (into.children.size > 0) into.link = null;
}

function mergeToken(node: TokenNode, known: FlatNode | undefined, origin: Origin, report: Report): FlatToken {
  if (known?.kind !== 'group') return toToken(node, origin, known ?? null);
  if (known.link !== null) return toToken(node, origin, known.link);
  return clash(toToken(node, origin, null), known.from[0]?.at ?? node.at, report);
}

function mergeChild(group: GroupNode, known: FlatNode | undefined, origin: Origin, report: Report): FlatNode {
  if (known?.kind === 'token' && group.link === null) return clash(known, group.at, report);
  const into = known?.kind === 'group' ? known : emptyGroup(group.path);
  mergeGroup(into, group, origin, report);
  if (known?.kind === 'token' && group.link !== null) into.link = toToken(group.link, origin, known);
  return into;
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
function mergeMembers(into: FlatGroup, group: GroupNode, report: Report): void {
  const path = group.path;
  if (group.type !== null) {
    if (into.type !== null && into.type.value !== group.type.value) differs('$type', into.type, group.type, path, report);
    into.type = group.type;
  }
  if (group.base !== null) {
    if (into.base !== null && into.base.at.value !== group.base.at.value) {
      differs(group.base.how, into.base.at, group.base.at, path, report);
    }
    into.base = group.base;
  }
  into.deprecated = group.deprecated ?? into.deprecated;
  into.from.push(group);
}

function differs(member: string, earlier: JsonString, later: JsonString, path: string, report: Report): void {
  const found = `${member} ${quote(later)}, but ${quote(earlier)} in ${earlier.source.file}`;
  const hint = 'The later file wins; make them agree.';
  report({ code: 'group-differs', token: path, at: later, found, expected: `one ${member} for a group`, hint });
}
