// JSON Pointer in a URI fragment (RFC 6901 §6): `#/a/b~1c` → segments. Percent-encoded and raw characters are both accepted.
import type { JsonNode } from './json-node.ts';
import { memberOf } from './json-node.ts';

/** @param fragment text after `#`: empty for the root, else beginning with `/` @returns null when malformed */
export function parsePointer(fragment: string): readonly string[] | null {
  if (fragment === '') return [];
  if (!fragment.startsWith('/')) return null;
  const segments: string[] = [];
  for (const raw of fragment.slice(1).split('/')) {
    const decoded = percentDecode(raw);
    if (/~(?![01])/.test(decoded)) return null;
    segments.push(decoded.replaceAll('~1', '/').replaceAll('~0', '~'));
  }
  return segments;
}

/** A lone `%`, as in a name like `50%`, is taken as written. */
function percentDecode(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** One step down: in an object a member name, in an array a decimal index without leading zero. */
export function stepInto(node: JsonNode, segment: string): JsonNode | undefined {
  if (node.kind === 'object') return memberOf(node, segment);
  if (node.kind === 'array' && /^(0|[1-9]\d*)$/.test(segment)) return node.items[Number(segment)];
  return undefined;
}

export function walkPointer(root: JsonNode, segments: readonly string[]): JsonNode | undefined {
  return segments.reduce<JsonNode | undefined>((node, segment) => (node === undefined ? undefined : stepInto(node, segment)), root);
}
