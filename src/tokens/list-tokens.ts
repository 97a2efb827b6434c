// Flattened tree → tokens with what their groups say about them, in the order of the format (F6.7.1).
import type { JsonString } from './json/json-node.ts';
import { quote } from './json/json-node.ts';
import type { FlatGroup, FlatNode, FlatToken } from './flatten.ts';
import type { Report } from './problem.ts';
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

export function listTokens(root: FlatGroup, report: Report): readonly TokenEntry[] {
  const entries: TokenEntry[] = [];
  listGroup(root, { groupType: null, deprecated: false }, entries, report);
  return entries;
}

function listGroup(group: FlatGroup, outer: FromGroups, entries: TokenEntry[], report: Report): void {
  const inner = {
    groupType: group.type === null ? outer.groupType : judgeType(group.type, group.path, report),
    deprecated: group.deprecated ?? outer.deprecated,
  };
  if (group.children.size === 0) {
    if (group.type !== null && group.path !== '') {
      const hint = 'If it is meant as a token, give it a $value.';
      report({
        code: 'maybe-token',
        token: group.path,
        at: group.type,
        found: 'a group with a $type and nothing in it',
        expected: 'tokens',
        hint,
      });
    }
    return;
  }
  warnCaseOnly(group, report);
  const children = [...group.children.values()];
  const isOwn = (child: FlatToken): boolean => child.copyOf === null && !child.path.endsWith('$root');
  const tokens = children.filter((child) => child.kind === 'token');
  for (const token of tokens) if (isOwn(token)) entries.push(entryOf(token, inner));
  for (const token of tokens) if (token.path.endsWith('$root')) entries.push(entryOf(token, inner));
  for (const token of tokens) if (!isOwn(token) && !token.path.endsWith('$root')) entries.push(entryOf(token, inner));
  for (const child of children) if (child.kind === 'group') listGroup(child, inner, entries, report);
}

function entryOf(token: FlatToken, outer: FromGroups): TokenEntry {
  return { token, groupType: outer.groupType, deprecated: token.node.deprecated ?? outer.deprecated };
}

function judgeType(at: JsonString, group: string, report: Report): GroupType | 'unknown' {
  if (isTokenType(at.value)) return { type: at.value, at, group };
  report(unknownType(at, group));
  return 'unknown';
}

export function unknownType(at: JsonString, path: string): Parameters<Report>[0] {
  const near = TOKEN_TYPES.find((type) => type.toLowerCase() === at.value.toLowerCase());
  const hint =
    near === undefined ? 'Tokens of other types are kept, but cannot be read.' : `Write "${near}": types are case-sensitive.`;
  return { code: 'unknown-type', token: path, at, found: quote(at), expected: `one of ${TOKEN_TYPES.join(', ')}`, hint };
}

/** Names of one group that differ in case only; many tools cannot keep them apart. */
function warnCaseOnly(group: FlatGroup, report: Report): void {
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
    if (names.length < 2 || last === undefined) continue;
    const paths = names.map((name) => (group.path === '' ? name : `${group.path}.${name}`));
    const hint = 'Rename one: style sheets made with lower-case names cannot tell them apart.';
    const found = 'names that differ in upper and lower case only';
    report({ code: 'case-only', token: paths.join(', '), at: atOf(last), found, expected: 'names that differ in more', hint });
  }
}

function atOf(node: FlatNode): Parameters<Report>[0]['at'] {
  return node.kind === 'token' ? node.node.at : (node.from[0]?.at ?? node.from[node.from.length - 1]?.at ?? NOWHERE);
}

const NOWHERE = { source: { file: '', text: '', root: null }, start: 0, end: 0 };
