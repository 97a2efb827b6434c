// A token file's text with one token more, right behind another one of its group, in the notation of that one. All else stays as it is.
import type { JsonNode, JsonObject } from './json/json-node.ts';
import { memberOf } from './json/json-node.ts';
import { parseJson } from './json/parse-json.ts';
import { parsePointer, walkPointer } from './json/pointer.ts';

/**
 * @param pointer JSON Pointer (RFC 6901) of the token it comes behind, or of that one's `$value`; the new one gets its value
 * @param name of the new token within the group
 * @returns null where no token stands there, or one of that name does already
 */
export function addToken(
  file: string,
  text: string,
  { pointer, name }: { readonly pointer: string; readonly name: string },
): string | null {
  const { root } = parseJson(file, text, { comments: true }).source;
  const segments = parsePointer(pointer.replace(/\/\$value$/, '')) ?? [];
  const own = segments.at(-1);
  const group = root === null ? undefined : walkPointer(root, segments.slice(0, -1));
  if (own === undefined || group?.kind !== 'object' || memberOf(group, name) !== undefined) return null;
  const member = group.members.findLast((each) => each.name === own);
  if (member?.value.kind !== 'object') return null;
  const written = copyOf(member.value, text);
  if (written === null) return null;
  // The same break and indent that its neighbour stands behind.
  const before = /\s*$/.exec(text.slice(0, member.nameStart))?.[0] ?? ' ';
  const { end } = member.value;
  return `${text.slice(0, end)},${before === '' ? ' ' : before}${JSON.stringify(name)}: ${written}${text.slice(end)}`;
}

/** Of value and type alone: a description tells of the other one. */
function copyOf(token: JsonObject, text: string): string | null {
  const value = memberOf(token, '$value');
  if (value === undefined) return null;
  const raw = (node: JsonNode): string => text.slice(node.start, node.end);
  const type = memberOf(token, '$type');
  return `{ ${type === undefined ? '' : `"$type": ${raw(type)}, `}"$value": ${raw(value)} }`;
}
