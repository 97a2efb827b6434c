// Source map (ECMA-426) → where a place of a generated style sheet was written.

export interface SourceMap {
  /** @param line @param column 0-based, in the generated text @returns null outside every mapping */
  find(line: number, column: number): { readonly file: string; readonly line: number; readonly column: number } | null;
}

interface Segment {
  readonly column: number;
  readonly source: number;
  readonly line: number;
  readonly originalColumn: number;
}

/** @returns null for what is no source map that can be read (index maps included) */
export function readSourceMap(text: string): SourceMap | null {
  const json = parse(text);
  if (json === null) return null;
  const { mappings, sources, sourceRoot } = json;
  const lines = decode(mappings);
  return {
    find: (line, column) => {
      const segment = (lines[line] ?? []).findLast((each) => each.column <= column);
      const source = segment === undefined ? undefined : sources[segment.source];
      if (segment === undefined || source === undefined) return null;
      return {
        file: sourceRoot === '' ? source : `${sourceRoot.replace(/\/$/u, '')}/${source}`,
        line: segment.line,
        column: segment.originalColumn,
      };
    },
  };
}

function parse(
  text: string,
): { readonly mappings: string; readonly sources: readonly string[]; readonly sourceRoot: string } | null {
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\)\]\}'?\n/u, ''));
  } catch {
    return null;
  }
  if (typeof json !== 'object' || json === null || !('mappings' in json) || !('sources' in json)) return null;
  const { mappings, sources } = json;
  if (typeof mappings !== 'string' || !Array.isArray(sources)) return null;
  const root = 'sourceRoot' in json && typeof json.sourceRoot === 'string' ? json.sourceRoot : '';
  return { mappings, sources: sources.map((each: unknown) => (typeof each === 'string' ? each : '')), sourceRoot: root };
}

const DIGITS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

function decode(mappings: string): readonly (readonly Segment[])[] {
  let [source, line, originalColumn] = [0, 0, 0];
  return mappings.split(';').map((text) => {
    let column = 0;
    return text.split(',').flatMap((part): Segment[] => {
      const [a, b, c, d] = vlq(part);
      if (a === undefined) return [];
      column += a;
      if (b === undefined || c === undefined || d === undefined) return [];
      source += b;
      line += c;
      originalColumn += d;
      return [{ column, source, line, originalColumn }];
    });
  });
}

/** Base64 digits of five bits each, the sixth says that more follow; the lowest bit of the number is its sign. */
function vlq(text: string): readonly number[] {
  const out: number[] = [];
  let [value, shift] = [0, 0];
  for (const character of text) {
    const digit = DIGITS.indexOf(character);
    if (digit < 0) return out;
    value += (digit & 31) * 2 ** shift;
    shift += 5;
    if ((digit & 32) !== 0) continue;
    out.push(value % 2 === 1 ? -Math.floor(value / 2) : value / 2);
    [value, shift] = [0, 0];
  }
  return out;
}
