// One more exemption in a JSON text, with everything else left as it stands: order, indentation, line breaks, spaces.
import type { Exemption } from '../plan/configuration.ts';
import { memberOf } from '../tokens/json/json-node.ts';
import type { JsonArray, JsonNode, JsonObject } from '../tokens/json/json-node.ts';
import { parseJson } from '../tokens/json/parse-json.ts';

/**
 * @param text a configuration (an object: the exemption goes into its `exempt`) or a list of exemptions
 * @returns null when the text is neither
 */
export function insertExemption(file: string, text: string, exemption: Exemption): string | null {
  const { source, faults } = parseJson(file, text);
  const { root } = source;
  if (root === null || faults.some((fault) => fault.code === 'not-json-object' || fault.code === 'too-deep')) return null;
  const layout = layoutOf(text, root);
  if (root.kind === 'array') return insertItem(text, root, exemption, layout, 0);
  if (root.kind !== 'object') return null;
  const exempt = memberOf(root, 'exempt');
  if (exempt === undefined) return insertMember(text, root, exemption, layout);
  return exempt.kind === 'array' ? insertItem(text, exempt, exemption, layout, 1) : null;
}

interface Layout {
  /** One level of indentation; '' when the text is on one line. */
  readonly indent: string;
  readonly newline: string;
}

function layoutOf(text: string, root: JsonNode): Layout {
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  const first = root.kind === 'object' ? root.members[0]?.nameStart : root.kind === 'array' ? root.items[0]?.start : undefined;
  if (first === undefined) return { indent: '  ', newline };
  const before = /\n([ \t]*)$/.exec(text.slice(0, first))?.[1];
  return before === undefined ? { indent: '', newline: '' } : { indent: before === '' ? '  ' : before, newline };
}

/** @param depth levels of indentation the list itself stands at */
function insertItem(text: string, list: JsonArray, exemption: Exemption, layout: Layout, depth: number): string {
  const last = list.items.at(-1);
  if (last === undefined) {
    const inside = layout.newline + layout.indent.repeat(depth + 1) + render(exemption, layout, depth + 1);
    return `${text.slice(0, list.start)}[${inside}${layout.newline}${layout.indent.repeat(depth)}]${text.slice(list.end)}`;
  }
  // What stands between two items here is put between the last and the new one: their author's own layout.
  const before = list.items.at(-2);
  const gap =
    before === undefined
      ? /\s*$/.exec(text.slice(list.start + 1, last.start))?.[0]
      : text.slice(before.end, last.start).replace(',', '');
  const lastIsOneLine = !text.slice(last.start, last.end).includes('\n');
  const item = lastIsOneLine ? oneLine(exemption) : render(exemption, layout, depth + 1);
  const separator = gap === undefined || gap === '' ? ' ' : gap;
  return `${text.slice(0, last.end)},${separator}${item}${text.slice(last.end)}`;
}

function insertMember(text: string, root: JsonObject, exemption: Exemption, layout: Layout): string {
  const { indent, newline } = layout;
  const member = `${newline}${indent}"exempt": [${newline}${indent.repeat(2)}${render(exemption, layout, 2)}${newline}${indent}]`;
  const last = root.members.at(-1);
  if (last === undefined) return `${text.slice(0, root.start)}{${member}${newline}}${text.slice(root.end)}`;
  return `${text.slice(0, last.value.end)},${newline === '' ? ' ' : ''}${member}${text.slice(last.value.end)}`;
}

function render(exemption: Exemption, { indent, newline }: Layout, depth: number): string {
  if (newline === '') return oneLine(exemption);
  const inner = newline + indent.repeat(depth + 1);
  return `{${inner}${members(exemption).join(`,${inner}`)}${newline}${indent.repeat(depth)}}`;
}

function oneLine(exemption: Exemption): string {
  return `{ ${members(exemption).join(', ')} }`;
}

/** In the order people read them: what, how far, why, who, until when. */
function members({ selector, checks, faults, pages, themes, states, logotype, why, owner, until }: Exemption): readonly string[] {
  return Object.entries({ selector, checks, faults, pages, themes, states, logotype, why, owner, until }).flatMap(
    ([name, value]) =>
      value === undefined
        ? []
        : [
            `${JSON.stringify(name)}: ${Array.isArray(value) ? `[${value.map((v) => JSON.stringify(v)).join(', ')}]` : JSON.stringify(value)}`,
          ],
  );
}
