// Flattened tree → tokens with what their groups say about them, in the order of the format (F6.7.1).
import type { JsonString, Stretch } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import type { FlatGroup, FlatNode, FlatToken } from './flatten.ts';
import type { FoundProblem, Report } from './problem.ts';
import type { TokenType } from './values/token-value.ts';
import { TOKEN_TYPES, isTokenType } from './values/token-value.ts';

/** A type in force, and who set it. */
export interface GroupType {
  readonly type: TokenType;
  readonly at: JsonString;
  readonly group: string;
}

export interface TokenEntry {
  readonly token: FlatToken;
  /** `unknown`: the group's type is none of the 13, which is reported once, at the group. */
  readonly groupType: GroupType | 'unknown' | null;
  readonly deprecated: string | boolean;
}

interface FromGroups {
  readonly groupType: TokenEntry['groupType'];
  readonly deprecated: string | boolean;
}

interface Listed {
  readonly outer: FromGroups;
  readonly entries: readonly TokenEntry[];
  readonly faults: readonly FoundProblem[];
}

/** @returns a function that lists a tree; groups that several trees share are listed once */
export function createLister(): (root: FlatGroup, report: Report) => readonly TokenEntry[] {
  const known = new Map<FlatGroup, Listed>();

  function list(group: FlatGroup, outer: FromGroups): Listed {
    const before = known.get(group);
    if (before !== undefined && sameFacts(before.outer, outer)) return before;
    const faults: FoundProblem[] = [];
    const entries: TokenEntry[] = [];
    listOwn(group, outer, entries, faults, list);
    const listed = { outer, entries, faults };
    known.set(group, listed);
    return listed;
  }

  return (root, report) => {
    const { entries, faults } = list(root, { groupType: null, deprecated: false });
    for (const fault of faults) report(fault);
    return entries;
  };
}

function sameFacts(a: FromGroups, b: FromGroups): boolean {
  if (a.deprecated !== b.deprecated) return false;
  if (a.groupType === b.groupType) return true;
  if (a.groupType === null || b.groupType === null || a.groupType === 'unknown' || b.groupType === 'unknown') return false;
  return a.groupType.at === b.groupType.at && a.groupType.group === b.groupType.group;
}

function listOwn(
  group: FlatGroup,
  outer: FromGroups,
  entries: TokenEntry[],
  faults: FoundProblem[],
  list: (group: FlatGroup, outer: FromGroups) => Listed,
): void {
  const inner = {
    groupType: group.type === null ? outer.groupType : judgeType(group.type, group.path, faults),
    deprecated: group.deprecated ?? outer.deprecated,
  };
  if (group.children.size === 0) {
    if (group.type !== null && group.path !== '') faults.push(maybeToken(group.type, group.path));
    return;
  }
  warnCaseOnly(group, faults);
  const last: TokenEntry[] = [];
  let rootToken: TokenEntry | null = null;
  for (const [name, child] of group.children) {
    if (child.kind === 'group') continue;
    const entry = { token: child, groupType: inner.groupType, deprecated: child.node.deprecated ?? inner.deprecated };
    if (name === '$root') rootToken = entry;
    else if (child.copyOf === null) entries.push(entry);
    else last.push(entry);
  }
  if (rootToken !== null) entries.push(rootToken);
  for (const entry of last) entries.push(entry);
  for (const child of group.children.values()) {
    if (child.kind !== 'group') continue;
    const listed = list(child, inner);
    for (const entry of listed.entries) entries.push(entry);
    for (const fault of listed.faults) faults.push(fault);
  }
}

function judgeType(at: JsonString, group: string, faults: FoundProblem[]): GroupType | 'unknown' {
  if (isTokenType(at.value)) return { type: at.value, at, group };
  faults.push(unknownType(at, group));
  return 'unknown';
}

export function unknownType(at: JsonString, path: string): FoundProblem {
  const near = TOKEN_TYPES.find((type) => type.toLowerCase() === at.value.toLowerCase());
  const hint =
    near === undefined ? 'Tokens of other types are kept, but cannot be read.' : `Write "${near}": types are case-sensitive.`;
  return { code: 'unknown-type', token: path, at, found: quote(at), expected: `one of ${TOKEN_TYPES.join(', ')}`, hint };
}

function maybeToken(at: JsonString, token: string): FoundProblem {
  const hint = 'If it is meant as a token, give it a $value.';
  return { code: 'maybe-token', token, at, found: 'a group with a $type and nothing in it', expected: 'tokens', hint };
}

/** Names of one group that differ in case only; many tools cannot keep them apart. */
function warnCaseOnly(group: FlatGroup, faults: FoundProblem[]): void {
  const byLower = new Map<string, string[]>();
  for (const name of group.children.keys()) {
    const lower = name.toLowerCase();
    const same = byLower.get(lower);
    if (same === undefined) byLower.set(lower, [name]);
    else same.push(name);
  }
  if (byLower.size === group.children.size) return;
  for (const names of byLower.values()) {
    const last = group.children.get(names.at(-1) ?? '');
    const at = last === undefined ? undefined : atOf(last);
    if (names.length < 2 || at === undefined) continue;
    const token = names.map((name) => (group.path === '' ? name : `${group.path}.${name}`)).join(', ');
    const hint = 'Rename one: style sheets made with lower-case names cannot tell them apart.';
    const found = 'names that differ in upper and lower case only';
    faults.push({ code: 'case-only', token, at, found, expected: 'names that differ in more', hint });
  }
}

function atOf(node: FlatNode): Stretch | undefined {
  return node.kind === 'token' ? node.node.at : node.from[0]?.at;
}
