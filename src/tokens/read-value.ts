// What a `$value` says before anything is looked up: a literal, a reference, or a malformed one; and which tokens it mentions.
import type { JsonNode, JsonObject, JsonString } from './json/json-node.ts';
import { memberOf } from './json/json-node.ts';
import type { Target } from './reference.ts';
import { hasBrace, parseCurly, parseTokenPointer } from './reference.ts';

export type Reading =
  | { readonly kind: 'literal'; readonly mentions: readonly Mention[] }
  | { readonly kind: 'curly'; readonly path: string; readonly at: JsonString }
  | { readonly kind: 'pointer'; readonly target: Target; readonly at: JsonString; readonly level: 'token' | 'value' }
  | { readonly kind: 'malformed'; readonly at: JsonNode }
  | { readonly kind: 'siblings'; readonly at: JsonObject };

/** A reference inside a literal. */
export interface Mention {
  readonly path: string;
  /** The whole token is meant, not a part of its value. */
  readonly whole: boolean;
}

export function readingOf(node: JsonNode, level: 'token' | 'value'): Reading {
  if (level === 'token' && node.kind === 'string') return pointerReading(node, 'token');
  if (node.kind === 'string' && hasBrace(node.value)) {
    const path = parseCurly(node.value);
    return path === null ? { kind: 'malformed', at: node } : { kind: 'curly', path, at: node };
  }
  const ref = referenceIn(node);
  if (ref === null) return { kind: 'literal', mentions: mentionsIn(node) };
  if (ref.kind !== 'string') return { kind: 'malformed', at: ref };
  return node.kind === 'object' && node.members.length > 1 ? { kind: 'siblings', at: node } : pointerReading(ref, 'value');
}

function pointerReading(at: JsonString, level: 'token' | 'value'): Reading {
  const target = parseTokenPointer(at.value);
  return target === null ? { kind: 'malformed', at } : { kind: 'pointer', target, at, level };
}

/** The `$ref` member of a reference object; null when the node is none. */
export function referenceIn(node: JsonNode): JsonNode | null {
  return node.kind === 'object' ? (memberOf(node, '$ref') ?? null) : null;
}

const NONE: readonly Mention[] = [];

function mentionsIn(node: JsonNode): readonly Mention[] {
  if (node.kind !== 'object' && node.kind !== 'array') return NONE;
  const found: Mention[] = [];
  collect(node, true, found);
  return found.length === 0 ? NONE : found;
}

/** @param curly false inside a colour's components, where braces have no meaning (F7.3) and are judged as a value */
function collect(node: JsonNode, curly: boolean, found: Mention[]): void {
  if (node.kind === 'string') {
    const path = curly && hasBrace(node.value) ? parseCurly(node.value) : null;
    if (path !== null) found.push({ path, whole: true });
  } else if (node.kind === 'array') {
    for (const item of node.items) collect(item, curly, found);
  } else if (node.kind === 'object') {
    const ref = referenceIn(node);
    const target = ref?.kind === 'string' ? parseTokenPointer(ref.value) : null;
    if (target !== null) found.push({ path: target.path, whole: isWhole(target) });
    for (const { name, value } of node.members) if (name !== '$ref') collect(value, curly && name !== 'components', found);
  }
}

/** The pointer means a token's value, not a part of it. */
export function isWhole(target: Target): boolean {
  return target.rest.length === 1 && target.rest[0] === '$value';
}

/** The pointer stands for a whole token: `#/a` at the level of the token, or `#/a/$value`. */
export function isAlias(reading: { readonly target: Target; readonly level: 'token' | 'value' }): boolean {
  return isWhole(reading.target) || (reading.level === 'token' && reading.target.rest.length === 0);
}
