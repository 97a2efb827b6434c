// The sums behind a change, each step alone. Expected colours are derived: Co = αs·Cs + (1 − αs)·Cb (Compositing and Blending 1, §5).
import { describe, expect, test } from 'vitest';
import type { Color } from '../../src/colour/color.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { cieLightness } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import { arrivingShare, compositeFore, compositeLayers, looksAlike } from '../../src/triage/recolor/composite-layers.ts';
import { codeOf, lowest, recoloredSample } from '../../src/triage/recolor/recolored-sample.ts';
import { pairsOf, recolor } from '../../src/triage/recolor/recolor.ts';
import type { Recoloring } from '../../src/triage/recolor/recoloring.ts';
import { bothRecolorings } from '../../src/triage/recolor/recoloring.ts';
import { throughFilters } from '../../src/triage/recolor/through-filters.ts';
import { movesTo, refUnder, slotUnder } from '../../src/triage/recolor/token-recoloring.ts';
import { graphic, picture, shadow, surface, textRun } from '../checks/made-samples.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

const grey = (value: number): Color => ({ r: value, g: value, b: value, alpha: 1 });

describe('layers', () => {
  const flat = (...layers: readonly (readonly [text: string, over?: Parameters<typeof layer>[1]])[]): string | null => {
    const found = compositeLayers(
      layers.map(([text, over]) => layer(written(text), over)),
      ({ ref }) => ref.color,
    );
    return found === null ? null : toHex(found);
  };

  test('lie on white, from the lowest up', () => {
    expect(flat()).toBe('#ffffff');
    expect(flat(['#336699'])).toBe('#336699');
    expect(flat(['#336699'], ['#00000080'])).toBe('#19334c'); // 51, 102, 153 times 127/255
    expect(flat(['#00000080'])).toBe('#7f7f7f');
    expect(flat(['#ff0000'], ['#0000ff'])).toBe('#0000ff');
    expect(flat(['#000000', { opacity: 0.2 }])).toBe('#cccccc');
    // white × blue, then × half a grey
    expect(flat(['#0000ff', { blend: 'multiply' }], ['#808080', { blend: 'multiply' }])).toBe('#000080');
  });

  test('one that cannot be told leaves nothing to tell; each is asked for by its place', () => {
    const layers = [layer(written('#111111')), layer(written('#222222'))];
    expect(compositeLayers(layers, (_, at) => (at === 1 ? null : grey(0)))).toBeNull();
    expect(compositeLayers(layers, (_, at) => grey(at / 2))).toEqual(grey(0.5));
  });

  test('in front, opacity and share count together', () => {
    const ink = parseColor('#000000');
    expect(compositeFore(ink, { opacity: 1, share: 1 }, shown('#ffffff'))).toBe(ink);
    expect(compositeFore(ink, { opacity: 0.5, share: 0.4 }, shown('#ffffff'))).toEqual(grey(0.8));
    expect(compositeFore({ ...ink, alpha: 0.5 }, { opacity: 1, share: 1 }, shown('#ffffff'))).toEqual(grey(0.5));
  });

  // two codes apart are alike, three are not; the bound is 2.5
  test.each(['r', 'g', 'b'] as const)('look alike up to two codes of %s', (channel) => {
    for (const sign of [-1, 1]) {
      const off = (codes: number): Color => ({ ...grey(0.5), [channel]: 0.5 + (sign * codes) / 255 });
      expect(looksAlike(grey(0.5), off(2.4))).toBe(true);
      expect(looksAlike(grey(0.5), off(2.6))).toBe(false);
      expect(looksAlike(off(1), grey(0.5), 1 / 254)).toBe(true);
      expect(looksAlike(off(1), grey(0.5), 1 / 256)).toBe(false);
    }
  });

  test.each([
    // black of alpha .5 that leaves white at .75 arrived by half
    ['#00000080', 0.75, 1, 0.25 / (128 / 255)],
    ['#000000', 0.75, 1, 0.25],
    ['#000000', -1, 1, 1],
    ['#000000', 1.5, 1, 0],
    // nothing to tell apart, nothing there
    ['#ffffff', 1, 1, 1],
    ['#00000000', 0.5, 1, 1],
  ])('of a shadow %s seen as %d on %d arrives %d', (paint, seen, beneath, share) => {
    expect(arrivingShare(parseColor(paint), { seen: grey(seen), beneath: grey(beneath) })).toBeCloseTo(share, 9);
  });

  test('only the channels in which shadow and ground differ tell the share', () => {
    const seen = { r: 0.3, g: 0.9, b: 0.9, alpha: 1 };
    expect(arrivingShare(parseColor('#ff0000'), { seen, beneath: grey(0) })).toBeCloseTo(0.3, 9);
  });
});

const still: Recoloring = { touched: [0], colorOf: () => undefined };

describe('two changes at once', () => {
  const [red, blue] = [parseColor('#ff0000'), parseColor('#0000ff')];

  test('touch what either touches; where both speak, the later one counts', () => {
    const both = bothRecolorings(
      { touched: [4, 2], colorOf: (_, at) => (at === 0 ? red : at === 1 ? red : undefined) },
      { touched: [9, 2, 1], colorOf: (_, at) => (at === 1 ? blue : at === 2 ? null : undefined) },
    );
    expect(both.touched).toEqual([1, 2, 4, 9]);
    const at = (id: number): unknown => [0, 1, 2, 3].map((layer) => both.colorOf(made({ id }), layer));
    expect(at(2)).toEqual([red, blue, null, undefined]);
    // Where only one of them has a say, the other is not asked.
    expect([at(4), at(9), at(5)]).toEqual([
      [red, red, undefined, undefined],
      [undefined, blue, null, undefined],
      [undefined, undefined, undefined, undefined],
    ]);
  });

  test('touch as much of a case as both together, at most all of it', () => {
    const part = (share: number | undefined, touched: readonly number[]): Recoloring => ({
      ...{ touched, colorOf: () => red },
      ...(share === undefined ? {} : { partOf: () => share }),
    });
    const shares = (one: Recoloring, other: Recoloring): unknown =>
      [1, 2, 3].map((id) => bothRecolorings(one, other).partOf?.(made({ id })));
    expect(shares(part(0.25, [1, 2]), part(0.5, [2, 3]))).toEqual([0.25, 0.75, 0.5]);
    expect(shares(part(0.75, [1, 2]), part(undefined, [2, 3]))).toEqual([0.75, 1, 1]);
  });

  test('what only one says is kept, on either side', () => {
    const said: Recoloring = {
      ...still,
      opacityOf: () => 0.5,
      paintedBy: () => '--a',
      redraws: () => true,
      isKnownElsewhere: () => true,
      sharesFault: () => true,
      clears: () => 'html',
    };
    const tell = (each: Recoloring): unknown => [
      each.opacityOf?.(made()),
      each.paintedBy?.(made()),
      each.redraws?.(made()),
      each.isKnownElsewhere?.(made(), 'glow', []),
      each.sharesFault?.(made(), 'glow'),
      each.clears?.(made()),
    ];
    expect(tell(bothRecolorings(said, still))).toEqual([0.5, '--a', true, true, true, 'html']);
    expect(tell(bothRecolorings(still, said))).toEqual([0.5, '--a', true, true, true, 'html']);
    expect(tell(bothRecolorings(still, still))).toEqual([undefined, undefined, false, false, false, undefined]);
    const other: Recoloring = { ...still, opacityOf: () => 1, paintedBy: () => '--b', clears: () => 'body' };
    expect(tell(bothRecolorings(said, other))).toEqual([1, '--b', true, true, true, 'body']);
  });
});

describe('tokens that move', () => {
  const index = tableOf({ a: ['#111111', '#222222'], b: ['#333333', null] });

  test('say where they go; one that stays says nothing, one without an end cannot be told', () => {
    let asked = 0;
    const moves = movesTo(index, (theme, at) => {
      asked += 1;
      if (theme === 1 && at === 0) return null;
      return at === 0 ? parseColor('#444444') : parseColor('#333333');
    });
    expect(moves(0, 0)).toEqual(parseColor('#444444'));
    expect(moves(0, 0)).toEqual(parseColor('#444444'));
    expect(asked).toBe(1);
    expect(moves(1, 0)).toBeNull();
    expect(moves(0, 1)).toBeUndefined();
    expect(moves(1, 1)).toEqual(parseColor('#333333'));
  });

  test.each(['r', 'g', 'b', 'alpha'] as const)('a change of %s alone is one', (channel) => {
    const then = { ...parseColor('#111111'), [channel]: 0.5 };
    expect(movesTo(index, () => then)(0, 0)).toEqual(then);
  });

  test('take along what is painted with them', () => {
    const moves = movesTo(index, (_, at) => (at === 0 ? parseColor('#444444') : index.colorOf(0, at)));
    const color = parseColor('#999999');
    expect(refUnder(moves, 0, token(0, '#111111', 0.5))).toEqual({ ...parseColor('#444444'), alpha: 0.5 });
    expect(refUnder(moves, 0, token(1, '#333333'))).toBeUndefined();
    expect(refUnder(() => null, 0, token(0, '#111111'))).toBeNull();
    expect(refUnder(moves, 0, { kind: 'derived', tokens: [1, 0], color })).toBeNull();
    expect(refUnder(moves, 0, { kind: 'derived', tokens: [1], color })).toBeUndefined();
    for (const kind of ['system', 'unknown'] as const) expect(refUnder(moves, 0, { kind, color })).toBeUndefined();
    expect(refUnder(moves, 0, written('#111111'))).toBeUndefined();
    expect(refUnder(moves, 0, { kind: 'stale', token: 0, alpha: 1, color })).toBeUndefined();
    const one = made({ fore: token(1, '#333333'), back: [layer(written('#ffffff')), layer(token(0, '#111111'))] });
    expect([-1, 0, 1, 2].map((at) => slotUnder(moves, one, at))).toEqual([
      ...[undefined, undefined, parseColor('#444444'), undefined],
    ]);
  });
});

describe('a case under a change', () => {
  const fore = (color: Color | null | undefined): Recoloring => ({ ...still, colorOf: (_, at) => (at === -1 ? color : undefined) });
  const back = (color: Color | null): Recoloring => ({ ...still, colorOf: (_, at) => (at === 0 ? color : undefined) });
  const [red, blue] = [parseColor('#ff0000'), parseColor('#0000ff')];
  const tell = (one: Case, change: Recoloring): unknown => {
    const after = recolor(one, change);
    return after.kind === 'pairs' ? after.pairs.map((pair) => `${toHex(pair.fore)} on ${toHex(pair.back)}`) : after.kind;
  };
  const two = { seenBacks: [shown('#ffffff'), shown('#eeeeee')] };
  const fixed = { foreFixed: true, seenFore: shown('#123456') };
  const inverted = { filters: [{ selector: 'html', filter: 'invert(1)' }] };

  test.each<[string, Partial<Case>, Recoloring, unknown]>([
    ['nothing moves', {}, still, 'same'],
    ['the fore, on each backdrop', two, fore(red), ['#ff0000 on #ffffff', '#ff0000 on #eeeeee']],
    ['the fore, in a way that cannot be told', {}, fore(null), 'unsure'],
    ['what lies behind', {}, back(blue), ['#000000 on #0000ff']],
    ['what lies behind, in a way that cannot be told', {}, back(null), 'unsure'],
    ['an opacity that it had', {}, { ...still, opacityOf: () => 1 }, 'same'],
    ['opacity', { foreOpacity: 0.5 }, { ...still, opacityOf: () => 1 }, ['#000000 on #ffffff']],
    ['the fore of what is half clear', { foreOpacity: 0.4 }, fore(red), ['#ff9999 on #ffffff']],
    ['the fore of a shadow that arrives by half', { share: 0.4 }, fore(red), ['#ff9999 on #ffffff']],
    ['a backdrop that was only seen', { backFixed: true }, back(blue), 'unsure'],
    [
      'the fore on a backdrop that was only seen',
      { ...two, backFixed: true },
      fore(red),
      ['#ff0000 on #ffffff', '#ff0000 on #eeeeee'],
    ],
    ['the fore that was only seen', fixed, fore(red), 'unsure'],
    ['what lies behind a fore that was only seen', fixed, back(blue), ['#123456 on #0000ff']],
    ['the same, where it shines through', { ...fixed, foreOpacity: 0.9 }, back(blue), 'unsure'],
    ['the same, where its colour does', { ...fixed, fore: written('#00000080') }, back(blue), 'unsure'],
    ['the same, where only part of it arrives', { ...fixed, share: 0.9 }, back(blue), 'unsure'],
    ['what is drawn anew', { ...fixed, ...two }, { ...fore(red), redraws: () => true }, ['#ff0000 on #ffffff']],
    [
      'what is drawn anew on nothing known',
      { ...fixed, ...two, back: [] },
      { ...fore(red), redraws: () => true },
      ['#ff0000 on #ffffff', '#ff0000 on #eeeeee'],
    ],
    ['a picture', { facts: { kind: 'picture', standing: '', edged: false } }, fore(red), 'same'],
    [
      'a picture whose filter goes',
      { facts: { kind: 'picture', standing: '', edged: false } },
      { ...still, clears: () => 'html' },
      [],
    ],
    // white behind is seen as black, red as cyan
    ['the fore under a filter', inverted, fore(red), ['#00ffff on #000000']],
    ['the fore above a filter', { ...inverted, isLifted: true }, fore(red), ['#ff0000 on #000000']],
    ['a filter that goes', inverted, { ...still, clears: () => 'html' }, ['#000000 on #ffffff']],
    ['another filter that goes', inverted, { ...still, clears: () => 'body' }, ['#ffffff on #000000']],
    ['a filter over a backdrop that was only seen', { ...inverted, backFixed: true }, fore(red), 'unsure'],
    ['a filter over what was only seen', { ...inverted, ...fixed }, { ...still, clears: () => 'html' }, 'unsure'],
  ])('%s', (_, facts, change, expected) => {
    expect(tell(made(facts), change)).toEqual(expected);
  });

  test('as it is: its fore on each backdrop', () => {
    expect(pairsOf(made(two))).toEqual([
      { fore: shown('#000000'), back: shown('#ffffff') },
      { fore: shown('#000000'), back: shown('#eeeeee') },
    ]);
  });

  test('through filters, innermost first', () => {
    expect(toHex(throughFilters([])(shown('#336699')))).toBe('#336699');
    const filters = ['brightness(.5)', 'invert(1)'].map((filter) => ({ selector: 'html', filter }));
    // 232 / 2 = 116, 255 − 116 = 139; 163 / 2 = 81.5 → 173.5; 61 / 2 = 30.5 → 224.5
    expect(toHex(throughFilters(filters)(shown('#e8a33d')))).toBe('#8baee1');
  });
});

describe('a sample in other colours', () => {
  const before = shown('#000000');
  const pair = (
    fore: string,
    back: string,
  ): { readonly fore: ReturnType<typeof shown>; readonly back: ReturnType<typeof shown> } => ({
    fore: shown(fore),
    back: shown(back),
  });
  const text = textRun({ color: '#000000', background: '#ffffff' });
  const byToken = { origin: { kind: 'token', property: '--ink', alpha: 1 } };

  test('text: contrast of each pair, divided by the margin', () => {
    const pairs = [pair('#777777', '#ffffff'), pair('#777777', '#000000')];
    // published (WCAG 2): #777777 on white is 4.48
    const on = (back: string): number => contrastRatio({ ink: shown('#777777'), background: shown(back) });
    expect(lowest(pairs)).toBeCloseTo(4.478, 3);
    expect(recoloredSample(before, text, { pairs }, 1.25)).toMatchObject({
      color: '#777777',
      background: '#ffffff',
      backgroundSpread: ['#ffffff', '#000000'],
      contrast: { min: on('#ffffff') / 1.25, max: on('#000000') / 1.25 },
      ink: text.ink,
    });
    const one = recoloredSample(before, text, { pairs: pairs.slice(1), painted: '--ink' }, 2);
    expect(one).toMatchObject({ backgroundSpread: ['#000000'], ink: byToken });
    expect(one?.kind === 'text' ? one.contrast : null).toEqual({ min: on('#000000') / 2, max: on('#000000') / 2 });
  });

  test('a graphic, a shadow, a picture', () => {
    const icon = graphic({ color: '#000000', against: '#ffffff' });
    expect(recoloredSample(before, icon, { pairs: [pair('#ffffff', '#000000')], painted: '--ink' }, 2)).toMatchObject({
      ...{ color: '#ffffff', against: '#000000', contrast: 10.5, paint: byToken },
    });
    const fall = recoloredSample(
      before,
      shadow({ color: '#000000', beneath: '#ffffff' }),
      { pairs: [pair('#ff0000', '#000000')] },
      1,
    );
    // published: L* 53.2 (with the four digits of WCAG) and OKLCH chroma .2577 of red; black has neither
    expect(fall).toMatchObject({ color: '#ff0000', beneath: '#000000' });
    expect(fall?.kind === 'shadow' ? [fall.lightnessGain, fall.chromaGain] : []).toEqual([
      expect.closeTo(53.23, 2),
      expect.closeTo(0.2577, 4),
    ]);
    const filters = ['html', 'body'].map((selector) => ({ selector, filter: 'invert(1)', origin: 'author' as const }));
    expect(recoloredSample(before, picture({ filters, luma: [1] }), { pairs: [], cleared: 'html' }, 1)).toMatchObject({
      filters: filters.slice(1),
      luma: [],
    });
  });

  test('nothing is left of a sample that is not known, or of no colours', () => {
    expect(recoloredSample(before, null, { pairs: [pair('#ffffff', '#000000')] }, 1)).toBeNull();
    expect(recoloredSample(before, text, { pairs: [] }, 1)).toBeNull();
  });

  test('a surface keeps the tone it was given as long as it stays on its side', () => {
    const face = surface({ color: '#101010', around: '#ffffff', tone: 'light' });
    const turned = (fore: string): Sample | null => recoloredSample(shown('#101010'), face, { pairs: [pair(fore, '#eeeeee')] }, 1);
    expect(turned('#202020')).toMatchObject({ color: '#202020', around: '#eeeeee', tone: 'light', chroma: 0, hueDeg: 0 });
    expect(turned('#202020')).toMatchObject({
      lightness: cieLightness(shown('#202020')),
      aroundLightness: cieLightness(shown('#eeeeee')),
      paint: face.paint,
    });
    // L* 50 lies between #767676 (49.6) and #787878 (50.4)
    expect(turned('#767676')).toMatchObject({ tone: 'light' });
    expect(turned('#787878')).toMatchObject({ tone: 'light' });
    const white = recoloredSample(shown('#f0f0f0'), { ...face, tone: 'light' }, { pairs: [pair('#767676', '#eeeeee')] }, 1);
    expect(white).toMatchObject({ tone: 'dark' });
    const dark = recoloredSample(shown('#101010'), { ...face, tone: 'dark' }, { pairs: [pair('#787878', '#eeeeee')] }, 1);
    expect(dark).toMatchObject({ tone: 'light' });
  });

  test('a colour is one number of 24 bits', () => {
    expect(codeOf(shown('#010203'))).toBe(0x010203);
    expect(codeOf(shown('#ffffff'))).toBe(0xffffff);
  });
});
