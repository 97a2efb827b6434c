// JSON text (RFC 8259) → nodes with offsets. Reads on after a fault so that all faults of a file are told at once, and
// keeps repeated members. One closure over the position, hence the length.
import type { FoundProblem, ProblemCode } from '../problem.ts';
import type { JsonMember, JsonNode, Source } from './json-node.ts';

/** Token files are a few megabytes at most (found on real sets: 0.1–3 MB); ours: ten times that. UTF-16 code units. */
export const MOST_CHARACTERS = 32 * 1024 * 1024;
/** Nesting of objects and arrays; real files reach about 12. Keeps recursion far from the end of the stack. */
export const MOST_LEVELS = 200;
/** A text with more faults than this is not JSON at all. */
const MOST_FAULTS = 50;

export interface JsonOptions {
  /** Accept `//` and block comments. */
  readonly comments?: boolean;
}

export interface ParsedJson {
  readonly source: Source;
  readonly faults: readonly FoundProblem[];
}

class TooMuch extends Error {}

export function parseJson(file: string, text: string, options: JsonOptions = {}): ParsedJson {
  const source: { file: string; text: string; root: JsonNode | null } = { file, text, root: null };
  const faults: FoundProblem[] = [];
  let duplicates = 0;
  let pos = text.startsWith('\uFEFF') ? 1 : 0;

  const fault = (code: ProblemCode, start: number, facts: { found: string; expected: string; hint?: string }): void => {
    const at = { source, start, end: Math.max(start, pos) };
    faults.push({ code, token: '', at, found: facts.found, expected: facts.expected, hint: facts.hint ?? '' });
    if (faults.length - duplicates >= MOST_FAULTS) throw new TooMuch();
  };

  const shown = (at: number): string => {
    const character = text.codePointAt(at);
    if (character === undefined) return 'the end of the file';
    return character === 0x22 ? "'\"'" : `"${String.fromCodePoint(character)}"`;
  };

  function skipSpace(): void {
    for (;;) {
      const c = text.charCodeAt(pos);
      if (c === 0x20 || c === 0x0a || c === 0x0d || c === 0x09) pos += 1;
      else if (c === 0x2f && (text[pos + 1] === '/' || text[pos + 1] === '*')) skipComment();
      else return;
    }
  }

  function skipComment(): void {
    const start = pos;
    const close = text[pos + 1] === '/' ? text.indexOf('\n', pos) : text.indexOf('*/', pos + 2);
    pos = close === -1 ? text.length : close + (text[start + 1] === '/' ? 1 : 2);
    if (options.comments !== true) {
      fault('not-json-object', start, { found: 'a comment', expected: 'plain JSON', hint: 'Remove it; JSON has no comments.' });
    }
  }

  function readValue(level: number): JsonNode {
    skipSpace();
    const start = pos;
    if (level > MOST_LEVELS) {
      fault('too-deep', start, {
        found: `more than ${String(MOST_LEVELS)} levels of nesting`,
        expected: 'a token file, which is a few levels deep',
        hint: 'Check how this file was made.',
      });
      throw new TooMuch();
    }
    const c = text[pos];
    if (c === '{') return readObject(level);
    if (c === '[') return readArray(level);
    if (c === '"') return { kind: 'string', source, start, value: readString(), end: pos };
    if (c === '-' || (c !== undefined && c >= '0' && c <= '9')) return readNumber();
    return readWord();
  }

  function readObject(level: number): JsonNode {
    const start = pos;
    const members: JsonMember[] = [];
    pos += 1;
    let comma: number | null = null;
    for (;;) {
      skipSpace();
      const c = text[pos];
      if (c === undefined) {
        fault('not-json-object', start, { found: 'an object that is never closed', expected: '"}"', hint: 'Close it.' });
        break;
      }
      if (c === '}') {
        pos += 1;
        if (comma !== null) trailingComma(comma);
        break;
      }
      if (c === ']') {
        fault('not-json-object', pos, { found: '"]"', expected: '"}" to close the object', hint: 'Check the brackets.' });
        pos += 1;
        break;
      }
      if (members.length > 0 && comma === null) missingComma(c);
      if (c === ',') {
        extraComma();
        continue;
      }
      comma = null;
      const member = readMember(level);
      if (member !== null) members.push(member);
      skipSpace();
      if (text[pos] === ',') {
        comma = pos;
        pos += 1;
      }
    }
    const node = { kind: 'object', source, start, end: pos, members } as const;
    warnDuplicates(members);
    return node;
  }

  function readMember(level: number): JsonMember | null {
    const nameStart = pos;
    const name = readName();
    if (name === null) return null;
    skipSpace();
    if (text[pos] === ':') pos += 1;
    else fault('not-json-object', pos, { found: shown(pos), expected: `":" after the name "${name.slice(0, 40)}"` });
    return { name, nameStart, value: readValue(level + 1) };
  }

  function readName(): string | null {
    const start = pos;
    if (text[pos] === '"') return readString();
    BARE_NAME.lastIndex = pos;
    const bare = BARE_NAME.exec(text)?.[0];
    if (bare === undefined) {
      const found = shown(pos);
      pos += found.length - 2;
      fault('not-json-object', start, { found, expected: 'a member name in double quotes or "}"' });
      return null;
    }
    pos += bare.length;
    fault('not-json-object', start, { found: bare.slice(0, 40), expected: 'a member name in double quotes' });
    return bare.replaceAll("'", '');
  }

  function readArray(level: number): JsonNode {
    const start = pos;
    const items: JsonNode[] = [];
    pos += 1;
    let comma: number | null = null;
    for (;;) {
      skipSpace();
      const c = text[pos];
      if (c === undefined) {
        fault('not-json-object', start, { found: 'an array that is never closed', expected: '"]"', hint: 'Close it.' });
        break;
      }
      if (c === ']') {
        pos += 1;
        if (comma !== null) trailingComma(comma);
        break;
      }
      if (c === '}') {
        fault('not-json-object', pos, { found: '"}"', expected: '"]" to close the array', hint: 'Check the brackets.' });
        pos += 1;
        break;
      }
      if (items.length > 0 && comma === null) missingComma(c);
      if (c === ',') {
        extraComma();
        continue;
      }
      comma = null;
      items.push(readValue(level + 1));
      skipSpace();
      if (text[pos] === ',') {
        comma = pos;
        pos += 1;
      }
    }
    return { kind: 'array', source, start, end: pos, items };
  }

  function trailingComma(at: number): void {
    fault('not-json-object', at, { found: 'a comma before the closing bracket', expected: 'no comma there', hint: 'Remove it.' });
  }

  function extraComma(): void {
    pos += 1;
    fault('not-json-object', pos - 1, { found: 'a comma with nothing before it', expected: 'a value', hint: 'Remove it.' });
  }

  function missingComma(c: string): void {
    if (c !== ',') fault('not-json-object', pos, { found: shown(pos), expected: '"," or the closing bracket' });
  }

  function readString(): string {
    const start = pos;
    pos += 1;
    let out = '';
    let from = pos;
    for (;;) {
      const c = text.charCodeAt(pos);
      if (c === 0x22) {
        out += text.slice(from, pos);
        pos += 1;
        return out;
      }
      if (c === 0x5c) {
        out += text.slice(from, pos) + readEscape();
        from = pos;
      } else if (c >= 0x20) {
        pos += 1;
      } else if (c === 0x0a || c === 0x0d || Number.isNaN(c)) {
        out += text.slice(from, pos);
        fault('not-json-object', start, { found: 'a string that is not closed on its line', expected: 'a closing "' });
        return out;
      } else {
        pos += 1;
        fault('not-json-object', pos - 1, {
          found: `control character U+${c.toString(16).padStart(4, '0')}`,
          expected: 'it escaped, as \\u and four digits',
        });
      }
    }
  }

  function readEscape(): string {
    const start = pos;
    const plain = ESCAPES[text[pos + 1] ?? ''];
    if (plain !== undefined) {
      pos += 2;
      return plain;
    }
    UNICODE_ESCAPE.lastIndex = pos;
    const code = UNICODE_ESCAPE.exec(text)?.[1];
    if (code !== undefined) {
      pos += 6;
      return String.fromCharCode(Number.parseInt(code, 16));
    }
    pos += 1;
    fault('not-json-object', start, {
      found: `"\\" and ${shown(pos)}`,
      expected: 'one of the escapes \\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX',
    });
    return '';
  }

  function readNumber(): JsonNode {
    const start = pos;
    NUMBER.lastIndex = pos;
    const digits = NUMBER.exec(text)?.[0];
    if (digits === undefined) return readWord();
    pos += digits.length;
    const value = Number(digits);
    if (Number.isFinite(value)) return { kind: 'number', source, start, end: pos, value };
    fault('not-json-object', start, { found: `the number ${digits.slice(0, 40)}`, expected: 'a number below 1.8e308' });
    return { kind: 'broken', source, start, end: pos };
  }

  /** `true`, `false`, `null`, or something that is no JSON value. */
  function readWord(): JsonNode {
    const start = pos;
    WORD.lastIndex = pos;
    const found = WORD.exec(text)?.[0];
    if (found !== undefined) {
      pos += found.length;
      if (found === 'true' || found === 'false') return { kind: 'boolean', source, start, end: pos, value: found === 'true' };
      if (found === 'null') return { kind: 'null', source, start, end: pos };
      const isNumber = /^[+.-]?(\d|\.\d|NaN$|Infinity$)|^NaN$|^Infinity$/.test(found);
      fault('not-json-object', start, {
        found: found.slice(0, 40),
        expected: isNumber ? 'a JSON number, e.g. 0.5' : 'a JSON value',
        hint: isNumber
          ? 'JSON has no NaN, Infinity, hexadecimal, leading zero, leading point or plus sign.'
          : 'Text stands in double quotes.',
      });
      return { kind: 'broken', source, start, end: pos };
    }
    // A closing bracket or a comma is left for the surrounding value; anything else would be met again and again.
    const shownThere = shown(pos);
    const closes = pos >= text.length || '}],:'.includes(text[pos] ?? '');
    if (!closes) pos += shownThere.length - 2;
    fault('not-json-object', start, { found: shownThere, expected: 'a JSON value' });
    if (text[pos] === ':') pos += 1;
    return { kind: 'broken', source, start, end: pos };
  }

  function warnDuplicates(members: readonly JsonMember[]): void {
    // Most objects have a few members, where looking back is quicker than a set.
    const seen = members.length > 8 ? new Set<string>() : null;
    for (const [i, { name, nameStart }] of members.entries()) {
      const repeated = seen === null ? members.findIndex((member) => member.name === name) < i : seen.has(name);
      if (repeated && duplicates < MOST_FAULTS) {
        duplicates += 1;
        const at = { source, start: nameStart, end: nameStart };
        const found = `"${name.slice(0, 40)}" a second time in one object`;
        const hint = 'Readers keep the last and drop the others; remove all but one.';
        faults.push({ code: 'duplicate-member', token: '', at, found, expected: 'each name once', hint });
      }
      seen?.add(name);
    }
  }

  if (text.length > MOST_CHARACTERS) {
    fault('too-large', 0, {
      found: `${String(Math.round(text.length / 1e6))} million characters`,
      expected: `at most ${String(MOST_CHARACTERS / 1024 / 1024)} Mi`,
      hint: 'Split the file, or check how it was made.',
    });
    return { source, faults };
  }
  try {
    source.root = readValue(1);
    skipSpace();
    if (pos < text.length)
      fault('not-json-object', pos, { found: `${shown(pos)} after the value`, expected: 'the end of the file' });
  } catch (error) {
    if (!(error instanceof TooMuch)) throw error;
    source.root = null;
  }
  return { source, faults };
}

// Sticky: each begins at its lastIndex, which is set before use.
const BARE_NAME = /'[^'\n]*'?|[\p{L}\p{N}_$.-]+/uy;
const UNICODE_ESCAPE = /\\u([0-9a-fA-F]{4})/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?(?![\w.+-])/y;
const WORD = /'[^'\n]*'?|[\w$.+-]+/y;

const ESCAPES: Readonly<Record<string, string>> = {
  '"': '"',
  '\\': '\\',
  '/': '/',
  b: '\b',
  f: '\f',
  n: '\n',
  r: '\r',
  t: '\t',
};
