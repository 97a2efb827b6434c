// What each check says, whole: level, sentence, numbers. Derived: the numbers by the functions of `src/colour`, which are tested against
// published values; the bounds are the defaults in each check's own table, tried from both sides.
import { describe, expect, test } from 'vitest';
import type { Against, Check, GivenOptions } from '../../src/checks/check.ts';
import { defineCheck } from '../../src/checks/check.ts';
import { judgesFor } from '../../src/checks/configured-checks.ts';
import { graphicReaches, textReaches } from '../../src/checks/contrast-asked.ts';
import { flipped } from '../../src/checks/flipped.ts';
import { glow } from '../../src/checks/glow.ts';
import { graphicContrast } from '../../src/checks/graphic-contrast.ts';
import { invertedPicture } from '../../src/checks/inverted-picture.ts';
import { neon } from '../../src/checks/neon.ts';
import { optionFaults } from '../../src/checks/option-faults.ts';
import { separation } from '../../src/checks/separation.ts';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { unthemed } from '../../src/checks/unthemed.ts';
import { nameOf, rounded, showChroma, showLightness } from '../../src/checks/wording.ts';
import { equivalentLightness } from '../../src/colour/appearance.ts';
import type { Opaque } from '../../src/colour/color.ts';
import { opaque } from '../../src/colour/color.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { glareOn } from '../../src/colour/glare.ts';
import { cieLightness, fromOklch, toOklch } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Paint } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';
import { graphic, judge, picture, referenceOf, shadow, surface, textRun, view } from './made-samples.ts';

const seen = (text: string): Opaque => opaque(parseColor(text));
const lightness = (text: string): number => rounded(cieLightness(seen(text)), 1);
const place = { key: 'gauge', selector: '#gauge', rect: [0, 0, 200, 100] };
const paint = (color: string, origin: Paint['origin'] = { kind: 'literal' }, property = 'background-color'): Paint => ({
  property,
  color,
  origin,
});
const byToken = { kind: 'token', property: '--face', alpha: 1 } as const;

const levels = (...given: Parameters<typeof judge>): readonly string[] => judge(...given).map(({ level }) => level);

describe('unthemed', () => {
  const panel = surface({ color: '#ffffff', around: '#121212' });
  const before = surface({ color: '#ffffff', around: '#f5f7f9' });
  const said = (now: Sample, then: Sample, options: GivenOptions = {}): unknown =>
    judge(unthemed, [now], [then], options).map(({ level, message, measured, expected }) => [level, message, measured, expected]);

  test('of a surface', () => {
    expect(judge(unthemed, [panel], [before])).toEqual([
      {
        ...{ check: 'unthemed', level: 'warning', ...place },
        message: '#gauge kept #ffffff (background-color) from noon: it now differs by 95 L* from #121212 around it instead of 2.9.',
        measured: {
          ...{ color: '#ffffff', property: 'background-color', origin: 'literal', lightness: 100 },
          ...{ aroundLightness: lightness('#121212'), aroundLightnessInReference: lightness('#f5f7f9') },
        },
        expected: { color: 'a colour of the theme' },
      },
    ]);
  });

  test('of a text that can no longer be read, and of one that can though its ground turned', () => {
    const run = (color: string, background: string): Sample => textRun({ color, background });
    expect(said(run('#333333', '#121212'), run('#333333', '#ffffff'))).toEqual([
      [
        'warning',
        '“Quay 4” kept #333333 (color) from noon: it can no longer be read on #121212.',
        { color: '#333333', property: 'color', origin: 'literal' },
        { color: 'a colour of the theme' },
      ],
    ]);
    expect(said(run('#767676', '#000000'), run('#767676', '#ffffff'))).toEqual([
      [
        'note',
        '“Quay 4” kept #767676 (color) from noon: it can be read, but the background became #000000.',
        { color: '#767676', property: 'color', origin: 'literal' },
        { color: 'a colour of the theme' },
      ],
    ]);
    // Derived: #737373 reaches 4.35:1 on #f4f4f4 and 2.6:1 on #353535.
    const unread = '“Quay 4” kept #737373 (color) from noon: it cannot be read on #353535, nor on #f4f4f4 there.';
    expect(said(run('#737373', '#353535'), run('#737373', '#f4f4f4'))).toMatchObject([['note', unread, {}, {}]]);
    // Readable on both, and the ground stays dark though it became much darker: L* 45 and 0.
    expect(said(run('#ffffff', '#000000'), run('#ffffff', '#6a6a6a'))).toEqual([]);
    // As unreadable as it was; nothing is asked of it.
    expect(said(run('#6a6a6a', '#3a3a3a'), run('#6a6a6a', '#6a6a6a'))).toEqual([]);
    expect(said(textRun({ color: '#333333', background: '#121212', exempt: 'inactive' }), run('#333333', '#4f4f4f'))).toEqual([]);
    // The ground changed by L* 25 and by less.
    const on = (background: string, contrast: number): Sample =>
      textRun({ color: '#777777', background, contrast: { min: contrast, max: 9 } });
    expect(said(on('#121212', 4), on('#474747', 5))).toEqual([]);
    expect(said(on('#121212', 4), on('#4a4a4a', 5))).toHaveLength(1);
    expect(said(on('#121212', 4.5), on('#4a4a4a', 5))).toEqual([]);
    expect(said(on('#121212', 4), on('#4a4a4a', 4.5))).toHaveLength(1);
    expect(said(on('#121212', 4), on('#4a4a4a', 4.4))).toEqual([]);
  });

  test('of an icon that vanished, and of a hairline that became hard', () => {
    const icon = (against: string, contrast: number): Sample => graphic({ color: '#2d3a3f', against, contrast });
    expect(said(icon('#121212', 2.9), icon('#ffffff', 3))).toEqual([
      [
        'warning',
        '#gauge kept #2d3a3f (fill) from noon: it no longer stands out from #121212.',
        { color: '#2d3a3f', property: 'fill', origin: 'literal' },
        { color: 'a colour of the theme' },
      ],
    ]);
    expect(said(icon('#121212', 3), icon('#ffffff', 9))).toEqual([]);
    expect(said(icon('#121212', 2.9), icon('#ffffff', 2.9))).toEqual([]);
    expect(said(icon('#f0f0f0', 2.9), icon('#ffffff', 3))).toEqual([]);
    const line = (against: string, contrast: number): Sample =>
      graphic({ color: '#e3e8ea', against, contrast, role: 'border', exempt: 'decoration' });
    expect(said(line('#121212', 4), line('#ffffff', 1.9))).toEqual([
      [
        'warning',
        '#gauge kept #e3e8ea (fill) from noon: it is a hard line on #121212.',
        { color: '#e3e8ea', property: 'fill', origin: 'literal' },
        { color: 'a colour of the theme' },
      ],
    ]);
    expect(said(line('#121212', 3.9), line('#ffffff', 1.9))).toEqual([]);
    expect(said(line('#121212', 4), line('#ffffff', 2))).toEqual([]);
    // What must stand out may do so as much as it likes.
    expect(said(icon('#121212', 9), icon('#ffffff', 1.2))).toEqual([]);
  });

  test('bounds of surfaces: change around 25, standing out 15 more, chroma .08, near its page 30', () => {
    const at = (facts: Partial<ReturnType<typeof surface>>): ReturnType<typeof surface> => ({ ...panel, ...facts });
    const step = (now: number, then: number, moved: number): readonly string[] =>
      levels(
        unthemed,
        [at({ aroundLightness: 50, lightness: 50 + now })],
        [at({ aroundLightness: 50 + moved, lightness: 50 + moved + then })],
      );
    expect([step(30, 15, 25), step(30, 15, 24.9), step(29.9, 15, 25)]).toEqual([['warning'], [], []]);
    expect([step(-30, -15, -25), step(-45, 30, 25), step(-46, 31, 25)]).toEqual([['warning'], ['warning'], []]);
    const chroma = (value: number): readonly string[] => levels(unthemed, [at({ chroma: value })], [before]);
    expect([chroma(0.08), chroma(0.081)]).toEqual([['warning'], []]);
    const own = (value: number): readonly string[] =>
      levels(unthemed, [at({ paint: paint('#ffffff', byToken), area: value })], [before]);
    expect([own(0.01), own(0.0099)]).toEqual([['warning'], []]);
  });

  test('a colour is the same up to half of what is noticed; clear ones are no matter of it', () => {
    const kept = (now: string, then: string): readonly string[] =>
      levels(unthemed, [surface({ color: now, around: '#121212' })], [surface({ color: then, around: '#f5f7f9' })]);
    // OKLab: #fdfdfd is .006 from white, #fafafa .015
    expect([kept('#fdfdfd', '#ffffff'), kept('#fafafa', '#ffffff')]).toEqual([['warning'], []]);
    const clear = (alpha: string): readonly string[] =>
      levels(unthemed, [{ ...panel, paint: paint(`rgb(255 255 255 / ${alpha})`) }], [before]);
    expect([clear('.95'), clear('.94')]).toEqual([['warning'], []]);
    // What is no colour is told apart from every colour, and equals itself.
    const named = (now: string, then: string): readonly string[] =>
      levels(unthemed, [{ ...panel, color: now, paint: paint(now) }], [{ ...before, color: then }]);
    expect([named('sea', 'sea'), named('sea', '#ffffff'), named('#ffffff', 'sea')]).toEqual([['warning'], [], []]);
  });

  test('grounds that are no colours did not change', () => {
    const run = (background: string, contrast = 1): Sample => ({
      ...textRun({ color: '#333333', background: '#ffffff' }),
      ...{ background, contrast: { min: contrast, max: contrast } },
    });
    const good = (background: string): Sample => run(background, 9);
    expect(levels(unthemed, [run('sea')], [good('#ffffff')])).toEqual([]);
    expect(levels(unthemed, [run('#ffffff')], [good('sea')])).toEqual([]);
    expect(levels(unthemed, [run('#000000')], [good('#ffffff')])).toEqual(['warning']);
  });

  describe('the page itself', () => {
    const page = surface({
      color: '#ffffff',
      around: '#ffffff',
      role: 'canvas',
      key: 'html',
      selector: 'html',
      paint: paint('#ffffff', byToken),
    });
    const photo = picture({ key: 'photo', luma: [0.5, 0.5] });
    const run = textRun({ key: 'run', color: '#333333', background: '#ffffff' });
    const dot = graphic({ key: 'dot', color: '#333333', against: '#ffffff' });
    const card = surface({ key: 'card', color: '#fafafa', around: '#ffffff', paint: paint('#fafafa', byToken), area: 0.001 });
    const fall = shadow({ key: 'fall', color: '#999999', beneath: '#ffffff' });
    const told = (now: readonly Sample[], then: readonly Sample[]): readonly string[] =>
      judge(unthemed, now, then).map(({ message, expected }) => `${message} ${String(expected['color'])}`);
    const WHOLE = ['html kept #ffffff (background-color) from noon: it is the whole page: the theme did not reach it. a dark page'];

    test('is told where not one colour differs, whatever paints it', () => {
      for (const others of [[], [run], [dot], [card], [fall], [photo, run], [photo, dot]])
        expect(told([page, ...others], [page, ...others]), others.map(({ key }) => key).join()).toEqual(WHOLE);
    });

    test('is not told of a page that is nothing but a picture', () => {
      expect(told([page, photo], [page, photo])).toEqual([]);
      const literal = { ...page, paint: paint('#ffffff') };
      expect(told([literal, photo], [literal, photo])).toEqual([]);
      expect(told([literal, photo, card], [literal, photo, card])).toEqual([]);
      expect(told([literal], [literal])).toEqual(WHOLE);
    });

    test.each<[string, Sample, Sample]>([
      ['an ink', run, { ...run, color: '#555555' }],
      ['a ground', run, { ...run, background: '#eeeeee' }],
      ['a surface', card, { ...card, color: '#eeeeee' }],
      ['what is around one', card, { ...card, around: '#eeeeee' }],
      ['an icon', dot, { ...dot, color: '#555555' }],
      ['what is behind one', dot, { ...dot, against: '#eeeeee' }],
      ['a shadow', fall, { ...fall, color: '#777777' }],
      ['a picture', photo, { ...photo, source: 'night.jpg' }],
      ['the light of a picture', photo, { ...photo, luma: [0.5, 0.511] }],
    ])('is not told where %s differs', (_, now, then) => {
      expect(told([page, run, now], [page, run, then])).toEqual([]);
      expect(told([page, run, then], [page, run, now])).toEqual([]);
    });

    test('differences that nobody sees are none', () => {
      const same: readonly (readonly [Sample, Sample])[] = [
        [run, { ...run, color: '#343434' }],
        [photo, { ...photo, luma: [0.5, 0.509] }],
        // of pictures that were not read, nothing is known
        [photo, { ...photo, luma: [] }],
        [
          { ...photo, luma: [] },
          { ...photo, luma: [] },
        ],
        // another thing at the same place
        [run, { ...dot, key: 'run' }],
      ];
      for (const [now, then] of same) expect(told([page, run, dot, now], [page, run, dot, then])).toEqual(WHOLE);
    });

    test('is told only where half of the places can be compared', () => {
      const other = (key: string): Sample => ({ ...run, key });
      expect(told([page, run, other('a'), other('b')], [page, run])).toEqual(WHOLE);
      expect(told([page, run, other('a'), other('b'), other('c')], [page, run])).toEqual([]);
      expect(told([page, run], [page, run, other('a'), other('b'), other('c')])).toEqual([]);
    });

    test('is not told where it stays on purpose, or has the tone of its theme', () => {
      const staying = { ...page, stay: 'light' } as const;
      expect(told([staying], [staying])).toEqual([]);
      expect(judge(unthemed, [page], [page], {}, 'light')).toEqual([]);
      const dark = surface({ color: '#121212', around: '#121212', role: 'canvas' });
      expect(told([dark], [dark])).toEqual([]);
    });
  });

  test('a frame that the browser paints', () => {
    const frame = surface({ color: '#ffffff', around: '#121212', paint: paint('#ffffff', { kind: 'system' }) });
    expect(judge(unthemed, [frame], [])).toEqual([
      {
        ...{ check: 'unthemed', level: 'warning', ...place },
        message:
          '#gauge is #ffffff: it is painted by the browser, since its document has no background and no color-scheme of #121212 around it.',
        measured: { color: '#ffffff', property: 'background-color', origin: 'system' },
        expected: { color: 'a dark frame' },
      },
    ]);
    for (const facts of [{ stay: 'light' }, { role: 'control' }, { paint: paint('#ffffff') }, { tone: 'dark' }] as const)
      expect(judge(unthemed, [{ ...frame, ...facts }], [])).toEqual([]);
    expect(judge(unthemed, [frame], [], {}, 'light')).toEqual([]);
    expect(
      judge(unthemed, [textRun({ color: '#ffffff', background: '#121212', ink: paint('#ffffff', { kind: 'system' }) })], []),
    ).toEqual([]);
  });

  describe('peers', () => {
    const peer = (color: string, key: string, origin: Paint['origin'] = byToken): ReturnType<typeof surface> =>
      surface({ color, around: '#ffffff', key, area: 0.001, paint: paint(color, origin) });
    const own = surface({ color: '#2a7f8c', around: '#ffffff' });
    const told = (
      changed: number,
      kept: number,
      over: { readonly own?: Sample; readonly origin?: Paint['origin']; readonly to?: string; readonly peer?: string } = {},
    ): readonly string[] => {
      const { own: left = own, origin, to = '#a8432f', peer: of = '#2a7f8c' } = over;
      const keys = Array.from({ length: changed + kept }, (_, i) => `p${String(i)}`);
      return judge(
        unthemed,
        [left, ...keys.map((key, i) => peer(i < changed ? to : of, key, origin))],
        [left, ...keys.map((key) => peer(of, key, origin))],
        {},
        'light',
      ).map(({ message, expected }) => `${message} ${String(expected['color'])}`);
    };
    const LEFT = (count: number): readonly string[] => [
      `#gauge kept #2a7f8c (background-color) from noon: it stayed where ${String(count)} others of that colour became #a8432f. #a8432f`,
    ];

    test('that all changed leave a literal behind; a quarter of them may have kept', () => {
      expect([told(1, 0), told(2, 0), told(4, 1), told(4, 2)]).toEqual([[], LEFT(2), LEFT(4), []]);
    });

    test('must be of the kind and the colour, through tokens, and have changed visibly', () => {
      expect(told(2, 0, { origin: { kind: 'derived', properties: ['--a'] } })).toEqual(LEFT(2));
      expect(told(2, 0, { origin: { kind: 'inferred', token: 'a' } })).toEqual([]);
      expect(told(2, 0, { peer: '#2a7f9c' })).toEqual([]);
      expect(told(2, 0, { to: '#2a8a98' })).toEqual([]);
      expect(told(2, 0, { own: graphic({ color: '#2a7f8c', against: '#ffffff' }) })).toEqual([]);
    });

    test('leave neutrals, pictures and what stays on purpose alone', () => {
      expect(told(2, 0, { own: { ...own, stay: 'dark' } })).toEqual([]);
      expect(told(2, 0, { own: { ...own, fill: 'picture' } })).toEqual([]);
      expect(told(2, 0, { own: { ...own, role: 'chart' } })).toEqual([]);
      expect(told(2, 0, { own: { ...own, role: 'pseudo' } })).toEqual(LEFT(2));
      expect(told(2, 0, { own: { ...own, role: 'control' } })).toEqual(LEFT(2));
      expect(told(2, 0, { own: { ...own, paint: paint('#2a7f8c', { kind: 'system' }) } })).toEqual([]);
      const grey = surface({ color: '#7a7f80', around: '#ffffff' });
      expect(told(2, 0, { own: grey, peer: '#7a7f80' })).toEqual([]);
    });
  });
});

describe('glow', () => {
  const lit = shadow({ color: '#0e444a', beneath: '#121212', lightnessGain: 6, chromaGain: 0.01 });

  test('whole', () => {
    expect(judge(glow, [{ ...lit, lightnessGain: 6.126, chromaGain: 0.0125 }], null)).toEqual([
      {
        ...{ check: 'glow', level: 'warning', ...place },
        message:
          'The box shadow of #gauge glows: #0e444a at the strongest place is 6.1 L* lighter than #121212 beneath; a shadow should be darker.',
        measured: { lightnessGain: 6.13, chromaGain: 0.013, color: '#0e444a', beneath: '#121212', blur: 12 },
        expected: { lightnessGain: 0 },
      },
    ]);
    const named = (property: 'text-shadow' | 'drop-shadow'): string | undefined =>
      judge(glow, [{ ...lit, property }], null)[0]?.message;
    expect(named('text-shadow')).toMatch(/^The text shadow of /);
    expect(named('drop-shadow')).toMatch(/^The drop shadow of /);
  });

  test('bounds: a gain of 2 is a note, of 5 a warning; .5 is enough with a chroma of .04; blur 2, reach 6', () => {
    const at = (facts: Partial<typeof lit>): readonly string[] => levels(glow, [{ ...lit, ...facts }], null);
    expect([1.9, 2, 4.9, 5].map((lightnessGain) => at({ lightnessGain }))).toEqual([[], ['note'], ['note'], ['warning']]);
    expect(at({ lightnessGain: 0.51, chromaGain: 0.04 })).toEqual(['note']);
    expect(at({ lightnessGain: 0.5, chromaGain: 0.04 })).toEqual([]);
    expect(at({ lightnessGain: 0.51, chromaGain: 0.039 })).toEqual([]);
    expect([1.9, 2].map((blur) => at({ blur, spread: 10 }))).toEqual([[], ['warning']]);
    expect(at({ blur: 3, spread: 1, offset: [0, -2] })).toEqual(['warning']);
    expect(at({ blur: 3, spread: 1, offset: [2, 1] })).toEqual(['warning']);
    expect(at({ blur: 3, spread: 1, offset: [-1.9, 1] })).toEqual([]);
    expect(at({ blur: 3, spread: 0, offset: [0, 0], inset: true })).toEqual(['warning']);
    expect(at({ blur: 3, spread: 0, offset: [0, 0], property: 'text-shadow' })).toEqual(['warning']);
    expect(at({ lightnessGain: 0 })).toEqual([]);
    const standing = (facts: Partial<typeof lit>): string => glow.with().standing({ ...lit, ...facts });
    expect([standing({}), standing({ blur: 1 })]).toEqual(['soft', '']);
  });

  test('a light reference theme is not judged; elsewhere what glows as much there is meant', () => {
    expect(judge(glow, [lit], null, {}, 'light')).toEqual([]);
    const against = (then: number, key = 'gauge'): readonly string[] =>
      levels(glow, [lit], [{ ...lit, key, paint: paint('#010101'), lightnessGain: then }]);
    expect([against(1.9), against(2), against(1)]).toEqual([['warning'], [], ['warning']]);
    const more = (now: number, then: number): readonly string[] =>
      levels(glow, [{ ...lit, lightnessGain: now }], [{ ...lit, paint: paint('#010101'), lightnessGain: then }]);
    expect([more(9, 4), more(9.1, 4)]).toEqual([[], ['warning']]);
  });

  test.each<[string, Partial<typeof lit>, readonly string[]]>([
    ['the same declaration', {}, []],
    ['another property', { property: 'text-shadow' }, ['warning']],
    ['another blur', { blur: 13 }, ['warning']],
    ['another spread', { spread: 1 }, ['warning']],
    ['another offset across', { offset: [1, 4] }, ['warning']],
    ['another offset down', { offset: [0, 5] }, ['warning']],
    ['an inset one', { inset: true }, ['warning']],
    ['another colour', { paint: paint('#00ff00') }, ['warning']],
    ['a weaker one', { lightnessGain: 4.9 }, ['warning']],
    ['one that just shines', { lightnessGain: 5 }, []],
  ])('what shines somewhere in the reference theme is meant to: %s', (_, facts, expected) => {
    expect(levels(glow, [lit], [{ ...lit, key: 'elsewhere', ...facts }])).toEqual(expected);
  });

  test('equal ones are told at the place where they glow most; of equals at the first key', () => {
    const at = (key: string, lightnessGain: number): typeof lit => ({ ...lit, key, selector: `#${key}`, lightnessGain });
    const [found, ...others] = judge(glow, [at('b', 6), at('c', 7), at('a', 7)], null);
    expect(others).toEqual([]);
    expect(found).toMatchObject({ key: 'a', measured: { count: 3, lightnessGain: 7 } });
    expect(found?.message).toMatch(/beneath; a shadow should be darker; 2 more places have the same shadow\.$/);
  });

  test('shadows of one list that glow in sum say so', () => {
    const part = (key: string, lightnessGain: number, selector = '#gauge'): typeof lit => ({
      ...lit,
      key,
      selector,
      lightnessGain,
    });
    const [found, ...others] = judge(glow, [part('a', 0.8), part('b', 1.2)], null);
    expect(others).toEqual([]);
    expect(found).toMatchObject({ key: 'b', level: 'note', measured: { lightnessGain: 2 } });
    expect(found?.message).toMatch(
      /^The 2 shadows together \(box shadow\) of #gauge glow: #0e444a at the strongest place is 2\.0 L\*/,
    );
    expect(judge(glow, [part('a', 0.79), part('b', 1.2)], null)).toEqual([]);
    // of two elements, or with one that glows alone, they are no sum
    expect(judge(glow, [part('a', 1), part('b', 1.2, '#other')], null)).toEqual([]);
    expect(judge(glow, [part('a', 1.9), part('b', 6)], null)).toMatchObject([{ key: 'b', measured: { lightnessGain: 6 } }]);
  });
});

describe('flipped', () => {
  const menu = surface({ color: '#d8e4e8', around: '#121212', rect: [0, 0, 220, 300] });
  const before = surface({ color: '#16323a', around: '#ffffff', rect: [0, 0, 220, 300] });
  const said = (now: Sample, then: Sample): unknown =>
    judge(flipped, [now], [then]).map(({ level, message, measured, expected }) => [level, message, measured, expected]);

  test('that left its tone, that drifted, that swapped', () => {
    expect(said({ ...menu, stay: 'dark' }, { ...before, stay: 'dark' })).toEqual([
      [
        'error',
        `#gauge should stay dark in every theme; here it is light (#d8e4e8, L* ${showLightness(menu.lightness)}).`,
        { color: '#d8e4e8', lightness: lightness('#d8e4e8'), tone: 'light' },
        { tone: 'dark' },
      ],
    ]);
    const [far, near] = [
      surface({ color: '#4d6a72', around: '#121212', stay: 'dark' }),
      surface({ color: '#0d1a1f', around: '#ffffff', stay: 'dark' }),
    ];
    const drift = showLightness(far.lightness - near.lightness);
    expect(said(far, near)).toEqual([
      [
        'warning',
        `#gauge stays dark, but its lightness is ${drift} L* off: #4d6a72 here, #0d1a1f in noon; at most 15 would look the same.`,
        { color: '#4d6a72', lightness: lightness('#4d6a72'), tone: 'dark', lightnessInReference: lightness('#0d1a1f') },
        { tone: 'dark', drift: 15 },
      ],
    ]);
    expect(said(menu, before)).toEqual([
      [
        'note',
        '#gauge is dark on a light page in noon (#16323a) and became light on a dark page in dusk (#d8e4e8); if it should keep its tone, list it under "stay".',
        { color: '#d8e4e8', lightness: lightness('#d8e4e8'), lightnessInReference: lightness('#16323a') },
        { tone: 'dark' },
      ],
    ]);
  });

  test('bounds: drift 15, difference 35, area .01, chroma .1, tones at L* 50', () => {
    const at = (facts: Partial<typeof menu>, then: Partial<typeof menu> = {}): readonly string[] =>
      levels(flipped, [{ ...menu, ...facts }], [{ ...before, ...then }]);
    const stay = (now: number, then: number): readonly string[] =>
      at({ stay: 'dark', tone: 'dark', lightness: now }, { tone: 'dark', lightness: then });
    expect([stay(30, 15), stay(30.1, 15), stay(15, 30.1)]).toEqual([[], ['warning'], ['warning']]);
    expect(at({ stay: 'dark', tone: 'dark', lightness: 40 }, { tone: 'light', lightness: 60 })).toEqual([]);
    const step = (now: number, then: number): readonly string[] =>
      at({ aroundLightness: 5, lightness: 5 + now }, { aroundLightness: 95, lightness: 95 - then });
    expect([step(35, 35), step(34.9, 35), step(35, 34.9)]).toEqual([['note'], [], []]);
    expect([at({ area: 0.01 }), at({ area: 0.0099 })]).toEqual([['note'], []]);
    expect([at({ chroma: 0.1 }), at({ chroma: 0.101 }), at({}, { chroma: 0.101 })]).toEqual([['note'], [], []]);
    expect([at({ aroundLightness: 49.9 }), at({ aroundLightness: 50 })]).toEqual([['note'], []]);
    expect([at({}, { aroundLightness: 60 }), at({}, { aroundLightness: 49 })]).toEqual([['note'], []]);
    expect([at({ role: 'pseudo' }), at({ fill: 'picture' }), at({ tone: 'dark' })]).toEqual([['note'], [], []]);
  });
});

describe('separation', () => {
  const said = (now: Partial<ReturnType<typeof surface>>, then: Partial<ReturnType<typeof surface>> | null): unknown => {
    const [one, other] = [
      { color: '#1f1f1f', around: '#1e1e1e', ...now },
      { color: '#f0f3f5', around: '#ffffff', ...then },
    ];
    return judge(separation, [surface(one)], then === null ? [] : [surface(other)]).map(
      ({ level, message }) => `${level}: ${message}`,
    );
  };
  const step = (one: string, other: string): string => showLightness(Math.abs(cieLightness(seen(one)) - cieLightness(seen(other))));

  test('whole', () => {
    const [found] = judge(
      separation,
      [surface({ color: '#1f1f1f', around: '#1e1e1e' })],
      [surface({ color: '#f0f3f5', around: '#ffffff' })],
    );
    expect(found).toMatchObject({ check: 'separation', level: 'warning', ...place });
    expect(said({}, {})).toEqual([
      `warning: #gauge (#1f1f1f) differs by ${step('#1f1f1f', '#1e1e1e')} L* from what is around it (#1e1e1e), ${step('#f0f3f5', '#ffffff')} in noon: the step vanished and no edge replaces it.`,
    ]);
    expect(said({ color: '#3a3a3a', around: '#121212' }, { color: '#ffffff', around: '#f5f7f9' })).toEqual([
      `warning: #gauge (#3a3a3a) differs by ${step('#3a3a3a', '#121212')} L* from what is around it (#121212), ${step('#ffffff', '#f5f7f9')} in noon: too hard a step.`,
    ]);
    expect(said({ color: '#5c5c5c', around: '#121212' }, null)).toEqual([
      `note: #gauge (#5c5c5c) differs by ${step('#5c5c5c', '#121212')} L* from what is around it (#121212); noon has no such element to compare with.`,
    ]);
  });

  // The colours are far apart in neither theme; only the lightnesses that are given count.
  const parted = (
    now: number,
    then: number,
    facts: { readonly now?: Partial<ReturnType<typeof surface>>; readonly then?: Partial<ReturnType<typeof surface>> } = {},
  ): readonly string[] =>
    levels(
      separation,
      [surface({ color: '#1f1f1f', around: '#1e1e1e', aroundLightness: 10, lightness: 10 + now, ...facts.now })],
      [surface({ color: '#f0f3f5', around: '#ffffff', aroundLightness: 90, lightness: 90 - then, ...facts.then })],
    );

  test('bounds of what is harsh: 15 at least, 1.75 times the step there and 4 more, 30 instead of an edge', () => {
    expect([parted(15, 1), parted(14.9, 1)]).toEqual([['warning'], []]);
    expect([parted(21.5, 10), parted(21.4, 10)]).toEqual([['warning'], []]);
    const edge = { then: { edge: { kind: 'border', color: '#000000' } } } as const;
    expect([parted(30, 1.9, edge), parted(29.9, 1.9, edge), parted(29.9, 2, edge)]).toEqual([['warning'], [], ['warning']]);
    expect([parted(40, 1, { now: { role: 'control' } }), parted(40, 1, { now: { stay: 'dark' } })]).toEqual([[], []]);
    expect([parted(40, 1, { now: { chroma: 0.05 } }), parted(40, 1, { now: { chroma: 0.051 } })]).toEqual([['warning'], []]);
    expect(parted(40, 1, { then: { chroma: 0.051 } })).toEqual([]);
    expect(parted(40, 1, { now: { around: '#2f4f8f' } })).toEqual([]);
    // what turned over by more than 35 is another check's matter
    expect([
      parted(90, 35, { now: { tone: 'light' }, then: { tone: 'dark' } }),
      parted(90, 35.1, { now: { tone: 'light' }, then: { tone: 'dark' } }),
    ]).toEqual([['warning'], []]);
    expect(parted(90, 35.1, { now: { tone: 'light' }, then: { tone: 'light' } })).toEqual(['warning']);
  });

  test('bounds of what vanished: a step of 2 there, 40 % of it, 1.5 at least and 3 at most', () => {
    expect([parted(1.4, 2), parted(1.4, 1.9), parted(1.5, 2)]).toEqual([['warning'], [], []]);
    expect([parted(1.9, 5), parted(2, 5), parted(2.9, 50), parted(3, 50)]).toEqual([['warning'], [], ['warning'], []]);
    expect(parted(1, 5, { now: { color: '#30230e', around: '#182629' } })).toEqual([]);
  });

  test('bounds of both: area .002, three quarters of the ring', () => {
    expect([parted(1, 5, { now: { area: 0.002 } }), parted(1, 5, { now: { area: 0.0019 } })]).toEqual([['warning'], []]);
    expect([parted(1, 5, { now: { aroundShare: 0.75 } }), parted(1, 5, { now: { aroundShare: 0.74 } })]).toEqual([['warning'], []]);
  });

  test('where several things touched it in the reference theme, a step is told only of an edge that is no shadow', () => {
    const there = (aroundShare: number, kind?: 'border' | 'shadow'): readonly string[] =>
      parted(1, 5, { then: { aroundShare, ...(kind === undefined ? {} : { edge: { kind, color: '#d0d0d0' } }) } });
    expect([there(0.75), there(0.74), there(0.74, 'border'), there(0.75, 'shadow')]).toEqual([
      ['warning'],
      ['warning'],
      ['warning'],
      ['warning'],
    ]);
    expect(there(0.74, 'shadow')).toEqual(['note']);
  });

  test('without a counterpart only a dark theme is judged', () => {
    const alone = surface({ color: '#5c5c5c', around: '#121212' });
    expect([judge(separation, [alone], []).length, judge(separation, [alone], [], {}, 'light').length]).toEqual([1, 0]);
  });

  test('an edge keeps two apart only where it differs from both by 4', () => {
    // L* of #1c1c1c, #222222, #282828 and #343434: 9.9, 12.7, 15.5 and 21.2
    const edged = (color: string): number =>
      judge(
        separation,
        [surface({ color: '#1c1c1c', around: '#222222', edge: { kind: 'border', color } })],
        [surface({ color: '#ffffff', around: '#d0d0d0' })],
      ).length;
    expect([edged('#222222'), edged('#282828'), edged('#343434')]).toEqual([1, 1, 0]);
  });

  test('the uppermost stands for its like; of equals the first key', () => {
    const row = (key: string, y: number): ReturnType<typeof surface> =>
      surface({ color: '#1f1f1f', around: '#1e1e1e', key, rect: [0, y, 200, 100] });
    const was = (key: string): ReturnType<typeof surface> => surface({ color: '#f0f3f5', around: '#ffffff', key });
    const found = judge(separation, [row('c', 9), row('b', 3), row('a', 3)], ['a', 'b', 'c'].map(was));
    expect(found).toMatchObject([{ key: 'a', measured: { count: 3 } }]);
    expect(found[0]?.message).toMatch(/; 2 more like it beside it\.$/);
  });
});

describe('neon', () => {
  const GROUND = '#121212';
  const fillOf = (color: string, rect: Rect = [0, 0, 400, 100]): ReturnType<typeof surface> =>
    surface({ color, around: GROUND, rect });
  const rise = (color: string, ground = GROUND): number => equivalentLightness(seen(color)) - equivalentLightness(seen(ground));

  test('whole, with and without something to compare with', () => {
    const [now, then] = [fillOf('#00e5ff'), surface({ color: '#00e5ff', around: '#ffffff', rect: [0, 0, 400, 100] })];
    const { colourfulness, strength } = glareOn({ color: seen('#00e5ff'), ground: seen(GROUND) });
    const there = glareOn({ color: seen('#00e5ff'), ground: seen('#ffffff') });
    const { chroma } = toOklch(seen('#00e5ff'));
    const [found] = judge(neon, [now], [then]);
    const { chroma: calm = 0, color = '' } = found?.expected ?? {};
    expect(found).toEqual({
      ...{ check: 'neon', level: 'warning', key: 'gauge', selector: '#gauge', rect: [0, 0, 400, 100] },
      message: `#gauge glares: #00e5ff looks ${rise('#00e5ff').toFixed(0)} L* lighter than the dark ground #121212, ${showLightness(Math.abs(rise('#00e5ff', '#ffffff')))} in noon; a chroma of ${Number(calm).toFixed(3)} instead of ${chroma.toFixed(3)} would be calm, e.g. ${String(color)}.`,
      measured: {
        ...{ color: '#00e5ff', ground: GROUND, chroma: rounded(chroma), rise: rounded(rise('#00e5ff'), 1) },
        ...{ colourfulness: rounded(colourfulness, 1), glare: rounded(strength, 1) },
        riseInReference: rounded(rise('#00e5ff', '#ffffff'), 1),
        colourfulnessInReference: rounded(there.colourfulness, 1),
      },
      // an area of 40,000 px²: 101 − 16 × log10(4)
      expected: { chroma: calm, color, glare: 91.4 },
    });
    const [alone] = judge(neon, [now], []);
    expect(alone?.level).toBe('note');
    expect(alone?.message).toContain(' ground #121212 (noon has no such element to compare with); a chroma');
    expect(alone?.measured).not.toHaveProperty('riseInReference');
    expect(alone?.measured).not.toHaveProperty('colourfulnessInReference');
    expect(judge(neon, [now], null)[0]?.message).toContain(' ground #121212; a chroma');
    // what is no colour there is nothing to compare with
    expect(judge(neon, [now], [{ ...then, color: 'sea' }])[0]).toMatchObject({ level: 'note' });
    expect(judge(neon, [now], [{ ...then, around: 'sea' }])[0]).toMatchObject({ level: 'note' });
  });

  // The rule: the largest chroma, in thousandths, whose 8-bit colour clears one of the three bounds by 3.
  test.each([
    ['#00e5ff', [0, 0, 400, 100], null],
    ['#ff333c', [0, 0, 1200, 100], null],
    ['#ff333c', [0, 0, 1200, 100], '#ffffff'],
    ['#39ff14', [0, 0, 100, 100], '#808080'],
    ['#e9cf06', [0, 0, 1000, 1000], '#f8f8f8'],
    ['#f201c3', [0, 0, 300, 100], '#d0d0d0'],
  ] as const)('%s, %j, calm by a chroma that is the largest that clears a bound', (color, rect, around) => {
    const then = around === null ? [] : [surface({ color, around })];
    const [found] = judge(neon, [fillOf(color, rect)], then);
    const area = Math.min(100_000, rect[2] * rect[3]);
    const before = around === null ? 0 : Math.abs(rise(color, around)) + 20;
    const { okLightness, hueDeg } = toOklch(seen(color));
    const at = (chroma: number): string => toHex(fromOklch({ okLightness, chroma, hueDeg }));
    const isCalm = (tried: string): boolean => {
      const { colourfulness, strength } = glareOn({ color: seen(tried), ground: seen(GROUND) });
      return colourfulness < 52 || strength < 98 - 16 * Math.log10(area / 10_000) || rise(tried) < Math.max(50, before) - 3;
    };
    const calm = Number(found?.expected['chroma']);
    expect(found?.expected['color']).toBe(at(calm));
    expect(isCalm(at(calm))).toBe(true);
    expect(isCalm(at(calm + 0.001))).toBe(false);
  });

  test('bounds: ground 35, ring .4, side 16, growth 20, small ones in sum of .01', () => {
    const at = (facts: Partial<ReturnType<typeof surface>>): readonly string[] =>
      levels(neon, [{ ...fillOf('#00e5ff'), ...facts }], []);
    expect([at({ aroundLightness: 35 }), at({ aroundLightness: 35.1 })]).toEqual([['note'], []]);
    expect([at({ aroundShare: 0.4 }), at({ aroundShare: 0.39 })]).toEqual([['note'], []]);
    expect([at({ rect: [0, 0, 16, 1000] }), at({ rect: [0, 0, 15.9, 1000] })]).toEqual([['note'], []]);
    expect([at({ rect: [0, 0, 1000, 16] }), at({ rect: [0, 0, 1000, 15.9] })]).toEqual([['note'], []]);
    expect([at({ role: 'control' }), at({ role: 'pseudo' }), at({ role: 'chart' }), at({ fill: 'picture' })]).toEqual([
      ['note'],
      ['note'],
      [],
      [],
    ]);
    expect(at({ around: 'sea' })).toEqual([]);
    expect(judge(neon, [fillOf('#00e5ff')], null, {}, 'light')).toEqual([]);
    const small = (count: number, area: number): readonly string[] =>
      levels(
        neon,
        Array.from({ length: count }, (_, i) => ({ ...fillOf('#00e5ff', [0, 0, 30, 30]), key: `k${String(i)}`, area })),
        [],
      );
    expect([small(2, 0.005), small(2, 0.0049)]).toEqual([['note'], []]);
    const standing = (rect: Rect): string => neon.with().standing(fillOf('#00e5ff', rect));
    // 1500 px² are large: 101 − 16 × log10(.15) = 114; a page of them 85; ten more pages no less
    const rects: readonly Rect[] = [
      [0, 0, 30, 50],
      [0, 0, 30, 49],
      [0, 0, 1000, 100],
      [0, 0, 1000, 1000],
      [0, 0, 10, 900],
    ];
    expect(rects.map(standing)).toEqual([...['large114', 'small', 'large85', 'large85', '']]);
  });

  test('of many places of one colour the worst is told, with their number; another colour is told apart, the worst first', () => {
    const at = (key: string, color: string, width: number): ReturnType<typeof surface> => ({
      ...fillOf(color, [0, 0, width, 100]),
      key,
      selector: `#${key}`,
    });
    const found = judge(
      neon,
      [at('a', '#39ff14', 300), at('c', '#00e5ff', 400), at('b', '#00e5ff', 900), at('d', '#00e5ff', 900)],
      [],
    );
    expect(found.map(({ key, measured }) => [key, measured['count']])).toEqual([
      ['b', 3],
      ['a', undefined],
    ]);
    expect(found[0]?.message).toMatch(/^#b and 2 more of its colour glares: /);
  });

  test('of a gradient the most frequent colourful colour counts where half of it is colourful', () => {
    const of = (...shares: readonly (readonly [string, number])[]): readonly unknown[] =>
      judge(
        neon,
        [{ ...fillOf('#777777'), fill: 'gradient', palette: shares.map(([color, share]) => ({ color, share })) }],
        [],
      ).map(({ measured }) => measured['color']);
    expect(of(['#222222', 0.5], ['#00e5ff', 0.3], ['#39ff14', 0.2])).toEqual(['#00e5ff']);
    expect(of(['#222222', 0.51], ['#00e5ff', 0.29], ['#39ff14', 0.2])).toEqual([]);
    expect(of(['sea', 0.5], ['#00e5ff', 0.5])).toEqual(['#00e5ff']);
  });
});

describe('contrast of text', () => {
  test.each([
    [{ min: 4.5, max: 4.5 }, 'pass'],
    [{ min: 4.49, max: 4.5 }, 'mixed'],
    [{ min: 4.49, max: 4.49 }, 'fail'],
    [{ min: 4.4, max: 9 }, 'mixed'],
  ])('%j of 4.5: %s', (contrast, expected) => {
    expect(textReaches({ contrast }, 4.5)).toBe(expected);
  });

  test('graphics pass from their bound on, and where the browser drew them', () => {
    expect([3, 2.99].map((contrast) => graphicReaches({ contrast }, 3))).toEqual(['pass', 'fail']);
    expect(graphicReaches({ contrast: 1, byBrowser: true }, 3)).toBe('pass');
  });

  test('whole', () => {
    const run = textRun({ color: '#999999', background: '#ffffff', contrast: { min: 2.849, max: 2.849 }, fontSize: 16.256 });
    expect(judge(textContrast, [run], [{ ...run, contrast: { min: 7.1234, max: 8 } }])).toEqual([
      {
        ...{ check: 'text-contrast', level: 'error', ...place },
        message: '“Quay 4” has a contrast of 2.84 (#999999 on #ffffff); it needs 4.5.',
        measured: {
          ...{ contrast: 2.849, ink: '#999999', background: '#ffffff', fontSize: 16.26, fontWeight: 400 },
          contrastInReference: 7.123,
        },
        expected: { contrast: 4.5 },
      },
    ]);
    const said = (facts: Partial<typeof run>, options: GivenOptions = {}): unknown =>
      judge(textContrast, [{ ...run, ...facts }], null, options).map(({ level, message, measured }) => [
        level,
        message,
        measured['contrastAtBest'],
      ]);
    expect(said({ contrast: { min: 2.5, max: 2.5 }, large: true })).toEqual([
      ['error', '“Quay 4” has a contrast of 2.50 (#999999 on #ffffff); it needs 3 for large text.', undefined],
    ]);
    expect(said({ contrast: { min: 2.5, max: 6.12345 } })).toEqual([
      [
        'warning',
        '“Quay 4” has a contrast of 2.50 at its worst place (#999999 on #ffffff) and 6.12 at its best; it needs 4.5 everywhere.',
        6.123,
      ],
    ]);
    expect(said({ contrast: { min: 2.5, max: 6 }, large: true }, { level: 'AAA' })).toEqual([
      [
        'warning',
        '“Quay 4” has a contrast of 2.50 at its worst place (#999999 on #ffffff) and 6.00 at its best; it needs 4.5 for large text everywhere.',
        6,
      ],
    ]);
    expect(said({ contrast: { min: 1.04, max: 1.049 } })).toEqual([
      ['error', '“Quay 4” cannot be seen: its ink #999999 equals its background #ffffff.', undefined],
    ]);
    expect(said({ contrast: { min: 1.04, max: 1.05 } })).toEqual([
      ['error', '“Quay 4” has a contrast of 1.04 (#999999 on #ffffff); it needs 4.5.', undefined],
    ]);
    expect([said({ unread: 'a video' }), said({ exempt: 'behind' })]).toEqual([[], []]);
    expect([true, false].map((large) => textContrast.with().standing({ ...run, large }))).toEqual(['large', '']);
  });
});

describe('contrast of graphics', () => {
  const said = (
    facts: Partial<ReturnType<typeof graphic>>,
    then: Partial<ReturnType<typeof graphic>> | null = null,
    options: GivenOptions = {},
  ): unknown => {
    const one = graphic({ color: '#999999', against: '#ffffff', contrast: 2.849 });
    return judge(graphicContrast, [{ ...one, ...facts }], then === null ? null : [{ ...one, ...then }], options).map(
      ({ level, message, measured, expected }) => [level, message, measured, expected],
    );
  };
  const measured = { contrast: 2.849, color: '#999999', against: '#ffffff' };

  test('whole, by role', () => {
    const needs = 'has a contrast of 2.84 (#999999 against #ffffff); it needs 3.';
    expect(said({})).toEqual([['error', `The icon #gauge ${needs}`, { ...measured, role: 'icon' }, { contrast: 3 }]]);
    expect(said({ role: 'border' }, { contrast: 5.1239 })).toEqual([
      [
        'error',
        `The edge or mark of #gauge ${needs}`,
        { ...measured, role: 'border', contrastInReference: 5.123 },
        { contrast: 3 },
      ],
    ]);
    expect(said({ role: 'focus', change: { perimeterShare: 0.45678 } })).toEqual([
      ['error', `The focus indicator of #gauge ${needs}`, { ...measured, role: 'focus', focusAreaShare: 0.457 }, { contrast: 3 }],
    ]);
    expect(said({ role: 'focus', color: '#ffffff', contrast: 1 })).toMatchObject([
      ['error', '#gauge shows no focus indicator: nothing changes when it is focused by keyboard.', {}, {}],
    ]);
    expect(said({ role: 'border', color: '#ffffff', contrast: 1 })).toMatchObject([
      ['error', 'The edge or mark of #gauge has a contrast of 1.00 (#ffffff against #ffffff); it needs 3.', {}, {}],
    ]);
    const weak = { role: 'focus', contrast: 9, change: { perimeterShare: 0.999 } } as const;
    expect(said(weak, null, { focusAppearance: 'on' })).toMatchObject([
      ['error', 'The focus indicator of #gauge changes 99 % of the area of a 2 px outline by 3:1; it needs all of it.', {}, {}],
    ]);
    expect(said({ ...weak, role: 'icon' }, null, { focusAppearance: 'on' })).toEqual([]);
    expect(said({ role: 'focus', contrast: 9 }, null, { focusAppearance: 'on' })).toEqual([]);
  });

  test('what fades: an icon beside its words, from 3 to less', () => {
    const beside = { exempt: 'decoration' } as const;
    expect(said(beside, { ...beside, contrast: 3 })).toEqual([
      [
        'warning',
        'The icon #gauge fades: its contrast is 2.84 (#999999 against #ffffff), 3.00 in noon.',
        { ...measured, role: 'icon', contrastInReference: 3 },
        { contrast: 3 },
      ],
    ]);
    for (const [now, then] of [
      [
        { ...beside, contrast: 3 },
        { ...beside, contrast: 9 },
      ],
      [beside, { ...beside, contrast: 2.99 }],
      [
        { ...beside, role: 'border' },
        { ...beside, contrast: 9 },
      ],
      [{ exempt: 'inactive' }, { contrast: 9 }],
    ] as const)
      expect(said(now, then)).toEqual([]);
    expect(said(beside)).toEqual([]);
  });

  test('of several at one place the weakest is told; of equals the first key', () => {
    const at = (key: string, contrast: number, selector = '#gauge'): ReturnType<typeof graphic> =>
      graphic({ color: '#999999', against: '#ffffff', key, contrast, selector });
    const keys = (...all: readonly ReturnType<typeof graphic>[]): readonly string[] =>
      judge(graphicContrast, all, null).map(({ key }) => key);
    expect(keys(at('c', 2.5), at('b', 2), at('a', 2.5))).toEqual(['b']);
    expect(keys(at('c', 2.0001), at('b', 2.0002), at('a', 2.0003))).toEqual(['a']);
    expect(keys(at('c', 2), at('b', 2, '#other'))).toEqual(['c', 'b']);
    expect(keys(at('c', 2), { ...at('b', 2), role: 'border' })).toEqual(['c', 'b']);
  });
});

describe('pictures', () => {
  const luma = (...values: readonly number[]): Partial<ReturnType<typeof picture>> => ({ luma: values });
  const at = (now: Partial<ReturnType<typeof picture>>, then: Partial<ReturnType<typeof picture>> | null): readonly string[] =>
    judge(invertedPicture, [picture(now)], then === null ? [] : [picture(then)]).map(
      ({ level, message }) => `${level}: ${message}`,
    );
  const filtered = (...filters: readonly string[]): Partial<ReturnType<typeof picture>> => ({
    filters: filters.map((filter) => ({ selector: 'html', filter, origin: 'author' })),
  });

  test('whole, by filter and by pixels', () => {
    const [found] = judge(invertedPicture, [picture({ ...filtered('invert(1)', 'blur(1px)'), medium: 'emoji' })], []);
    expect(found).toEqual({
      ...{ check: 'inverted-picture', level: 'error', ...place },
      message: 'The emoji #gauge comes out inverted: invert(1) on html, then blur(1px) on html; undo the filter on pictures.',
      // an inversion alone turns hues by half a circle
      measured: { inverting: 'yes', hueTurn: 180, filters: 'invert(1) on html, then blur(1px) on html' },
      expected: { inverting: 'no', hueTurn: 0 },
    });
    const [turned] = judge(invertedPicture, [picture({ ...filtered('hue-rotate(180deg)'), medium: 'video' })], []);
    expect(turned).toMatchObject({ level: 'warning', measured: { inverting: 'no', filters: 'hue-rotate(180deg) on html' } });
    expect(turned?.message).toMatch(/^The video #gauge has its hues turned by 1[78]\d°: hue-rotate\(180deg\) on html; undo/);
    expect(judge(invertedPicture, [picture(luma(0.2, 0.8, 0.2))], [picture(luma(0.8, 0.2, 0.8))])).toEqual([
      {
        ...{ check: 'inverted-picture', level: 'error', ...place },
        message:
          'The picture #gauge comes out inverted: its light and dark parts are swapped (correlation -1.00 with the reference theme), though no filter on it says so; look for blend modes over it.',
        measured: { correlation: -1 },
        expected: { correlation: 1 },
      },
    ]);
    const names = (['image', 'video', 'canvas', 'background', 'emoji', 'svg-image'] as const).map(
      (medium) => judge(invertedPicture, [picture({ medium, ...filtered('invert(1)') })], [])[0]?.message.split(' #gauge')[0],
    );
    expect(names).toEqual(['The picture', 'The video', 'The drawing', 'The background picture of', 'The emoji', 'The picture']);
  });

  test('bounds of a turn: 30°, against the reference theme as well', () => {
    const turn = (now: string, then: string | null): number => at(filtered(now), then === null ? null : filtered(then)).length;
    expect([turn('hue-rotate(20deg)', null), turn('hue-rotate(40deg)', null)]).toEqual([0, 1]);
    expect([turn('hue-rotate(90deg)', 'hue-rotate(70deg)'), turn('hue-rotate(90deg)', 'hue-rotate(40deg)')]).toEqual([0, 1]);
    expect([turn('invert(1)', 'invert(1)'), turn('invert(1)', 'hue-rotate(180deg)')]).toEqual([0, 1]);
  });

  test('line art and signs may carry a filter of their own', () => {
    const own = (facts: Partial<ReturnType<typeof picture>>, selector = '#gauge', more: readonly string[] = []): number =>
      at(
        {
          filters: [
            { selector, filter: 'invert(1)', origin: 'author' },
            ...more.map((filter) => ({ selector, filter, origin: 'author' as const })),
          ],
          ...facts,
        },
        null,
      ).length;
    expect([
      own({ detail: 0.24 }),
      own({ detail: 0.25 }),
      own({ detail: 0.24 }, 'html'),
      own({ detail: 0.24 }, '#gauge', ['blur(1px)']),
    ]).toEqual([0, 1, 1, 1]);
    const sign = { medium: 'background', detail: 0.9 } as const;
    expect([
      own({ ...sign, rect: [0, 0, 96, 96] }),
      own({ ...sign, rect: [0, 0, 97, 10] }),
      own({ ...sign, rect: [0, 0, 10, 97] }),
    ]).toEqual([0, 1, 1]);
    expect(own({ rect: [0, 0, 96, 96] })).toBe(1);
  });

  test('pixels are compared where they are of one file, as many, and differ enough', () => {
    const negative = (facts: Partial<ReturnType<typeof picture>>, then: Partial<ReturnType<typeof picture>>): number =>
      at({ ...luma(0.2, 0.8, 0.2), ...facts }, { ...luma(0.8, 0.2, 0.8), ...then }).length;
    expect(negative({}, {})).toBe(1);
    expect(negative({ source: 'a.jpg' }, {})).toBe(0);
    expect(negative(luma(), luma())).toBe(0);
    expect(negative(luma(0.2, 0.8), {})).toBe(0);
    // deviations of .019 and .021 around .5
    expect(negative(luma(0.481, 0.519), luma(0.9, 0.1))).toBe(0);
    expect(negative(luma(0.1, 0.9), luma(0.519, 0.481))).toBe(0);
    expect(negative(luma(0.479, 0.521), luma(0.9, 0.1))).toBe(1);
    // correlation of (−1, 1, 0, 0) with (1, −1, c, −c): −1 / √(1 + c²), which is −.5 at c = √3
    const by = (c: number): number => negative(luma(0.4, 0.6, 0.5, 0.5), luma(0.6, 0.4, 0.5 + c / 10, 0.5 - c / 10));
    expect([by(1.7), by(1.8)]).toEqual([1, 0]);
  });
});

describe('the frame of a check', () => {
  const plain: Check = defineCheck({
    ...{ id: 'plain', title: '', about: '', guide: { why: '', computed: '', source: '', mend: '' } },
    kinds: ['text'],
    parameters: { most: { default: 3, min: 0, max: 9, unit: 'px', about: '', source: '' } },
    judge: (sample, against, { most }, rest) => ({ sample, level: 'note' as const, against, most, rest }),
    say: ({ against, most, rest }) => ({
      message: `${against.theme} ${against.tone} ${against.level} ${String(most)} ${String(rest)}`,
      measured: { there: against.reference?.samePlace('text')?.color ?? 'none', others: typeof against.others?.('x', run) },
      expected: {},
    }),
  });
  const run = textRun({ color: '#111111', background: '#ffffff' });
  const dot = graphic({ color: '#111111', against: '#ffffff' });
  const subject = { view: view('dusk'), tone: 'dark', samples: [run, dot], reference: null } as const;

  test('gives what is not told: no survey, no fold, AA, no standing, nobody else', () => {
    expect(plain.with().run(subject)).toEqual([
      {
        ...{ check: 'plain', level: 'note', ...place },
        ...{ message: 'dusk dark AA 3 null', measured: { there: 'none', others: 'undefined' }, expected: {} },
      },
    ]);
    expect(plain.with({ most: 4 }).run({ ...subject, level: 'AAA' })[0]?.message).toBe('dusk dark AAA 4 null');
    expect(plain.with().run({ ...subject, reference: referenceOf([{ ...run, color: '#222222' }]) })[0]?.measured).toMatchObject({
      there: '#222222',
    });
    expect([plain.with().standing(run), plain.with().standing(dot)]).toEqual(['', '']);
    expect(textContrast.with().standing(dot)).toBe('');
  });

  test('judges samples of its own kinds alone', () => {
    const against: Against = { theme: 'dusk', tone: 'dark', reference: null, level: 'AA' };
    expect(plain.with().judge(dot, against)).toBeNull();
    expect(plain.with().judge(run, against)).toMatchObject({ sample: run, most: 3 });
  });

  test('keeps apart what an exemption covers', () => {
    const at = (key: string): ReturnType<typeof shadow> =>
      shadow({ key, selector: `#${key}`, color: '#0e444a', beneath: '#121212', lightnessGain: 6 });
    const given = { ...subject, samples: [at('a'), at('b'), at('c')] };
    const found = (apart?: (sample: Sample) => unknown): readonly unknown[] =>
      glow
        .with()
        .run(given, apart)
        .map(({ key, measured }) => [key, measured['count']]);
    expect(found()).toEqual([['a', 3]]);
    expect(found(({ key }) => key === 'b')).toEqual([
      ['a', 2],
      ['b', undefined],
    ]);
  });

  test('takes numbers and words as options, and nothing else', () => {
    const judges = judgesFor({ glow: { leastGain: 9, others: ['a'], on: true }, neon: 'off', 'text-contrast': { level: 'AAA' } });
    expect(judges.map(({ id }) => id)).toEqual([
      ...['text-contrast', 'graphic-contrast', 'glow', 'flipped', 'unthemed', 'separation', 'inverted-picture'],
    ]);
    const [text, , gain] = judges;
    const fall = shadow({ color: '#0e444a', beneath: '#121212', lightnessGain: 8.9, chromaGain: 0 });
    expect(gain?.run({ ...subject, samples: [fall] })).toEqual([]);
    expect(
      text?.run({ ...subject, samples: [textRun({ color: '#111111', background: '#ffffff', contrast: { min: 6.9, max: 6.9 } })] }),
    ).toHaveLength(1);
  });

  test('faults of options say where, what and what was expected', () => {
    const elsewhere = { drift: { share: { default: 1, min: 0, max: 2, unit: 'share', about: '', source: '' } }, bare: {} };
    expect(
      optionFaults(
        {
          neon: 'off',
          glow: { leastGain: 101, leastBlur: 0, leastReach: 100, strongGain: '5' },
          'text-contrast': { level: 'A', size: 1 },
          drift: { share: 2.1 },
          bare: { any: 1 },
        },
        elsewhere,
      ),
    ).toEqual([
      { at: 'checks.glow.leastGain', found: '101', expected: 'a number from 0.1 to 100 (L*; default 2)' },
      { at: 'checks.glow.strongGain', found: '"5"', expected: 'a number from 0.1 to 100 (L*; default 5)' },
      { at: 'checks.text-contrast.level', found: '"A"', expected: '"AA" or "AAA"' },
      { at: 'checks.text-contrast', found: 'option "size"', expected: 'one of level' },
      { at: 'checks.drift.share', found: '2.1', expected: 'a number from 0 to 2 (share; default 1)' },
      { at: 'checks.bare', found: 'option "any"', expected: '"off" or {}; this check has no options' },
    ]);
  });
});

describe('names and numbers', () => {
  test('a place is called by its words, else by the end of its selector', () => {
    const at = (facts: Partial<ReturnType<typeof graphic>>): string =>
      nameOf(graphic({ color: '#111111', against: '#ffffff', ...facts }));
    expect(at({ label: ' Open the sluice ' })).toBe('“Open the sluice”');
    expect(at({ label: '  ' })).toBe('#gauge');
    expect(nameOf(textRun({ color: '#111111', background: '#ffffff', text: 'Ebb', label: 'x' }))).toBe('“Ebb”');
    expect(at({ label: 'a'.repeat(40) })).toBe(`“${'a'.repeat(40)}”`);
    expect(at({ label: 'a'.repeat(41) })).toBe(`“${'a'.repeat(39)}…”`);
    // half of a pair is left out
    expect(at({ label: `${'a'.repeat(38)}🌊bb` })).toBe(`“${'a'.repeat(38)}…”`);
    const selectors = ['a', 'a > b', 'a > b > c', '#a > b > c', 'x > #a > b > c > d', '#a > x > #b > c'];
    expect(selectors.map((selector) => at({ selector }))).toEqual(['a', 'a > b', 'b > c', '#a > b > c', '#a … d', '#b > c']);
  });

  test('numbers are whole from 10 on', () => {
    expect([10, 9.94, -10, -9.94, 0.04, 12.5].map(showLightness)).toEqual(['10', '9.9', '-10', '-9.9', '0.0', '13']);
    expect([showChroma(0.12345), rounded(1.23456), rounded(1.25, 1)]).toEqual(['0.123', 1.235, 1.3]);
  });
});
