import Colour from 'colorjs.io';
import { describe, expect, test } from 'vitest';
import { componentsIn } from '../../src/colour/color-spaces.ts';
import type { SpaceName } from '../../src/colour/color-spaces.ts';
import { deltaEOk } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { addToken } from '../../src/tokens/add-token.ts';
import { rewriteValues } from '../../src/tokens/rewrite-values.ts';

const TEXT = `{
  // high water
  "silt": {
    "$type": "color",
    "100": { "$value": { "colorSpace": "srgb", "components": [0.9, 0.9, 0.9], "hex": "#e6e6e6" } },
    "200": { "$value": "#cccccc" },
    "300": { "$value": { "components": [0.7, 0.02,   200], "colorSpace": "oklch" } }
  },
  "mark": { "main": { "$type": "color", "$value": "{silt.200}", "$description": "text" } }
}
`;

describe('values changed in a token file', () => {
  test('notation, colour space, spaces and comments stay', () => {
    const { text, left } = rewriteValues('ramps.tokens.json', TEXT, [
      { pointer: '/silt/100', to: { kind: 'color', color: parseColor('#336699') } },
      { pointer: '/silt/200', to: { kind: 'color', color: parseColor('#336699') } },
      { pointer: '/silt/300/$value', to: { kind: 'color', color: parseColor('#336699') } },
      { pointer: '/mark/main', to: { kind: 'alias', path: 'silt.300' } },
    ]);
    expect(left).toEqual([]);
    // #336699 in OKLCH: .4988 .0977 251.8 (second library: colorjs.io, below).
    expect(text).toBe(
      TEXT.replace('[0.9, 0.9, 0.9], "hex": "#e6e6e6"', '[0.2, 0.4, 0.6], "hex": "#336699"')
        .replace('"#cccccc"', '"#336699"')
        .replace('[0.7, 0.02,   200]', `[${oklch()[0]}, ${oklch()[1]},   ${oklch()[2]}]`)
        .replace('"{silt.200}"', '"{silt.300}"'),
    );
  });

  test('an alias becomes a value of its own', () => {
    const { text } = rewriteValues('roles.tokens.json', TEXT, [
      { pointer: '/mark/main', to: { kind: 'color', color: parseColor('#336699') } },
    ]);
    expect(text).toContain('"$value": { "colorSpace": "srgb", "components": [0.2, 0.4, 0.6], "hex": "#336699" }, "$description"');
  });

  test('what cannot be written is told, and the rest is written', () => {
    const { text, left } = rewriteValues('roles.tokens.json', TEXT, [
      { pointer: '/silt/900', to: { kind: 'alias', path: 'silt.100' } },
      { pointer: '/silt/$type', to: { kind: 'color', color: parseColor('#000000') } },
      { pointer: '/silt/200', to: { kind: 'alias', path: 'silt.100' } },
    ]);
    expect(left.map(({ pointer }) => pointer)).toEqual(['/silt/900', '/silt/$type']);
    expect(text).toBe(TEXT.replace('"#cccccc"', '"{silt.100}"'));
  });
});

function oklch(): readonly [string, string, string] {
  const [l = 0, c = 0, h = 0] = new Colour('#336699').to('oklch').coords.map((each) => each ?? 0);
  return [String(Number(l.toFixed(4))), String(Number(c.toFixed(4))), String(Number(h.toFixed(2)))];
}

// Second library: colorjs.io, whose names for the spaces stand beside CSS's. Not rec2020: CSS Color 4 changed its curve, and the two
// libraries follow different editions; what is written is read back by the same curve.
const SPACES: readonly (readonly [SpaceName, string])[] = [
  ['srgb-linear', 'srgb-linear'],
  ['display-p3', 'p3'],
  ['a98-rgb', 'a98rgb'],
  ['prophoto-rgb', 'prophoto'],
  ['xyz-d65', 'xyz-d65'],
  ['xyz-d50', 'xyz-d50'],
  ['hsl', 'hsl'],
  ['hwb', 'hwb'],
  ['lab', 'lab'],
  ['lch', 'lch'],
  ['oklab', 'oklab'],
  ['oklch', 'oklch'],
];

test.each(SPACES)('components in %s as colorjs.io has them', (space, theirs) => {
  for (const text of ['#336699', '#e0401f', '#0d7a4e']) {
    const expected = new Colour(text).to(theirs).coords.map((each) => each ?? 0);
    const own = componentsIn(space, parseColor(text));
    // Matrices of the two libraries differ in the fifth digit.
    const within = 2e-3;
    own.forEach((value, at) => {
      expect(Math.abs(value - (expected[at] ?? 0))).toBeLessThanOrEqual(within * Math.max(1, Math.abs(value)));
    });
  }
});

test('rec2020 is read back as it was written', () => {
  const color = parseColor('#336699');
  const [r, g, b] = componentsIn('rec2020', color);
  expect(deltaEOk(parseColor(`color(rec2020 ${r} ${g} ${b})`), color)).toBeLessThan(1e-4);
});

describe('a token more', () => {
  test('stands right behind the other one, in its notation, and nothing else changes', () => {
    const text = addToken('ramps.tokens.json', TEXT, { pointer: '/silt/200', name: '250' });
    // derived: the line of 200 once more, with the new name
    expect(text).toBe(
      TEXT.replace('"200": { "$value": "#cccccc" },', '"200": { "$value": "#cccccc" },\n    "250": { "$value": "#cccccc" },'),
    );
    const { left } = rewriteValues('ramps.tokens.json', text ?? '', [
      { pointer: '/silt/250', to: { kind: 'color', color: parseColor('#336699') } },
    ]);
    expect(left).toEqual([]);
    // A type of its own goes along, a description does not: it tells of the other one.
    expect(addToken('ramps.tokens.json', TEXT, { pointer: '/mark/main/$value', name: 'quiet' })).toContain(
      '"description" }, "quiet": { "$type": "color", "$value": "{silt.200}" } }'.replace('"description"', '"$description": "text"'),
    );
  });

  test('not where one of that name stands already, or none to stand behind', () => {
    expect(addToken('ramps.tokens.json', TEXT, { pointer: '/silt/200', name: '300' })).toBeNull();
    expect(addToken('ramps.tokens.json', TEXT, { pointer: '/silt/999', name: '250' })).toBeNull();
  });
});
