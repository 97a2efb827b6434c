// Literal colours of source files are found where they stand, look-alikes are not, and replacing them changes nothing else.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { lexer } from 'css-tree';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { propertyRole } from '../../src/literals/property-role.ts';
import { readScript } from '../../src/literals/read-script.ts';
import { readStyleSheet } from '../../src/literals/read-style-sheet.ts';
import { replaceParts } from '../../src/literals/replace.ts';
import type { ReadSource, UnreadableSource } from '../../src/literals/source-literal.ts';
import { suggestTokens } from '../../src/literals/suggest.ts';
import { themeOfScopes } from '../../src/literals/theme-of-scopes.ts';
import { readCustomProperties } from '../../src/tokens/css/read-custom-properties.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { LITERAL_CASES } from '../tables/tokens/literal-cases.ts';

/** The types of the library leave them out. */
function propertiesOf(grammar: object): readonly string[] {
  const properties: unknown = 'properties' in grammar ? grammar.properties : {};
  return Object.keys(Object(properties) as object);
}

function readNamed(file: string, text: string): ReadSource | UnreadableSource {
  if (file.endsWith('.css')) return readStyleSheet(text, 'css');
  if (file.endsWith('.scss')) return readStyleSheet(text, 'scss');
  return readScript(text, file.endsWith('.tsx') ? 'tsx' : file.endsWith('.ts') ? 'ts' : 'js');
}

function readWell(file: string, text: string): ReadSource {
  const read = readNamed(file, text);
  if (read.kind === 'unreadable') throw new Error(`${file}:${String(read.line)}:${String(read.column)}: ${read.reason}`);
  return read;
}

describe('what is a literal colour, and what only looks like one', () => {
  test.each(LITERAL_CASES.map((row, n) => [n, row.file, row.why, row] as const))(
    'literal-cases %i, %s: %s',
    (_n, file, _why, row) => {
      const { literals } = readWell(file, row.text);
      const told = literals.map(
        ({ line, column, text, property, role, keep }) =>
          `${String(line)}:${String(column)} ${text} ${property} ${role ?? '-'}${keep === null ? '' : ' !'}`,
      );
      expect(told).toEqual(row.found);
      for (const { start, end, text } of literals) expect(row.text.slice(start, end)).toBe(text);
    },
  );

  // Second library: the grammar of every property as css-tree has it. What takes a colour must have a role here, and no other property.
  test('every property that takes a colour has a role, and none that takes none', () => {
    const takes = (name: string): boolean => lexer.matchProperty(name, '#010203').error === null;
    const names = propertiesOf(lexer).filter((name) => !/^(-ms-|-khtml-|mask|-webkit-mask)/.test(name));
    const without = names.filter((name) => takes(name) && propertyRole(name) === null);
    expect(names.length).toBeGreaterThan(300);
    expect(without).toEqual([]);
    const lengths = [
      'width',
      'margin',
      'border-width',
      'border-top-width',
      'border-radius',
      'outline-width',
      'font-family',
      'animation',
    ];
    expect(lengths.filter((name) => propertyRole(name) !== null || takes(name))).toEqual([]);
  });

  test('a file that cannot be parsed is told with its place', () => {
    expect(readNamed('a.css', '.a { color: red }\n.b { color: "x\n')).toMatchObject({ kind: 'unreadable', line: 2 });
    expect(readNamed('a.scss', '.a {\n  color: red;\n')).toMatchObject({ kind: 'unreadable', line: 1 });
    expect(readNamed('a.ts', 'const a = 1;\nconst = 2;')).toMatchObject({ kind: 'unreadable', line: 2, column: 7 });
  });

  test('any text is read or refused, never thrown at', () => {
    const part = fc.constantFrom(
      '#fff',
      'red',
      '{',
      '}',
      '(',
      ')',
      ':',
      ';',
      '"',
      "'",
      '/*',
      '*/',
      '//',
      '@a',
      '$b',
      '--c',
      'url(',
      '\\',
      '\n',
      '`',
      '${',
      ' ',
    );
    fc.assert(
      fc.property(fc.array(part, { maxLength: 40 }), fc.constantFrom('a.css', 'a.scss', 'a.ts', 'a.tsx', 'a.js'), (parts, file) => {
        const text = parts.join('');
        const read = readNamed(file, text);
        if (read.kind === 'read')
          for (const { start, end, text: written } of read.literals) expect(text.slice(start, end)).toBe(written);
      }),
      { numRuns: 1500 },
    );
  });
});

/** Two themes: `--chalk` is the same in both, `--deck` is not. */
function quay(): TokenGraph {
  const themes = (deck: string): { name: string; value: string }[] => [
    { name: '--chalk', value: '#ffffff' },
    { name: '--deck', value: deck },
  ];
  return readCustomProperties(
    new Map([
      ['noon', themes('#f4f1e8')],
      ['dusk', themes('#101418')],
    ]),
  );
}

function suggest(text: string, file = 'a.css'): ReturnType<typeof suggestTokens>['suggestions'] {
  return suggestTokens({
    files: new Map([[file, readWell(file, text)]]),
    graph: quay(),
    theme: 'noon',
    signs: [],
    namesOf: (token) => [token],
    onPages: new Set(['--chalk', '--deck']),
  }).suggestions;
}

const rewrite = (text: string, file = 'a.css'): string =>
  replaceParts(
    text,
    suggest(text, file).flatMap(({ literal: { start, end }, replacement }) =>
      replacement === null ? [] : [{ start, end, by: replacement }],
    ),
  );

describe('which literals may be replaced unseen', () => {
  test.each<readonly [before: string, after: string | null, about: string]>([
    ['.a{color:#fff}', '.a{color:var(--chalk)}', 'the same in every theme'],
    ['.a{color:WHITE}.b{background:rgb(255,255,255)}', '.a{color:var(--chalk)}.b{background:var(--chalk)}', 'in any notation'],
    ['.a{color:#f4f1e8}', '.a{color:#f4f1e8}', 'the same in one theme only'],
    ['.a{color:#fffffe}', '.a{color:#fffffe}', 'nearly the same'],
    ['.a{color:#ffffff80}', '.a{color:#ffffff80}', 'another alpha'],
    ['.a{color:var(--x,#fff)}', '.a{color:var(--x,#fff)}', 'a fallback'],
    [':root{--chalk:#fff}', ':root{--chalk:#fff}', "the token's own definition"],
    [
      ':root{--rim:#fff}.a{border-color:var(--rim)}',
      ':root{--rim:var(--chalk)}.a{border-color:var(--rim)}',
      'a property of the sheet',
    ],
    [':root{--chalk:var(--rim);--rim:#fff}', ':root{--chalk:var(--rim);--rim:#fff}', 'which the token itself is made from'],
    [':root{--w:white}', ':root{--w:white}', 'a word that no colour property takes up'],
    ['.a{color:#fff', null, 'a sheet that cannot be parsed'],
  ])('%s → %s: %s', (before, after) => {
    if (after === null) expect(readNamed('a.css', before).kind).toBe('unreadable');
    else expect(rewrite(before)).toBe(after);
  });

  test('the harbour sheet: a second pass finds nothing to replace, and all between the literals stays', () => {
    const file = path.resolve(import.meta.dirname, '../../scenarios/harbour/app/harbour.css');
    const before = `${readFileSync(file, 'utf8')}\n.late { color: #fff; outline: 1px solid WHITE }\n`;
    const after = rewrite(before);
    expect(after).not.toBe(before);
    expect(suggest(after).filter(({ replacement }) => replacement !== null)).toEqual([]);
    const others = (text: string): string => text.replaceAll(/var\(--chalk\)|#ffffff|#fff\b|\bwhite\b/gi, '·');
    expect(others(after)).toBe(others(before));
  });

  test('roles of custom properties come from their uses, through others too', () => {
    const [one, two] = suggest(':root{--a:#fff;--b:#eee;--c:var(--b)}.x{color:var(--a)}.y{fill:var(--c);border-color:var(--c)}');
    expect([one?.role, two?.role]).toEqual(['ink', null]);
  });
});

describe('the theme a rule is written for', () => {
  const signs = [
    { name: 'noon', attributes: [{ name: 'data-theme', value: 'noon' }], classes: [], media: {} },
    {
      name: 'dusk',
      attributes: [{ name: 'data-theme', value: 'dusk' }],
      classes: ['dusk'],
      media: { 'prefers-color-scheme': 'dark' },
    },
  ];
  test.each([
    [['html[data-theme="dusk"] .a'], 'dusk'],
    [['[data-theme=dusk]', '&:hover'], 'dusk'],
    [['.dusk .a'], 'dusk'],
    [['.dusky .a'], null],
    [['html:not([data-theme=dusk]) .a'], null],
    [['@media (prefers-color-scheme: dark)', '.a'], 'dusk'],
    [['@media not (prefers-color-scheme: dark)', '.a'], null],
    [["[data-theme='noon'], [data-theme='dusk']"], null],
    [['.a'], null],
  ])('%j → %s', (scopes, theme) => {
    expect(themeOfScopes(scopes, signs)).toBe(theme);
  });

  const mode = (value: string): { readonly name: string; readonly value: string } => ({ name: 'data-mode', value });
  const palette = (value: string): { readonly name: string; readonly value: string } => ({ name: 'data-dark', value });
  const two = [
    { name: 'day', attributes: [mode('light')], classes: [], media: {} },
    { name: 'night', attributes: [mode('dark'), palette('soft')], classes: [], media: {} },
    { name: 'stark', attributes: [mode('dark'), palette('stark')], classes: [], media: {} },
  ];
  test.each([
    [['[data-mode=dark][data-dark=stark] .a'], 'stark'],
    [['[data-dark="soft"] .a'], 'night'],
    [['[data-mode=dark] .a'], null],
    [['[data-mode=light] .a'], 'day'],
    [['[data-mode=light][data-dark=soft] .a'], 'day'],
  ])('where two attributes make a theme: %j → %s', (scopes, theme) => {
    expect(themeOfScopes(scopes, two)).toBe(theme);
  });
});
