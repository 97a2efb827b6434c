// Meaning before distance: what a literal is replaced by, and what is never written. Expected values: derived from the rules stated in
// docs/tokens.md ("Literal colours").
import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import { colorsInValue } from '../../src/literals/colors-in-value.ts';
import { readStyleSheet } from '../../src/literals/read-style-sheet.ts';
import type { WrittenFacts } from '../../src/literals/suggest.ts';
import { suggestTokens } from '../../src/literals/suggest.ts';
import { readCustomProperties } from '../../src/tokens/css/read-custom-properties.ts';
import type { TokenGraph } from '../../src/tokens/graph.ts';
import { matchLiteral } from '../../src/tokens/match/match-literal.ts';
import { gatherRoles } from '../../src/tokens/roles.ts';

/** `--deck` is what pages lie on, `--mark` its text; both point at steps of one ramp. */
function harbour(): TokenGraph {
  const shared = [
    { name: '--silt-0', value: '#ffffff' },
    { name: '--silt-100', value: '#dddddd' },
    { name: '--silt-800', value: '#222222' },
    { name: '--silt-900', value: '#111111' },
  ];
  const themed = (deck: string, mark: string): typeof shared => [
    ...shared,
    { name: '--deck', value: `var(${deck})` },
    { name: '--mark', value: `var(${mark})` },
  ];
  return readCustomProperties(
    new Map([
      ['noon', themed('--silt-0', '--silt-900')],
      ['dusk', themed('--silt-900', '--silt-0')],
    ]),
  );
}

const ROLES = gatherRoles([
  { token: '--deck', role: 'surface', count: 4 },
  { token: '--mark', role: 'ink', count: 4 },
]);

function suggest(
  text: string,
  facts: { readonly onPages?: readonly string[]; readonly written?: WrittenFacts; readonly roles?: typeof ROLES } = {},
): readonly (readonly [best: string | undefined, replacement: string | null, keep: string | null])[] {
  const read = readStyleSheet(text, 'css');
  if (read.kind !== 'read') throw new Error(read.reason);
  const graph = harbour();
  return suggestTokens({
    files: new Map([['a.css', read]]),
    graph,
    theme: 'noon',
    signs: [],
    roles: facts.roles ?? ROLES,
    namesOf: (token) => [token],
    onPages: new Set(facts.onPages ?? graph.tokens.keys()),
    ...(facts.written === undefined ? {} : { writtenAt: () => facts.written }),
  }).suggestions.map(({ result, replacement, keep }) => [result.matches[0]?.token, replacement, keep]);
}

describe('what is put in', () => {
  test('never a ramp step where role tokens exist, though the picture would be the same', () => {
    const [step] = suggest('.a{border-color:#dddddd}', { roles: new Map() });
    expect(step).toEqual(['--silt-100', null, expect.stringContaining('is a step of a ramp')]);
  });

  test('a role token goes before the step that is as near', () => {
    expect(suggest('.a{background:#fff}')).toEqual([['--deck', null, '--deck differs in dusk']]);
    expect(suggest('.a{color:#111}')).toEqual([['--mark', null, '--mark differs in dusk']]);
  });

  test('none of two that only their names tell apart', () => {
    const graph = readCustomProperties(
      new Map([
        [
          'noon',
          [
            { name: '--ebb', value: '#123456' },
            { name: '--flow', value: '#123456' },
          ],
        ],
      ]),
    );
    const read = readStyleSheet('.a{fill:#123456}', 'css');
    if (read.kind !== 'read') throw new Error(read.reason);
    const onPages = new Set(['--ebb', '--flow']);
    const from = {
      files: new Map([['a.css', read]]),
      graph,
      theme: 'noon',
      signs: [],
      onPages,
      namesOf: (token: string) => [token],
    };
    expect(suggestTokens(from).suggestions[0]?.keep).toBe(
      '--ebb and --flow are the same in every theme, and nothing says which is meant',
    );
    // One of them is used so: that is meant.
    const roles = gatherRoles([{ token: '--flow', role: 'glyph', count: 1 }]);
    expect(suggestTokens({ ...from, roles }).suggestions[0]?.replacement).toBe('var(--flow)');
  });

  test('no property that the app does not define; where it is to be defined is said', () => {
    const roles = gatherRoles([{ token: '--silt-0', role: 'glyph', count: 1 }]);
    const graph = readCustomProperties(new Map([['noon', [{ name: '--lamp', value: '#123456' }]]]));
    const read = readStyleSheet('.a{fill:#123456}', 'css');
    if (read.kind !== 'read') throw new Error(read.reason);
    const from = { files: new Map([['a.css', read]]), graph, theme: 'noon', signs: [], roles, namesOf: (token: string) => [token] };
    const keep = suggestTokens(from).suggestions[0]?.keep;
    expect(keep).toBe('--lamp is not defined by the app: define it where the properties of the other tokens are');
    expect(suggestTokens({ ...from, onPages: new Set(['--lamp']) }).suggestions[0]?.replacement).toBe('var(--lamp)');
  });

  test('what the last run says of the very line goes before what looks nearer', () => {
    const told = { token: '--deck', by: 'cause c1 of the last run says so', from: '#dddddd' };
    expect(suggest('.a{background:#dddddd}', { written: { told } })[0]?.[0]).toBe('--deck');
    const none = { told: { token: null, by: 'cause c2 of the last run says so', from: '#111111' } };
    expect(suggest('.a{color:#111}', { written: none })[0]?.[1]).toBeNull();
  });

  test('a cause of another literal on the same line says nothing', () => {
    const told = { token: '--deck', by: 'cause c1 of the last run says so', from: '#123456' };
    expect(suggest('.a{border-color:#dddddd}', { written: { told } })[0]?.[0]).not.toBe('--deck');
  });

  test('a shadow that the last run takes away is no missing token', () => {
    const told = { token: null, by: 'cause c3 of the last run takes it away', from: '#dddddd', without: 'text-shadow: none' };
    expect(suggest('.a{text-shadow:0 0 9px #dddddd}', { written: { told } })).toEqual([
      [undefined, null, 'No token is missing: cause c3 of the last run takes it away, with text-shadow: none.'],
    ]);
  });

  test('a literal ground of the same rule is held in its own theme alone: it is to be replaced itself', () => {
    expect(suggest('.a{background:#ffffff;color:#111111}').map(([best]) => best)).toEqual(['--deck', '--mark']);
  });

  test('the ground of the same rule is what contrast is held against', () => {
    // derived: --mark on --mark is 1:1 in every theme
    const [[best, , keep] = [undefined, null, null]] = suggest('.a{background:var(--mark);color:#111}');
    expect(best).not.toBe('--deck');
    expect(keep).not.toBeNull();
  });
});

test('a ramp step is not said to be used where tokens have roles', () => {
  const found = matchLiteral({ graph: harbour(), literal: parseColor('#dddddd'), role: 'edge', theme: 'noon' });
  expect(found.advice).toMatch(/^--silt-100 has the colour, but is a step of a ramp/);
  const flat = readCustomProperties(new Map([['noon', [{ name: '--chalk', value: '#dddddd' }]]]));
  expect(matchLiteral({ graph: flat, literal: parseColor('#dddddd'), role: 'edge', theme: 'noon' }).advice).toBe('Use --chalk.');
});

test('the very colour in a token that no page uses yet goes before what is in use and only similar', () => {
  const value = (name: string, text: string) => ({ name, value: text });
  const graph = readCustomProperties(new Map([['noon', [value('--deck', '#fbf8ef'), value('--tray', '#ffffff')]]]));
  const roles = gatherRoles([{ token: '--deck', role: 'surface', count: 9 }]);
  const best = (text: string): string | undefined =>
    matchLiteral({ graph, literal: parseColor(text), role: 'surface', theme: 'noon', roles }).matches[0]?.token;
  // derived: #ffffff and #fbf8ef are 4.5 apart (CIEDE2000), #fbf8f0 and #fbf8ef less than 1
  expect([best('#ffffff'), best('#fbf8f0')]).toEqual(['--tray', '--deck']);
});

test('declared pairs say what a token is for, where no page does', () => {
  const query = { graph: harbour(), literal: parseColor('#ffffff'), role: 'ink', theme: 'noon' } as const;
  const found = matchLiteral({ ...query, pairs: [{ ink: '--mark', surface: '--deck' }] });
  expect(found.matches.map(({ token }) => token)).not.toContain('--deck');
  expect(found.wrongRole.map(({ token }) => token)).toContain('--deck');
});

test('what lets everything through is no missing token', () => {
  const { gap, matches, advice } = matchLiteral({
    graph: harbour(),
    literal: parseColor('transparent'),
    role: 'surface',
    theme: 'noon',
  });
  expect([gap, matches.length]).toEqual([false, 0]);
  expect(advice).toContain('no token is missing');
});

describe('what is read as a literal', () => {
  test.each([
    ['rgb(255 /* full */ 0 0)', ['#ff0000']],
    ['rgb(calc(100 + 155), 0, calc(2 * (10 - 5)))', ['#ff000a']],
    ['if(style(--tone: #fff): #000000; else: #ff0000)', ['#000000', '#ff0000']],
    ['if(media(print): red)', ['#ff0000']],
    ['rgb(calc(1px + 2) 0 0)', []],
  ])('%s', (value, colors) => {
    const hex = (v: number): string =>
      Math.round(v * 255)
        .toString(16)
        .padStart(2, '0');
    expect(colorsInValue(value).map(({ color: { r, g, b } }) => `#${hex(r)}${hex(g)}${hex(b)}`)).toEqual(colors);
  });

  test('what a sheet exports to scripts is never replaced', () => {
    expect(suggest(':export{ink:#111111}')[0]?.slice(1)).toEqual([null, 'scripts read it: var() means nothing to them']);
  });
});
