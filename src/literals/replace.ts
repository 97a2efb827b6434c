// Replaces parts of a text; every other character stays.
export interface Edit {
  /** Offsets, `end` exclusive; edits do not overlap. */
  readonly start: number;
  readonly end: number;
  readonly by: string;
}

export function replaceParts(text: string, edits: readonly Edit[]): string {
  let out = '';
  let from = 0;
  for (const { start, end, by } of edits.toSorted((a, b) => a.start - b.start)) {
    out += text.slice(from, start) + by;
    from = end;
  }
  return out + text.slice(from);
}
