// Colours built from custom properties. The sums are held against colorjs.io, an implementation of its own.
import Color from 'colorjs.io';
import { describe, expect, test } from 'vitest';
import type { Rebuilt } from '../../src/colour/built-color.ts';
import { builtColor, builtIn, propertiesIn, rebuild, wholeProperty, withoutAlpha } from '../../src/colour/built-color.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { seeded } from '../triage/seeded.ts';

type Texts = Readonly<Record<string, string>>;
const of =
  (texts: Texts) =>
  (property: string): string | undefined =>
    texts[property];

describe('what counts as built', () => {
  const rows: readonly (readonly [value: string, built: string | null])[] = [
    ['hsl(var(--h) 60% var(--l))', 'hsl(var(--h) 60% var(--l))'],
    ['1px solid rgba(var(--rgb), .5)', 'rgba(var(--rgb), .5)'],
    ['rgba(var(--rgb), var(--alpha, 1))', 'rgba(var(--rgb), var(--alpha, 1))'],
    ['linear-gradient(oklch(var(--p)), #fff)', 'oklch(var(--p))'],
    ['hsl(var(--h) 60% calc(var(--l) * 2))', 'hsl(var(--h) 60% calc(var(--l) * 2))'],
    ['var(--mark)', null],
    ['hsl(205 60% 30%)', null],
  ];
  test.each(rows)('%s', (value, built) => {
    expect(builtIn(value)).toBe(built);
  });

  test('names its properties, and the one that holds all components', () => {
    expect(propertiesIn('hsl(var(--h) 60% var(--l) / var(--h))')).toEqual(['--h', '--l']);
    const texts = of({ '--rgb': '34 52 81', '--h': '205', '--l': '30%' });
    expect(wholeProperty('rgb(var(--rgb) / .5)', texts)).toBe('--rgb');
    expect(wholeProperty('hsl(var(--h) 60% var(--l))', texts)).toBeNull();
    expect(withoutAlpha('rgba(var(--rgb), .5)', '--rgb')).toBe('rgba(var(--rgb))');
  });
});

/** Function, texts of its properties; the same colour as colorjs.io reads it (some legacy forms written anew). */
const COLOURS: readonly (readonly [built: string, texts: Texts, same: string])[] = [
  ['rgb(var(--rgb))', { '--rgb': '34 52 81' }, 'rgb(34 52 81)'],
  ['rgba(var(--rgb), .5)', { '--rgb': '34, 52, 81' }, 'rgb(34 52 81 / .5)'],
  ['rgb(var(--r) var(--g) var(--b))', { '--r': '34', '--g': '52', '--b': '81' }, 'rgb(34 52 81)'],
  ['hsl(var(--h) 60% var(--l))', { '--h': '205', '--l': '30%' }, 'hsl(205 60% 30%)'],
  ['hsl(var(--hsl) / .8)', { '--hsl': '210 60% 36%' }, 'hsl(210 60% 36% / .8)'],
  ['oklch(var(--p))', { '--p': '0.45 0.09 160' }, 'oklch(0.45 0.09 160)'],
  ['oklch(var(--l) 9% 160)', { '--l': '45%' }, 'oklch(0.45 0.036 160)'],
  ['oklab(var(--l) -0.05 0.04)', { '--l': '0.5' }, 'oklab(0.5 -0.05 0.04)'],
  ['lch(var(--l) 30 var(--h))', { '--l': '40', '--h': '250' }, 'lch(40 30 250)'],
  ['lab(var(--l) 10 -20)', { '--l': '40' }, 'lab(40 10 -20)'],
  ['hwb(var(--h) 20% var(--b))', { '--h': '205', '--b': '40%' }, 'hwb(205 20% 40%)'],
];

describe('a built colour', () => {
  test.each(COLOURS)('%s is what its numbers say', (built, texts, same) => {
    const color = builtColor(built, of(texts));
    const expected = new Color(same);
    const [r = 0, g = 0, b = 0] = expected.to('srgb').coords.map(Number);
    // Two implementations of one matrix: equal to a hundredth of an 8-bit code.
    for (const [mine, theirs] of [
      [color?.r, r],
      [color?.g, g],
      [color?.b, b],
    ])
      expect(mine).toBeCloseTo(theirs ?? NaN, 4);
    expect(color?.alpha).toBe(expected.alpha);
  });

  test('is none where a number is missing, or stands in two places', () => {
    expect(builtColor('rgb(var(--rgb))', of({}))).toBeNull();
    expect(builtColor('rgb(var(--rgb))', of({ '--rgb': '#223451' }))).toBeNull();
    expect(builtColor('rgb(var(--x) var(--x) 3)', of({ '--x': '10' }))).toBeNull();
    // More than numbers in a function.
    expect(builtColor('hsl(var(--h) 60% calc(var(--l) * 2))', of({ '--h': '205', '--l': '15%' }))).toBeNull();
    expect(builtColor('rgb(from var(--mark) r g b / 0.5)', of({ '--mark': '#223451' }))).toBeNull();
    expect(builtColor('color-mix(in srgb, var(--mark), black)', of({ '--mark': '#223451' }))).toBeNull();
  });
});

function found(built: string, texts: Texts, wanted: string): readonly Rebuilt[] {
  return [...rebuild(built, of(texts), parseColor(wanted))];
}

describe('a wanted colour in the author’s notation', () => {
  test('three channels in one property, with its own separators', () => {
    // Derived: #7aa2d6 is 122, 162, 214.
    const spaced = found('rgb(var(--rgb) / .5)', { '--rgb': '34 52 81' }, '#7aa2d6');
    expect(spaced[0]?.texts).toEqual(new Map([['--rgb', '122 162 214']]));
    const listed = found('rgba(var(--rgb), .5)', { '--rgb': '34, 52, 81' }, '#7aa2d6');
    expect(listed[0]?.texts).toEqual(new Map([['--rgb', '122, 162, 214']]));
  });

  test('lightness alone where a property holds it, as luminous as what is wanted or a little more', () => {
    const [first] = found('hsl(var(--h) 60% var(--l))', { '--h': '205', '--l': '34%' }, '#4c9bd3');
    const text = first?.texts.get('--l') ?? '';
    expect([...(first?.texts.keys() ?? [])]).toEqual(['--l']);
    expect(text).toMatch(/^\d+%$/u);
    // Second library: the next whole percent below is darker than what is wanted.
    const lum = (lightness: number): number => new Color(`hsl(205 60% ${String(lightness)}%)`).luminance;
    const goal = new Color('#4c9bd3').luminance;
    expect(lum(Number.parseInt(text, 10))).toBeGreaterThanOrEqual(goal);
    expect(lum(Number.parseInt(text, 10) - 1)).toBeLessThan(goal);
  });

  test('darker rounds the other way', () => {
    const [first] = found('oklch(var(--l) 0.05 250)', { '--l': '0.7' }, '#4d5d70');
    const value = Number(first?.texts.get('--l'));
    const lum = (lightness: number): number => new Color(`oklch(${String(lightness)} 0.05 250)`).luminance;
    const goal = new Color('#4d5d70').luminance;
    expect(lum(value)).toBeLessThanOrEqual(goal);
    expect(lum(value + 0.01)).toBeGreaterThan(goal);
  });

  test('in one property of hsl numbers its hue and saturation stay where lightness does', () => {
    const [first] = found('hsl(var(--calm))', { '--calm': '210 60% 36%' }, '#4c83bd');
    expect(first?.texts.get('--calm')).toMatch(/^210 60% \d+%$/u);
  });

  test('nothing where no property holds a component', () => {
    expect(found('rgb(34 52 81 / var(--alpha))', { '--alpha': '.5' }, '#7aa2d6')).toEqual([]);
  });

  // Law: whatever is proposed paints the colour that it says, and the last one (all components, most digits) is the wanted one.
  test.each([
    ['rgb(var(--x))', '34 52 81'],
    ['hsl(var(--x))', '205 60% 30%'],
    ['oklch(var(--x))', '0.45 0.09 160'],
    ['oklch(var(--x))', '45% 22% 160deg'],
    ['lch(var(--x))', '40 30 250'],
    ['lab(var(--x))', '40% 10 -20'],
    ['oklab(var(--x))', '0.5 -0.05 0.04'],
    ['hwb(var(--x))', '205 20% 40%'],
  ])('%s from %s, forty colours of seed 16', (built, text) => {
    const random = seeded(16);
    let near = 0;
    for (let round = 0; round < 40; round += 1) {
      const codes = [0, 1, 2].map(() => random.whole(0, 255).toString(16).padStart(2, '0'));
      const wanted = `#${codes.join('')}`;
      const all = found(built, { '--x': text }, wanted);
      for (const { texts, color } of all) {
        const said = new Color(built.replace('var(--x)', (texts.get('--x') ?? '').replace('deg', '')))
          .to('srgb')
          .coords.map(Number);
        for (const [at, mine] of [color.r, color.g, color.b].entries()) expect(mine).toBeCloseTo(said[at] ?? NaN, 3);
      }
      const last = all.at(-1);
      if (last !== undefined && new Color(toHex(last.color)).deltaE(wanted, '2000') < 1) near += 1;
    }
    // A number rounded in a corner of the gamut may lie just outside of it; then it is not proposed.
    expect(near).toBeGreaterThan(30);
  });
});
