// What reading a literal needs from outside: a way to report, and ways to follow the references inside it.
import type { JsonNode, JsonObject, JsonString } from '../json/json-node.ts';
import type { ProblemCode } from '../problem.ts';
import { referenceIn } from '../read-value.ts';
import type { TokenType, TypedValue } from './token-value.ts';

export type ReadNode<T> = (node: JsonNode, context: ReadContext) => T | null;

export interface ReadContext {
  readonly strict: boolean;
  /** Reports, and gives null so that a reader can return it. */
  readonly fault: (code: ProblemCode, at: JsonNode, facts: { found?: string; expected: string; hint?: string }) => null;
  /** A value inside a composite: a literal of the type, or a reference to a token of the type. */
  readonly subValue: (type: TokenType, node: JsonNode) => TypedValue | null;
  /** The value of the token a curly reference names; null when it has none (reported). */
  readonly token: (reference: JsonString) => TypedValue | null;
  /**
   * Reads what a `{ "$ref": … }` inside a value points at.
   * @param want type of token that fits here, null where a part of a value stands
   */
  readonly place: <T>(reference: JsonObject, want: TokenType | null, read: ReadNode<T>) => T | null;
}

/** A part of a value that may be written as `{ "$ref": … }`. */
export function part<T>(node: JsonNode, context: ReadContext, read: ReadNode<T>): T | null {
  return node.kind === 'object' && referenceIn(node) !== null ? context.place(node, null, read) : read(node, context);
}

export function bad(context: ReadContext, at: JsonNode, expected: string, hint = ''): null {
  // Broken JSON is reported already, where it was read.
  return at.kind === 'broken' ? null : context.fault('bad-value', at, { expected, hint });
}

export function readNumber(expected: string): ReadNode<number> {
  return (node, context) => (node.kind === 'number' ? node.value : bad(context, node, expected));
}

/** The members of an object, each with its reader; a missing, extra or unfit one is reported, all of them at once. */
export function readMembers(
  node: JsonNode,
  context: ReadContext,
  shape: { readonly what: string; readonly required: readonly string[]; readonly optional?: readonly string[] },
): ReadonlyMap<string, JsonNode> | null {
  if (node.kind !== 'object') return bad(context, node, shape.what);
  const members = new Map(node.members.map(({ name, value }) => [name, value]));
  const allowed: ReadonlySet<string> = new Set([...shape.required, ...(shape.optional ?? [])]);
  let fits = true;
  for (const [name, value] of members) {
    if (allowed.has(name)) continue;
    fits = false;
    bad(context, value, `${shape.what}; "${name}" is no member of it`, nearMiss(name, allowed));
  }
  const missing = shape.required.filter((name) => !members.has(name));
  if (missing.length > 0) {
    fits = false;
    bad(context, node, `${shape.what}; ${missing.map((name) => `"${name}"`).join(', ')} missing`);
  }
  return fits ? members : null;
}

function nearMiss(name: string, allowed: ReadonlySet<string>): string {
  if (name === 'channels') return 'Before July 2025 "components" was called "channels".';
  const near = [...allowed].find((known) => known.toLowerCase() === name.toLowerCase());
  return near === undefined ? 'Remove it; notes of your own go into $extensions.' : `Write "${near}".`;
}
