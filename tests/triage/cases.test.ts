// From samples to cases, each step alone. Derived: what two places must share to be one case is said at the functions.
import { describe, expect, test } from 'vitest';
import type { Judge } from '../../src/checks/check.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Layer, Origin, Paint } from '../../src/samples/paint.ts';
import { familyKey, foreAndBackKey, toldKey } from '../../src/triage/cases/case-key.ts';
import { filterDeclarations } from '../../src/triage/cases/filter-declarations.ts';
import { wordsIn } from '../../src/triage/cases/name-words.ts';
import { isSameColor, openPaintReader, refKey, tokensOf } from '../../src/triage/cases/paint-ref.ts';
import type { PaintRef } from '../../src/triage/cases/paint-ref.ts';
import { openReach } from '../../src/triage/cases/reach.ts';
import { readLayers } from '../../src/triage/cases/read-layers.ts';
import type { Reading } from '../../src/triage/cases/read-sample.ts';
import { isPainted, ownPaint, readSample } from '../../src/triage/cases/read-sample.ts';
import { lastPart, uncounted } from '../../src/triage/cases/selectors.ts';
import type { Sight } from '../../src/triage/cases/settle-case.ts';
import { settleCase } from '../../src/triage/cases/settle-case.ts';
import { familyOf, groundOf, groupOf } from '../../src/triage/cases/usage.ts';
import { appendTo, ascending, byFrequency, commonest, median } from '../../src/triage/counting.ts';
import { localKey } from '../../src/triage/tokens/token-table.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { graphic, picture, shadow, surface, textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const paint = (color: string, origin: Origin, property = 'color'): Paint => ({ property, color, origin });
const literal: Origin = { kind: 'literal' };

describe('a paint', () => {
  const index = tableOf(
    {
      'silt.400': ['#8b9aa1', '#647278'],
      'mark.quiet': ['{silt.400}', '{silt.400}'],
      'mark.other': ['#112233', '#112233'],
    },
    { ramps: [{ name: 'silt', steps: ['silt.400'] }] },
  );
  const byToken = (property: string, over: Partial<Origin & { kind: 'token' }> = {}): Origin => ({
    ...{ kind: 'token', property, alpha: 1 },
    ...over,
  });
  const read = (theme: number, one: Paint, stale: readonly number[] = []): PaintRef =>
    openPaintReader(index, (_, at) => stale.includes(at))(theme, one).ref;

  test.each<[string, number, Paint, readonly number[], object]>([
    ['its token', 0, paint('#8b9aa1', byToken('--mark-quiet')), [], { kind: 'token', token: 1, alpha: 1, inferred: false }],
    ['its token in another theme', 1, paint('#647278', byToken('--mark-quiet')), [], { kind: 'token', token: 1 }],
    [
      'its token, faded',
      0,
      paint('#8b9aa180', byToken('--mark-quiet', { alpha: 0.5 })),
      [],
      { kind: 'token', token: 1, alpha: 0.5 },
    ],
    [
      'no token where it is faded otherwise',
      0,
      paint('#8b9aa1', byToken('--mark-quiet', { alpha: 0.5 })),
      [],
      { kind: 'literal', local: '--mark-quiet' },
    ],
    [
      'its token as an older build has it',
      0,
      paint('#647278', byToken('--mark-quiet')),
      [1],
      { kind: 'stale', token: 1, alpha: 1 },
    ],
    [
      'the step, where it was declared again on the way',
      0,
      paint('#8b9aa1', byToken('--mark-other', { step: '--silt-400' })),
      [],
      { kind: 'token', token: 0, alpha: 1, inferred: false },
    ],
    [
      'the token of the page behind a component’s own',
      0,
      paint('#8b9aa1', byToken('--own', { pageWide: '--mark-quiet', step: '--silt-400' })),
      [],
      { kind: 'token', token: 1, alpha: 1, inferred: false },
    ],
    [
      'the step, where that token was declared again on the way',
      0,
      paint('#8b9aa1', byToken('--own', { pageWide: '--mark-other', step: '--silt-400' })),
      [],
      { kind: 'token', token: 0, alpha: 1, inferred: false },
    ],
    [
      'neither, where both say something else',
      0,
      paint('#ff0000', byToken('--mark-other', { step: '--silt-400' })),
      [],
      { kind: 'literal', local: '--mark-other' },
    ],
    [
      'the step behind a property that is none of a token',
      0,
      paint('#8b9aa1', byToken('--own', { step: '--silt-400' })),
      [],
      { kind: 'token', token: 0 },
    ],
    ['a property that is none of a token', 0, paint('#8b9aa1', byToken('--own')), [], { kind: 'literal', local: '--own' }],
    [
      'what was inferred',
      0,
      paint('#8b9aa1', { kind: 'inferred', token: 'mark.quiet' }),
      [],
      { kind: 'token', token: 1, alpha: 1, inferred: true },
    ],
    ['what was inferred and is unknown', 0, paint('#8b9aa1', { kind: 'inferred', token: 'gone' }), [], { kind: 'literal' }],
    [
      'the tokens of a mix',
      0,
      paint('#8b9aa1', { kind: 'derived', properties: ['--silt-400', '--own', '--mark-other'] }),
      [],
      { kind: 'derived', tokens: [0, 2] },
    ],
    ['a literal', 0, paint('#8b9aa1', literal), [], { kind: 'literal' }],
    ['the browser', 0, paint('#8b9aa1', { kind: 'system' }), [], { kind: 'system' }],
    ['nothing known', 0, paint('#8b9aa1', { kind: 'unknown', why: '' }), [], { kind: 'unknown' }],
  ])('is decided by %s', (_, theme, one, stale, expected) => {
    const ref = read(theme, one, stale);
    expect(ref).toMatchObject({ ...expected, color: parseColor(one.color) });
    expect('local' in ref).toBe('local' in expected);
  });

  test('that is no colour is unknown', () => {
    expect(read(0, paint('currentcolor', literal))).toEqual({ kind: 'unknown', color: { r: 0, g: 0, b: 0, alpha: 0 } });
  });

  test('through a property that a component sets for itself is that of the property it takes it from', () => {
    const locals = new Map([[localKey('noon', '--own', '#8b9aa1'), '--silt-400']]);
    const reader = openPaintReader(indexTable({ ...index.table, locals }), () => false);
    expect(reader(0, paint('#8b9aa1', byToken('--own'))).ref).toMatchObject({ kind: 'token', token: 0 });
    expect(reader(1, paint('#8b9aa1', byToken('--own'))).ref).toMatchObject({ kind: 'literal', local: '--own' });
  });

  test('has one number where colour, origin and theme are the same, and another else', () => {
    const reader = openPaintReader(index, () => false);
    const origins: readonly Origin[] = [
      byToken('--mark-quiet'),
      byToken('--mark-other'),
      byToken('--mark-quiet', { alpha: 0.5 }),
      byToken('--mark-quiet', { step: '--silt-400' }),
      { kind: 'derived', properties: ['--a'] },
      { kind: 'derived', properties: ['--a', '--b'] },
      { kind: 'inferred', token: 'mark.quiet' },
      { kind: 'inferred', token: 'mark.other' },
      literal,
      { kind: 'system' },
      { kind: 'unknown', why: '' },
    ];
    const all = [0, 1].flatMap((theme) =>
      ['#8b9aa1', '#647278'].flatMap((color) => origins.map((origin) => [theme, paint(color, origin)] as const)),
    );
    const numbers = all.map(([theme, one]) => reader(theme, one).number);
    expect(new Set(numbers).size).toBe(all.length);
    expect(all.map(([theme, one]) => reader(theme, { ...one, property: 'fill' }).number)).toEqual(numbers);
  });
});

describe('two readings of one colour', () => {
  // half a code for each of them; alpha to hundredths
  test.each(['r', 'g', 'b'] as const)('may differ by one code of %s', (channel) => {
    const one = parseColor('#808080');
    for (const sign of [-1, 1]) {
      expect(isSameColor(one, { ...one, [channel]: (128 + sign) / 255 })).toBe(true);
      expect(isSameColor(one, { ...one, [channel]: (128 + 2 * sign) / 255 })).toBe(false);
    }
  });
  test('and by half a hundredth of alpha; what is clear is the same in any colour', () => {
    const at = (text: string, alpha: number): ReturnType<typeof parseColor> => ({ ...parseColor(text), alpha });
    expect(isSameColor(at('#808080', 0.5), at('#808080', 0.505))).toBe(true);
    expect(isSameColor(at('#808080', 0.505), at('#808080', 0.5))).toBe(true);
    expect(isSameColor(at('#808080', 0.5), at('#808080', 0.506))).toBe(false);
    expect(isSameColor(at('#808080', 0), at('#ff0000', 0))).toBe(true);
    expect(isSameColor(at('#808080', 0.01), at('#ff0000', 0.01))).toBe(false);
  });
});

describe('what lies behind', () => {
  const index = tableOf({});
  const flat = (color: string, over: Partial<Layer> = {}): Layer => ({
    ...{ selector: 'html', kind: 'color', paint: paint(color, literal), opacity: 1 },
    ...over,
  });
  const read = (...layers: readonly Layer[]): readonly (readonly [string, number, string])[] | null =>
    readLayers(
      0,
      layers,
      openPaintReader(index, () => false),
    )?.layers.map(({ ref, opacity, blend }) => [JSON.stringify(ref.color), opacity, blend] as const) ?? null;
  const seen = (color: string, opacity = 1, blend = 'normal'): readonly [string, number, string] => [
    JSON.stringify(parseColor(color)),
    opacity,
    blend,
  ];

  test('is read from the topmost opaque layer up', () => {
    expect(read(flat('#111111'), flat('#222222'), flat('#33333380'))).toEqual([seen('#222222'), seen('#33333380')]);
    expect(read(flat('#111111'), flat('#222222', { opacity: 0.5 }))).toEqual([seen('#111111'), seen('#222222', 0.5)]);
    expect(read(flat('#111111'), flat('#222222', { blend: 'screen' }))).toEqual([seen('#111111'), seen('#222222', 1, 'screen')]);
    expect(read(flat('#111111'), flat('#22222200'), flat('#333333', { opacity: 0 }))).toEqual([seen('#111111')]);
    expect(read()).toEqual([]);
  });

  test('cannot be told where a picture, a gradient, another mode or something untraced lies in between', () => {
    const gradient: Layer = { selector: 'html', kind: 'gradient', opacity: 1 };
    expect(read(flat('#111111'), gradient)).toBeNull();
    expect(read(flat('#111111'), flat('#222222', { kind: 'picture' }))).toBeNull();
    expect(read(flat('#111111'), flat('#222222', { blend: 'revert' }))).toBeNull();
    expect(read(flat('#111111'), flat('#222222', { paint: paint('#222222', { kind: 'unknown', why: '' }) }))).toBeNull();
    // below what hides it, it does not matter
    expect(read(gradient, flat('#222222'))).toEqual([seen('#222222')]);
  });

  test('has a mark that tells it from everything else', () => {
    const reader = openPaintReader(index, () => false);
    const stacks = [
      [flat('#111111')],
      [flat('#222222')],
      [flat('#111111'), flat('#22222280')],
      [flat('#111111'), flat('#222222', { opacity: 0.5 })],
      [flat('#111111'), flat('#222222', { opacity: 0.25 })],
      [flat('#111111'), flat('#222222', { blend: 'screen' })],
      [],
    ];
    const marks = stacks.map((stack) => readLayers(0, stack, reader)?.mark);
    expect(new Set(marks).size).toBe(stacks.length);
    expect(stacks.map((stack) => readLayers(0, stack, reader)?.mark)).toEqual(marks);
    // what is hidden is no part of it
    expect(readLayers(0, [flat('#999999'), flat('#111111')], reader)?.mark).toBe(marks[0]);
  });
});

const standing = (sample: { readonly kind: string }): string => `${sample.kind}!`;
const judges = [{ standing }, { standing: () => 'x' }] as unknown as readonly Judge[];

describe('a sample', () => {
  const read = (sample: Parameters<typeof readSample>[0], level: 'AA' | 'AAA' = 'AA'): Reading =>
    readSample(sample, { level, judges, exempt: 'glow' });

  test('of text', () => {
    const text = textRun({ color: '#000000', background: '#ffffff', inkOpacity: 0.5 });
    expect(read(text)).toEqual({
      ...{ paint: text.ink, role: 'ink', opacity: 0.5, layers: text.layers, seenFore: '#000000', seenBacks: ['#ffffff'] },
      ...{ required: 4.5, judged: true, exempt: 'glow', hidden: false },
      facts: { kind: 'text', standing: 'text!x', edged: false },
    });
    expect(read(text, 'AAA').required).toBe(7);
    expect(read({ ...text, large: true }).required).toBe(3);
    expect(read({ ...text, exempt: 'hidden' })).toMatchObject({ required: 0, judged: false, hidden: true });
    expect(read({ ...text, exempt: 'inactive' })).toMatchObject({ required: 0, judged: false, hidden: false });
    expect(read({ ...text, unread: 'a video' })).toMatchObject({ required: 4.5, judged: false });
  });

  test('the worst backdrop comes first; nine and more are cut at eight', () => {
    const backs = ['#1', '#2', '#3', '#4', '#5', '#6', '#7', '#8', '#9'];
    const text = textRun({ color: '#000000', background: '#ffffff' });
    const of = (background: string, backgroundSpread: readonly string[]): readonly string[] =>
      read({ ...text, background, backgroundSpread }).seenBacks;
    expect(of('#3', backs)).toEqual(['#3', '#1', '#2', '#4', '#5', '#6', '#7', '#8']);
    expect(of('#3', ['#3'])).toEqual(['#3']);
    expect(of('#3', ['#2'])).toEqual(['#3', '#2']);
    expect(of('#3', [])).toEqual(['#3']);
  });

  test('of graphics, by their role', () => {
    const icon = graphic({ color: '#000000', against: '#ffffff', opacity: 0.5 });
    expect(read(icon)).toEqual({
      ...{ paint: icon.paint, role: 'glyph', opacity: 0.5, layers: icon.layers, seenFore: '#000000', seenBacks: ['#ffffff'] },
      ...{ required: 3, judged: true, exempt: 'glow', hidden: false },
      facts: { kind: 'graphic', standing: 'graphic!x', edged: false },
    });
    const paintedBy = (property: string): Paint => ({ ...icon.paint, property });
    expect(read({ ...icon, role: 'border', paint: paintedBy('border-top-color') }).role).toBe('edge');
    expect(read({ ...icon, role: 'border', paint: paintedBy('box-shadow') }).role).toBe('edge');
    expect(read({ ...icon, role: 'border', paint: paintedBy('background-color') }).role).toBe('face');
    expect(read({ ...icon, role: 'border', key: 'switch|inside', paint: paintedBy('background-color') }).role).toBe('glyph');
    expect(read({ ...icon, role: 'border', paint: paintedBy('color') }).role).toBe('glyph');
    expect(read({ ...icon, role: 'focus' }).role).toBe('ring');
    expect(read({ ...icon, exempt: 'decoration' })).toMatchObject({ required: 0, judged: false, hidden: false });
    expect(read({ ...icon, exempt: 'hidden' })).toMatchObject({ judged: false, hidden: true });
  });

  test('of surfaces and shadows', () => {
    const face = surface({ color: '#000000', around: '#ffffff', opacity: 0.5 });
    const expected = {
      ...{ paint: face.paint, role: 'surface', opacity: 0.5, layers: face.layers, seenFore: '#000000', seenBacks: ['#ffffff'] },
      ...{ required: 0, judged: true, exempt: 'glow', hidden: false },
      facts: { kind: 'surface', standing: 'surface!x', edged: false },
    };
    expect(read(face)).toEqual(expected);
    expect(read({ ...face, stay: 'dark', edge: { kind: 'border', color: '#ffffff' } })).toEqual({
      ...expected,
      facts: { kind: 'surface', standing: 'surface!x', edged: true, stay: 'dark' },
    });
    const fall = shadow({ color: '#000000', beneath: '#ffffff' });
    expect(read(fall)).toEqual({
      ...{ paint: fall.paint, role: 'shadow', opacity: 1, layers: null, seenFore: '#000000', seenBacks: ['#ffffff'] },
      ...{ required: 0, judged: true, exempt: 'glow', hidden: false },
      facts: { kind: 'shadow', standing: 'shadow!x', edged: false },
    });
    expect([isPainted(fall), isPainted(picture({}))]).toEqual([true, false]);
    const text = textRun({ color: '#000000', background: '#ffffff' });
    expect([ownPaint(text), ownPaint(fall)]).toEqual([text.ink, fall.paint]);
  });
});

describe('cases are told apart', () => {
  const reading: Reading = readSample(textRun({ color: '#000000', background: '#ffffff' }), { level: 'AA', judges, exempt: '' });
  const { facts } = reading;

  test('by what is asked of them', () => {
    const all: readonly Reading[] = [
      reading,
      { ...reading, role: 'glyph' },
      { ...reading, required: 3 },
      { ...reading, judged: false },
      { ...reading, exempt: 'glow' },
      { ...reading, opacity: 0.5 },
      { ...reading, opacity: 0.25 },
      { ...reading, facts: { ...facts, kind: 'surface' } },
      { ...reading, facts: { ...facts, standing: 'large' } },
      { ...reading, facts: { ...facts, edged: true } },
      { ...reading, facts: { ...facts, stay: 'dark' } },
      { ...reading, facts: { ...facts, stay: 'light' } },
    ];
    expect(new Set(all.map(toldKey)).size).toBe(all.length);
    expect(new Set(all.map((each) => familyKey(each, written('#000000'), []))).size).toBe(all.length);
    // It is made for every sample, and says no more than it must.
    expect(toldKey(reading)).toBe('inktext4.5text!x');
    expect(
      toldKey({ ...reading, judged: false, opacity: 0.5, exempt: 'glow', facts: { ...facts, edged: true, stay: 'dark' } }),
    ).toBe('inktext-text!xedarkglow@0.5');
    // where nothing is asked, it does not matter what would be
    expect(toldKey({ ...reading, judged: false, required: 3 })).toBe(toldKey({ ...reading, judged: false }));
  });

  test('by what they are painted with, not by what it comes to in a theme', () => {
    const ink = written('#000000');
    const on = [layer(written('#ffffff'))];
    const all = [
      [ink, on],
      [token(0, '#000000'), on],
      [ink, null],
      [ink, []],
      [ink, [layer(written('#eeeeee'))]],
      [ink, [layer(written('#ffffff'), { opacity: 0.5 })]],
      [ink, [layer(written('#ffffff'), { blend: 'screen' })]],
      [ink, [...on, ...on]],
    ] as const;
    expect(new Set(all.map(([fore, back]) => familyKey(reading, fore, back))).size).toBe(all.length);
    expect(familyKey(reading, token(0, '#111111'), on)).toBe(familyKey(reading, token(0, '#222222'), on));
    expect(foreAndBackKey(token(0, '#111111'), on)).toBe('');
    expect(foreAndBackKey(ink, null)).toBe('');
  });

  test('by colours that neither a token nor the literal names', () => {
    const color = parseColor('#01020380');
    // 8-bit codes, alpha too
    expect(foreAndBackKey(written('#01020380', '--own'), null)).toBe(' 1,2,3,128');
    expect(foreAndBackKey({ kind: 'stale', token: 0, alpha: 1, color }, null)).toBe(' 1,2,3,128s');
    expect(foreAndBackKey({ kind: 'system', color }, [layer({ kind: 'unknown', color }), layer(token(0, '#111111'))])).toBe(
      ' 1,2,3,128 1,2,3,128',
    );
  });

  test('references are one where their key is', () => {
    const color = parseColor('#010203');
    const refs: readonly PaintRef[] = [
      token(0, '#010203'),
      token(1, '#010203'),
      token(0, '#010203', 0.5),
      { kind: 'derived', tokens: [0], color },
      { kind: 'derived', tokens: [0, 1], color },
      written('#010203'),
      written('#010204'),
      written('#010203', '--own'),
      { kind: 'system', color },
      { kind: 'unknown', color },
    ];
    expect(new Set(refs.map(refKey)).size).toBe(refs.length);
    expect(refs.map((ref) => tokensOf(ref))).toEqual([[0], [1], [0], [0], [0, 1], [], [], [], [], []]);
    expect(tokensOf({ kind: 'stale', token: 3, alpha: 1, color })).toEqual([3]);
  });
});

describe('sums are held against what was seen', () => {
  const sight = (fore: string, ...backs: readonly string[]): Sight => ({ fore: shown(fore), backs: backs.map(shown) });
  const plain = { fore: written('#00000080'), foreOpacity: 1, back: [layer(written('#ffffff'))], isShadow: false };
  const inverted = [{ selector: 'html', filter: 'invert(1)' }];

  test('where they agree, both are computed; where not, what was seen stands', () => {
    expect(settleCase(plain, sight('#7f7f7f', '#ffffff'), [])).toMatchObject({
      ...{ share: 1, foreFixed: false, backFixed: false, isLifted: false, filters: [], back: plain.back },
      seenBacks: [shown('#ffffff')],
    });
    // two codes off are rounding
    expect(settleCase(plain, sight('#7d7d7d', '#fdfdfd'), [])).toMatchObject({ foreFixed: false, backFixed: false });
    expect(settleCase(plain, sight('#303030', '#ffffff'), [])).toMatchObject({ foreFixed: true, seenFore: shown('#303030') });
    expect(settleCase(plain, sight('#7f7f7f', '#ffffff', '#eeeeee'), [])).toMatchObject({
      ...{ foreFixed: false, backFixed: true },
      seenBacks: [shown('#ffffff'), shown('#eeeeee')],
    });
    expect(settleCase({ ...plain, back: [] }, sight('#7f7f7f', '#ffffff'), [])).toMatchObject({ backFixed: true });
    expect(settleCase({ ...plain, back: null }, sight('#7f7f7f', '#ffffff'), [])).toMatchObject({ back: [], backFixed: true });
    const unknown = { ...plain, fore: { kind: 'unknown', color: parseColor('#00000080') } } as const;
    expect(settleCase(unknown, sight('#7f7f7f', '#ffffff'), [])).toMatchObject({ foreFixed: true });
    expect(settleCase({ ...plain, foreOpacity: 0.5 }, sight('#bfbfbf', '#ffffff'), [])).toMatchObject({ foreFixed: false });
  });

  test('of a shadow, the share that arrives is what was seen', () => {
    const fall = { ...plain, fore: written('#000000'), back: null, isShadow: true };
    const settled = settleCase(fall, sight('#bfbfbf', '#ffffff'), []);
    expect(settled).toMatchObject({ foreFixed: false, backFixed: true });
    expect(settled.share).toBeCloseTo(64 / 255, 9);
    // a colour that no share of black on white gives; only rounding is left to a fitted one
    expect(settleCase(fall, sight('#bfbfff', '#ffffff'), [])).toMatchObject({ foreFixed: true });
    expect(settleCase(fall, sight('#bfbfc1', '#ffffff'), [])).toMatchObject({ foreFixed: true });
  });

  test('a filter over the page counts only where it explains what was seen', () => {
    const black = { ...plain, fore: written('#000000') };
    // black on white comes out as white on black
    expect(settleCase(black, sight('#ffffff', '#000000'), inverted)).toMatchObject({
      ...{ foreFixed: false, backFixed: false, filters: inverted, isLifted: false },
      ...{ seenFore: shown('#ffffff'), seenBacks: [shown('#000000')] },
    });
    // a dialog above it is not turned, what lies behind it is
    expect(settleCase(black, sight('#000000', '#000000'), inverted)).toMatchObject({
      ...{ foreFixed: false, backFixed: false, filters: inverted, isLifted: true },
    });
    expect(settleCase(black, sight('#123456', '#000000'), inverted)).toMatchObject({ filters: [], foreFixed: true });
    expect(settleCase(black, sight('#000000', '#ffffff'), inverted)).toMatchObject({ filters: [], foreFixed: false });
    // where nothing is known of what lies behind, it is what was seen, turned back
    expect(settleCase({ ...black, back: null }, sight('#ffffff', '#000000'), inverted)).toMatchObject({
      ...{ foreFixed: false, backFixed: false, filters: inverted },
      back: [{ ref: { kind: 'literal', color: shown('#ffffff') }, opacity: 1, blend: 'normal' }],
    });
  });
});

test('a change of a token reaches what hangs on it, in the themes it is made in', () => {
  const index = tableOf({ step: ['#111111', '#222222'], role: ['{step}', '#333333'] });
  const cases = new Map([
    ['0 0', [7, 3]],
    ['0 1', [3, 5]],
    ['1 0', [1]],
  ]);
  let asked = 0;
  const reachOf = openReach(index, (theme, at) => {
    asked += 1;
    return cases.get(`${String(theme)} ${String(at)}`) ?? [];
  });
  const reach = reachOf(0, [0]);
  expect(reach.touched).toEqual([3, 5, 7]);
  expect([0, 1].map((theme) => reach.moves(made({ theme }), token(1, '#111111')))).toEqual([true, false]);
  expect(reach.moves(made(), written('#111111'))).toBe(false);
  const before = asked;
  expect(reachOf(0, [0])).toBe(reach);
  expect(asked).toBe(before);
  expect(reachOf(0, [0, 1]).touched).toEqual([1, 3, 5, 7]);
  expect(reachOf(0, [1]).touched).toEqual([1]);
});

test('of several places where a filter is declared, the one that sorts first', () => {
  const declarations = filterDeclarations();
  const filter = (
    rule: string,
  ): {
    readonly selector: string;
    readonly filter: string;
    readonly written: readonly { readonly property: string; readonly value: string; readonly rule: string }[];
  } => ({
    ...{ selector: 'html', filter: 'invert(1)' },
    written: [{ property: 'filter', value: 'invert(1)', rule }],
  });
  for (const rule of ['.b', '.a', '.c']) declarations.learn(1, filter(rule));
  expect(declarations.of(1, { selector: 'html', filter: 'invert(1)' })).toEqual(filter('.a'));
  const others = [
    [0, { selector: 'html', filter: 'invert(1)' }],
    [1, { selector: 'body', filter: 'invert(1)' }],
    [1, { selector: 'html', filter: 'invert(.9)' }],
  ] as const;
  for (const [theme, other] of others) expect(declarations.of(theme, other)).toBe(other);
});

test('paths, selectors and words are taken apart', () => {
  expect(['mark.quiet', 'signal.alarm.face', 'mark', '--pier-menu-face', '--pier'].map(familyOf)).toEqual([
    ...['mark', 'signal.alarm', '', '--pier-menu', ''],
  ]);
  expect(['mark.quiet', 'mark', '--pier-menu-face', '--pier'].map(groupOf)).toEqual(['mark', 'mark', 'pier', 'pier']);
  expect(['main > p.note', 'a b', 'a ~ b + c', 'a>b', 'p', ''].map(lastPart)).toEqual(['p.note', 'b', 'c', 'b', 'p', '']);
  expect(uncounted('ul:nth-of-type(12) > li:nth-of-type(3).on')).toBe('ul > li.on');
  expect(wordsIn('--menuBorder-x2_color 40a')).toEqual(['menu', 'border', 'color']);
  expect(groundOf(made({ back: [layer(token(3, '#111111')), layer(token(5, '#11111180'))] }))).toBe(5);
  expect(groundOf(made({ back: [layer({ kind: 'stale', token: 4, alpha: 1, color: parseColor('#111111') })] }))).toBe(4);
  expect([groundOf(made()), groundOf(made({ back: [] }))]).toEqual([-1, -1]);
});

test('numbers are counted', () => {
  expect([[], [3], [3, 1], [9, 1, 2], [4, 1, 3, 10]].map(median)).toEqual([0, 3, 2, 2, 3.5]);
  expect([[], [3, 1, 3], [2, 1, 2, 1], [5]].map(commonest)).toEqual([-1, 3, 1, 5]);
  expect(byFrequency([4, 2, 9, 2, 9, 2, 1])).toEqual([2, 9, 1, 4]);
  expect(ascending([10, 9, 1, 10, 2])).toEqual([1, 2, 9, 10]);
  const lists = new Map([['a', [1]]]);
  appendTo(lists, 'a', 2);
  appendTo(lists, 'b', 3);
  expect([...lists]).toEqual([
    ['a', [1, 2]],
    ['b', [3]],
  ]);
});
