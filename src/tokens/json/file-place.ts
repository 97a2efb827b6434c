// Offset in a text → line, column and JSON Pointer (RFC 6901), worked out only for what is shown.
import type { JsonNode, Source, Stretch } from './json-node.ts';

export interface FilePlace {
  readonly file: string;
  /** From 1. */
  readonly line: number;
  /** From 1, in UTF-16 code units. */
  readonly column: number;
  /** JSON Pointer from the root of the file; empty for the root. */
  readonly pointer: string;
}

const lineStarts = new WeakMap<Source, readonly number[]>();

export function filePlace(at: Stretch): FilePlace {
  const starts = lineStartsOf(at.source);
  const line = lastAtOrBefore(starts, at.start, (start) => start);
  return {
    file: at.source.file,
    line: line + 1,
    column: at.start - (starts[line] ?? 0) + 1,
    pointer: pointerTo(at.source, at.start),
  };
}

/** Pointer of the innermost value that holds the offset; a member's name counts as its value. */
export function pointerTo(source: Source, offset: number): string {
  let pointer = '';
  let node: JsonNode | null = source.root;
  while (node !== null && node.start !== offset) {
    if (node.kind === 'object') {
      const member: { name: string; value: JsonNode } | undefined =
        node.members[lastAtOrBefore(node.members, offset, (m) => m.nameStart)];
      if (member === undefined || offset >= member.value.end) return pointer;
      pointer += `/${escapeSegment(member.name)}`;
      node = offset < member.value.start ? null : member.value;
    } else if (node.kind === 'array') {
      const index = lastAtOrBefore(node.items, offset, (item) => item.start);
      const item: JsonNode | undefined = node.items[index];
      if (item === undefined || offset >= item.end) return pointer;
      pointer += `/${String(index)}`;
      node = item;
    } else {
      return pointer;
    }
  }
  return pointer;
}

export function escapeSegment(name: string): string {
  return name.replaceAll('~', '~0').replaceAll('/', '~1');
}

function lineStartsOf(source: Source): readonly number[] {
  const known = lineStarts.get(source);
  if (known !== undefined) return known;
  const starts = [0];
  for (let at = source.text.indexOf('\n'); at !== -1; at = source.text.indexOf('\n', at + 1)) starts.push(at + 1);
  lineStarts.set(source, starts);
  return starts;
}

/** Index of the last entry whose position is at most `offset`; -1 when none is. */
function lastAtOrBefore<T>(entries: readonly T[], offset: number, positionOf: (entry: T) => number): number {
  let low = 0;
  let high = entries.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const entry = entries[middle];
    if (entry !== undefined && positionOf(entry) <= offset) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
