// JSON object of one file → groups and tokens (Format 2025.10, sections 5 and 6): names and kinds of nodes are judged here,
// references and values later, since they mean something only in the flattened tree.
import type { JsonNode, JsonObject, JsonString } from './json/json-node.ts';
import { memberOf, quote } from './json/json-node.ts';
import type { Report } from './problem.ts';
import type { Reading } from './read-value.ts';
import { readingOf } from './read-value.ts';

interface NodeFacts {
  /** Names joined with dots; empty for the root. */
  readonly path: string;
  readonly at: JsonObject;
  readonly type: JsonString | null;
  readonly description: string | null;
  readonly deprecated: string | boolean | null;
  readonly extensions: JsonObject | null;
}

export interface TokenNode extends NodeFacts {
  readonly kind: 'token';
  /** null for an alias written with `$ref` beside no `$value`. */
  readonly value: JsonNode | null;
  readonly reading: Reading;
  /** Unusable, and already reported. */
  readonly void: boolean;
}

export interface GroupNode extends NodeFacts {
  readonly kind: 'group';
  readonly children: ReadonlyMap<string, TokenNode | GroupNode>;
  readonly base: Base | null;
  /** Only `$ref` says what it is: a group if the target is one, else an alias token (F6.6.2). Then this is that token. */
  readonly link: TokenNode | null;
}

/** What a group builds on: its `$extends`, or a `$ref` on an object without `$value`. */
export interface Base {
  readonly how: '$extends' | '$ref';
  readonly at: JsonString;
}

const GROUP_MEMBERS: ReadonlySet<string> = new Set([
  '$type',
  '$description',
  '$deprecated',
  '$extensions',
  '$extends',
  '$ref',
  '$root',
]);
const TOKEN_MEMBERS: ReadonlySet<string> = new Set(['$type', '$description', '$deprecated', '$extensions', '$value', '$ref']);
/** Members of the first draft (2021), written without `$`. */
const FIRST_DRAFT: ReadonlySet<string> = new Set(['value', 'type', 'description']);

/** @param root the object of a token file, or inline tokens of a resolver document */
export function readTree(root: JsonObject, report: Report): GroupNode {
  const value = memberOf(root, '$value');
  if (value !== undefined) {
    const hint = 'Put the token under a name: the name of a token is its key.';
    report({
      code: 'bad-name',
      token: '',
      at: value,
      found: '$value at the root of the file',
      expected: 'groups and named tokens',
      hint,
    });
  }
  return readGroup(root, '', report);
}

function readNode(at: JsonObject, path: string, report: Report): TokenNode | GroupNode {
  return memberOf(at, '$value') === undefined ? readGroup(at, path, report) : readToken(at, path, report);
}

function readToken(at: JsonObject, path: string, report: Report): TokenNode {
  let unusable = false;
  for (const { name, value } of at.members) {
    if (name.startsWith('$') && name !== '$root') {
      judgeReserved(name, value, TOKEN_MEMBERS, path, report);
    } else if (name === '$root' || value.kind === 'object') {
      unusable = true;
      const hint = 'A token is a leaf: move the child beside it, or make this a group with a $root token.';
      report({
        code: 'token-has-children',
        token: path,
        at: value,
        found: `the child "${name}" beside $value`,
        expected: 'a token without children',
        hint,
      });
    } else {
      reportStray(
        name,
        value,
        join(path, name),
        report,
        'Members of a value stand inside $value; what an alias refers to cannot be changed beside it.',
      );
    }
  }
  const type = memberOf(at, '$type');
  if (type !== undefined && type.kind !== 'string') unusable = true;
  const ref = memberOf(at, '$ref');
  if (ref !== undefined) {
    unusable = true;
    const hint = 'Keep one of the two.';
    report({ code: 'value-and-ref', token: path, at: ref, found: '$ref beside $value', expected: 'either $value or $ref', hint });
  }
  const value = memberOf(at, '$value') ?? at;
  return {
    kind: 'token',
    ...factsOf(at, path, report),
    value,
    reading: readingOf(value, 'value'),
    void: unusable || value.kind === 'broken',
  };
}

function readGroup(at: JsonObject, path: string, report: Report): GroupNode {
  const children = new Map<string, TokenNode | GroupNode>();
  for (const { name, value } of at.members) {
    const childPath = join(path, name);
    if (name.startsWith('$') && name !== '$root') {
      if (!(path === '' && (name === '$schema' || name === '$value'))) judgeReserved(name, value, GROUP_MEMBERS, path, report);
    } else if (value.kind !== 'object') {
      reportStray(name, value, childPath, report);
    } else if (name === '' || /[{}.]/.test(name)) {
      const expected = 'a name with at least one character, without "{", "}" and "."';
      report({
        code: 'bad-name',
        token: childPath,
        at: value,
        found: `"${name}"`,
        expected,
        hint: 'Rename it; nest groups instead of writing dots.',
      });
    } else {
      const child = readNode(value, childPath, report);
      if (name === '$root' && child.kind === 'group' && child.link === null) {
        const hint = '$root is the own value of a group, never a group.';
        report({ code: 'not-a-node', token: childPath, at: value, found: '$root without $value', expected: 'a token', hint });
      } else {
        children.set(name, child);
      }
    }
  }
  const facts = factsOf(at, path, report);
  const extend = textMember(at, '$extends', path, report);
  const ref = textMember(at, '$ref', path, report);
  const link = ref === null || extend !== null || children.size > 0 ? null : linkToken(facts, ref);
  return { kind: 'group', ...facts, children, base: extend === null ? asBase('$ref', ref) : asBase('$extends', extend), link };
}

function asBase(how: Base['how'], at: JsonString | null): Base | null {
  return at === null ? null : { how, at };
}

function linkToken(facts: NodeFacts, ref: JsonString): TokenNode {
  return { kind: 'token', ...facts, value: null, reading: readingOf(ref, 'token'), void: false };
}

function factsOf(at: JsonObject, path: string, report: Report): NodeFacts {
  const type = memberOf(at, '$type');
  if (type !== undefined && type.kind !== 'string' && type.kind !== 'broken') {
    const hint = '$type is the name of one of the 13 types, as text.';
    report({ code: 'unknown-type', token: path, at: type, found: quote(type), expected: 'a type name', hint });
  }
  const description = memberOf(at, '$description');
  const deprecated = memberOf(at, '$deprecated');
  const extensions = memberOf(at, '$extensions');
  if (description !== undefined && description.kind !== 'string') ignored('$description', description, 'a string', path, report);
  if (deprecated !== undefined && deprecated.kind !== 'string' && deprecated.kind !== 'boolean') {
    ignored('$deprecated', deprecated, 'true, false or a string', path, report);
  }
  if (extensions !== undefined && extensions.kind !== 'object') ignored('$extensions', extensions, 'an object', path, report);
  return {
    path,
    at,
    type: type?.kind === 'string' ? type : null,
    description: description?.kind === 'string' ? description.value : null,
    deprecated: deprecated?.kind === 'string' || deprecated?.kind === 'boolean' ? deprecated.value : null,
    extensions: extensions?.kind === 'object' ? extensions : null,
  };
}

function ignored(name: string, at: JsonNode, expected: string, path: string, report: Report): void {
  if (at.kind === 'broken') return;
  report({ code: 'bad-property', token: join(path, name), at, found: quote(at), expected, hint: 'It is ignored.' });
}

function textMember(at: JsonObject, name: string, path: string, report: Report): JsonString | null {
  const node = memberOf(at, name);
  if (node === undefined || node.kind === 'string') return node ?? null;
  report({
    code: 'ref-syntax',
    token: path,
    at: node,
    found: quote(node),
    expected: 'a reference as text',
    hint: 'Write "#/group/token" or "{group}".',
  });
  return null;
}

/** `$`-members are reserved: an unknown one with an object is refused, any other kept with a warning. */
function judgeReserved(name: string, value: JsonNode, known: ReadonlySet<string>, path: string, report: Report): void {
  if (known.has(name)) return;
  const token = join(path, name);
  const expected = `one of ${[...known].join(' ')}`;
  if (value.kind === 'object') {
    report({
      code: 'bad-name',
      token,
      at: value,
      found: `"${name}"`,
      expected: 'a name that does not begin with "$"',
      hint: 'Rename it.',
    });
  } else {
    report({ code: 'unknown-property', token, at: value, found: name, expected, hint: 'It is kept and has no effect.' });
  }
}

function reportStray(
  name: string,
  value: JsonNode,
  path: string,
  report: Report,
  advice = 'Texts about a group go into $description or $extensions.',
): void {
  if (value.kind === 'broken') return;
  const hint = FIRST_DRAFT.has(name)
    ? 'The first draft (2021) wrote "value", "type" and "description"; since 2022 they are "$value", "$type" and "$description".'
    : advice;
  report({ code: 'not-a-node', token: path, at: value, found: quote(value), expected: 'an object: a group or a token', hint });
}

function join(path: string, name: string): string {
  return path === '' ? name : `${path}.${name}`;
}
