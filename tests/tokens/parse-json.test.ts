// JSON text → nodes: agrees with the engine's own reader on every JSON, and tells all faults of every other text.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { JsonNode } from '../../src/tokens/json/json-node.ts';
import { memberOf } from '../../src/tokens/json/json-node.ts';
import { MOST_LEVELS, parseJson } from '../../src/tokens/json/parse-json.ts';
import { filePlace } from '../../src/tokens/json/file-place.ts';
import { plainOf } from '../../src/tokens/json/plain-of.ts';

function plain(text: string): unknown {
  const { source, faults } = parseJson('a.json', text);
  expect(faults).toEqual([]);
  return source.root === null ? 'nothing' : plainOf(source.root);
}

/** `line:column found`, for every fault. */
function faultsOf(text: string): readonly string[] {
  return parseJson('a.json', text).faults.map(({ at, found }) => {
    const { line, column } = filePlace(at);
    return `${String(line)}:${String(column)} ${found}`;
  });
}

test('reads what JSON.parse reads, to the same value (RFC 8259; second reader: the engine)', () => {
  fc.assert(
    fc.property(fc.json({ maxDepth: 6, stringUnit: 'binary' }), (text) => {
      expect(JSON.stringify(plain(text))).toBe(JSON.stringify(JSON.parse(text)));
    }),
  );
});

test('reports a fault for what JSON.parse refuses, and none for what it reads', () => {
  const text = fc.array(
    fc.constantFrom('{', '}', '[', ']', ',', ':', '"a"', '"', '1', '01', '-', 'true', 'nul', ' ', '\n', '\\', '/', 'NaN'),
  );
  fc.assert(
    fc.property(text, (parts) => {
      const joined = parts.join('');
      let valid = true;
      try {
        JSON.parse(joined);
      } catch {
        valid = false;
      }
      const faults = parseJson('a.json', joined).faults.filter(({ code }) => code !== 'duplicate-member');
      expect(faults.length > 0).toBe(!valid);
    }),
    { numRuns: 3000 },
  );
});

// derived: each text has exactly the faults a person would count
test.each([
  ['{"a": 1,}', ['1:8 a comma before the closing bracket']],
  ['[1 2]', ['1:4 "2"']],
  ['{"a" 1}', ['1:6 "1"']],
  ['{a: 1}', ['1:2 a']],
  ["{'a': 1}", ["1:2 'a'"]],
  ['{"a": \'b\'}', ["1:7 'b'"]],
  ['{"a": NaN}', ['1:7 NaN']],
  ['{"a": -Infinity}', ['1:7 -Infinity']],
  ['{"a": 0x10}', ['1:7 0x10']],
  ['{"a": 01}', ['1:7 01']],
  ['{"a": .5}', ['1:7 .5']],
  ['{"a": +1}', ['1:7 +1']],
  ['{"a": 1e999}', ['1:7 the number 1e999']],
  ['{"a": 1.}', ['1:7 1.']],
  ['{"a": tru}', ['1:7 tru']],
  [
    '{"a": "b\nc"}',
    [
      '1:7 a string that is not closed on its line',
      '2:1 "c"',
      '2:1 c',
      "2:2 '\"'",
      '2:2 a string that is not closed on its line',
      '1:1 an object that is never closed',
    ],
  ],
  ['{"a": "\\q"}', ['1:8 "\\" and "q"']],
  ['{"a": "\u0001"}', ['1:8 control character U+0001']],
  ['{} {}', ['1:4 "{" after the value']],
  ['', ['1:1 the end of the file']],
  ['{ // note\n"a": 1 /* more */ }', ['1:3 a comment', '2:8 a comment']],
  ['{"a": [1, 2}', ['1:12 "}"', '1:1 an object that is never closed']],
  ['{"a": 1,, "b": 2}', ['1:9 a comma with nothing before it']],
  ['{"a": 1, "a": 2}', ['1:10 "a" a second time in one object']],
])('%j: tells every fault with its place', (text, expected) => {
  expect(faultsOf(text)).toEqual(expected);
});

describe('what can still be read is read', () => {
  test('a trailing comma, a comment and a bare name do not lose the members around them', () => {
    const { source } = parseJson('a.json', '{ "a": 1, /* note */ b: [2,], "c": NaN, "d": 4 }');
    expect(source.root === null ? null : JSON.stringify(plainOf(source.root))).toBe('{"a":1,"b":[2],"c":null,"d":4}');
  });

  test('of a repeated member the last counts, and both are kept', () => {
    const { source } = parseJson('a.json', '{"a": 1, "a": 2}');
    const root = source.root;
    expect(root?.kind === 'object' ? root.members.length : 0).toBe(2);
    expect(root?.kind === 'object' ? plainOf(memberOf(root, 'a') ?? root) : null).toBe(2);
  });

  test('comments are accepted when asked for', () => {
    expect(parseJson('a.json', '{ // note\n"a": 1 }', { comments: true }).faults).toEqual([]);
  });

  test('a byte order mark is dropped', () => {
    expect(plain('\uFEFF{"a":1}')).toMatchObject({ a: 1 });
  });

  test('`__proto__` is a name like others', () => {
    const { source } = parseJson('a.json', '{"__proto__": {"x": 1}}');
    const value = source.root === null ? {} : plainOf(source.root);
    expect(Object.keys(value ?? {})).toEqual(['__proto__']);
    expect(Object.hasOwn(Object.prototype, 'x')).toBe(false);
  });
});

describe('limits', () => {
  test(`${String(MOST_LEVELS)} levels are read, one more is refused, and so are a million`, () => {
    const nested = (levels: number): string => '['.repeat(levels) + ']'.repeat(levels);
    expect(parseJson('a.json', nested(MOST_LEVELS)).faults).toEqual([]);
    expect(parseJson('a.json', nested(MOST_LEVELS + 1)).faults.map(({ code }) => code)).toEqual(['too-deep']);
    expect(parseJson('a.json', '{"a":'.repeat(1_000_000)).faults.map(({ code }) => code)).toEqual(['too-deep']);
  });

  test('a text of 50 million characters is refused by its size', () => {
    const { source, faults } = parseJson('a.json', `"${'x'.repeat(50_000_000)}"`);
    expect(faults.map(({ code, found }) => [code, found])).toEqual([['too-large', '50 million characters']]);
    expect(source.root).toBeNull();
  });

  test('a text of nothing but faults is given up after 50 of them', () => {
    expect(parseJson('a.json', '@'.repeat(100_000)).faults.length).toBeLessThanOrEqual(50);
    expect(parseJson('a.json', '[' + '@,'.repeat(100_000)).faults).toHaveLength(50);
  });
});

test('every node knows its line, column and pointer', () => {
  const text = '{\n  "a/b": {\n    "~c": [10, { "d": 20 }]\n  },\r\n  "": 30\n}';
  const { source } = parseJson('a.json', text);
  const places: string[] = [];
  const visit = (node: JsonNode): void => {
    if (node.kind === 'number') {
      const { line, column, pointer } = filePlace(node);
      places.push(`${String(line)}:${String(column)} ${pointer}`);
    }
    if (node.kind === 'array') for (const item of node.items) visit(item);
    if (node.kind === 'object') for (const { value } of node.members) visit(value);
  };
  if (source.root !== null) visit(source.root);
  // derived: counted by hand; escapes by RFC 6901 §3
  expect(places).toEqual(['3:12 /a~1b/~0c/0', '3:23 /a~1b/~0c/1/d', '5:7 /']);
});
