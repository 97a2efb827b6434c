// A rule that is called after its token means it; one declaration takes one token in all themes; colours beyond sRGB are painted clipped.
import { describe, expect, test } from 'vitest';
import { toCssText } from '../../src/colour/format-color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Paint } from '../../src/samples/paint.ts';
import { isForeignName } from '../../src/triage/propose/foreign-name.ts';
import { isUpon } from '../../src/triage/cases/name-words.ts';
import { belies, saysTheSame, wordsMeant } from '../../src/triage/propose/named-for.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { openWorld } from '../../src/triage/world.ts';
import type { PlaceModel } from './app-model.ts';
import { healthyApp } from './healthy-app.ts';
import { made, tableOf, token, written } from './made-cases.ts';
import { seeded } from './seeded.ts';
import type { Put } from './with-more.ts';
import { causesWith } from './with-more.ts';

const PATHS = [
  '--color-white',
  '--color-error',
  '--color-error-content',
  '--color-error-strong',
  '--tide-text',
  '--ink',
  '--color-base',
] as const;
const index = tableOf(Object.fromEntries(PATHS.map((path) => [path, ['#c00000', '#ff8080']])));
const at = (path: (typeof PATHS)[number]): number => index.table.tokens.findIndex((each) => each.path === path);

describe('a rule that is called after its token', () => {
  test.each([
    ['.text-error', '--color-error', ['error']],
    ['.panel .btn.btn-error:hover, a', '--color-error', ['error']],
    // The rule is called otherwise: the token tells of a state all the same.
    ['.errors', '--color-error', ['error']],
    ['.error .note', '--color-error', ['error']],
    [':root', '--color-error-strong', ['error']],
    // What is read on it tells of none.
    ['.error .note', '--color-error-content', []],
    ['.tide', '--tide-text', ['tide']],
    ['.gauge', '--tide-text', []],
    // A palette's name for a colour.
    ['.bg-white', '--color-white', []],
    // Nothing tells it from others.
    ['.base', '--color-base', []],
    ['.ink', '--ink', []],
  ] as const)('%s, %s', (rule, path, words) => {
    const wrote = [
      { property: 'color', value: 'var(--own)', rule: '.card' },
      { property: '--own', value: `var(${path})`, rule },
    ];
    expect(wordsMeant(index, made({ fore: token(at(path), '#c00000'), wrote }))).toEqual(words);
  });

  test.each([
    ['.text-error', ['error']],
    ['.panel.is-danger .title', []],
    ['.is-danger', ['error']],
    // The set has no token of that state.
    ['.is-warning', []],
    ['.tide', []],
  ] as const)('a literal may be called after a state that the set has a token of: %s', (rule, meant) => {
    const wrote = [{ property: 'color', value: '#c00000', rule }];
    expect(wordsMeant(index, made({ fore: written('#c00000'), wrote }))).toEqual(meant);
  });

  test.each([
    ['--color-error', true],
    ['--color-error-strong', true],
    // It is for what lies on it.
    ['--color-error-content', false],
    ['--tide-text', false],
  ] as const)('says the same: %s', (path, says) => {
    expect(saysTheSame(index, at(path), ['error'])).toBe(says);
    expect(saysTheSame(index, at(path), [])).toBe(true);
  });
});

// Derived from what the names say.
test.each([
  [['error', 'content'], true],
  [['on', 'error'], true],
  [['on'], true],
  [['gauge', 'on', 'error'], true],
  [['error', 'on', 'page'], false],
  [['error', 'on', 'scheme', 'strong'], true],
  [['error'], false],
] as const)('is read on a token of that name: %s', (words, is) => {
  expect(isUpon(words)).toBe(is);
});

test('a colour built of properties means what their names have in common', () => {
  const danger = 'hsl(var(--danger-h), 60%, var(--danger-page-l))';
  const paths = ['--danger', '--danger-on-page', '--danger-content', '--tide', danger];
  const set = tableOf(Object.fromEntries(paths.map((path) => [path, ['#c00000', '#ff8080']])));
  const wrote = [{ property: 'color', value: danger, rule: '.text-danger' }];
  const meant = wordsMeant(set, made({ fore: token(4, '#c00000'), wrote }));
  expect(meant).toEqual(['danger']);
  expect(paths.map((_, each) => saysTheSame(set, each, meant))).toEqual([true, true, false, false, true]);
});

describe('words that most tokens of a set have', () => {
  const paths = ['primary', 'error-main', 'error-soft', 'divider', 'ink', 'paper', 'raised', 'success', 'tide', 'reef'];
  const set = tableOf(Object.fromEntries(paths.map((path) => [`--gauge-palette-${path}`, ['#c00000', '#ff8080']])));
  const wrote = [{ property: 'color', value: 'var(--gauge-palette-error-main)', rule: '.css-1ecw0g0.Gauge-error' }];

  test('are no part of what a rule is called after', () => {
    expect(wordsMeant(set, made({ fore: token(1, '#c00000'), wrote }))).toEqual(['error']);
  });

  test('count in a small set', () => {
    const small = tableOf({ '--gauge-tide': ['#c00000', '#ff8080'], '--gauge-reef': ['#c00000', '#ff8080'] });
    const rule = { property: 'color', value: 'x', rule: '.tide' };
    expect(wordsMeant(small, made({ fore: token(0, '#c00000'), wrote: [rule] }))).toEqual([]);
  });

  test('another word for the same state says the same', () => {
    const names = tableOf({ '--danger-ink': ['#c00000', '#ff8080'], '--warning-ink': ['#c00000', '#ff8080'] });
    expect([0, 1].map((token) => saysTheSame(names, token, ['error']))).toEqual([true, false]);
  });
});

// Derived from what the names say; which words name states and kinds of controls is common practice.
describe('a name that speaks of something else', () => {
  test.each([
    ['--alert-error-face', '--error', ['button'], true],
    ['--alert-error-face', '--error', ['gauge', 'alert', 'item'], false],
    ['--alert-error-face', '--alert-face', ['button'], true],
    ['--menu-item-face', '--ink', ['gauge'], true],
    ['--menu-item-face', '--ink', ['li', 'role', 'menuitem'], false],
    ['--form-element-face', '--ink', ['code'], true],
    ['--form-element-face', '--ink', ['textarea'], false],
    ['--selected-face', '--ink', ['tr'], true],
    ['--selected-face', '--ink', ['tr', 'aria', 'selected'], false],
    ['--plot-series-face', '--ink', ['gauge'], true],
    ['--foot-face', '--ink', ['footer'], false],
    ['--warning-soft', '--secondary', ['button'], true],
    ['--warning-soft', '--secondary', ['is', 'caution'], false],
    ['--warning-soft', '--warn-strong', ['button'], false],
    ['--on-info', '--secondary', ['button'], true],
    // Nobody knows what a literal means, but what kind of thing it is on.
    ['--warning-soft', null, ['gauge'], false],
    ['--tooltip-face', null, ['gauge'], true],
    ['--ink-soft', '--error', [], false],
    ['--carousel-face', null, ['station'], true],
    ['--highlight-ink', null, ['callout'], true],
    ['--primary', '--ink', ['gauge'], true],
    ['--primary', '--ink', ['button', 'primary'], false],
    ['--primary', '--accent', ['gauge'], false],
    // The first of several texts.
    ['--text-primary', '--ink', ['gauge'], false],
    ['--primary', null, ['gauge'], false],
    // A moment of a control.
    ['--face-hover', null, ['panel'], true],
    ['--face-clicked', '--face', ['panel'], true],
    ['--face-hover', '--ink-hovered', ['panel'], false],
    ['--face-hover', null, ['row', 'hover'], false],
    ['--face-active', '--face-pressed', [], false],
    // A component's own, as two hyphens say.
    ['--kit-logbook--face', null, ['station'], true],
    ['--kit-logbook--face', '--kit-ink', ['station'], true],
    ['--kit-logbook--face', null, ['logbook', 'row'], false],
    ['--kit-logbook--face', '--kit-logbook--ink', ['station'], false],
  ] as const)('%s in place of %s on %j: %s', (path, current, words, isForeign) => {
    expect(isForeignName(path, { current, words })).toBe(isForeign);
  });

  test.each([
    ['--warning-soft', true],
    ['--primary', true],
    ['--ink-soft', false],
  ] as const)('%s in place of a literal of another hue: %s', (path, isForeign) => {
    expect(isForeignName(path, { current: null, words: ['gauge'], isKin: false })).toBe(isForeign);
  });
});

// Derived: OKLab lightness of #ffffff is 1, of #f8f8f8 .979, of #353535 .33; #c62f2f is .05 from #d63939 and #7a1010 .22; #2f7ac6 is blue.
describe('a name that says a colour', () => {
  const names = tableOf({
    '--white': ['#ffffff', '#ffffff'],
    '--red-500': ['#d63939', '#d63939'],
    '--dark-red': ['#d63939', '#d63939'],
    '--red-ink': ['#d63939', '#d63939'],
    'signal.red.main': ['#d63939', '#d63939'],
  });
  test.each([
    ['--white', '#ffffff', '#353535', true],
    ['--white', '#ffffff', '#f8f8f8', true],
    ['--white', '#ffffff', '#fefefe', false],
    ['--red-500', '#d63939', '#c62f2f', false],
    ['--red-500', '#d63939', '#7a1010', true],
    ['--dark-red', '#d63939', '#2f7ac6', true],
    // What it is for is said as well: its value may be any that serves.
    ['--red-ink', '#d63939', '#7a1010', false],
    ['signal.red.main', '#d63939', '#7a1010', true],
  ] as const)('%s from %s to %s: belied %s', (path, from, to, isBelied) => {
    const colors = { from: parseColor(from), to: parseColor(to) };
    expect(belies(names, names.tokenAt(path), colors)).toBe(isBelied);
  });
});

// Derived: #ff6b81 reaches 2.8:1 on white and more than 4.5:1 on the dark faces. As a surface it is read on in black.
const FLARE: Put = { path: 'signal.flare', colors: ['#ff6b81', '#ff6b81', '#ff6b81'] };

const flareText = (rule: string) => (page: string) =>
  [0, 1, 2].map((n): PlaceModel => ({
    ...{ kind: 'text', page, selector: `#flare-${String(n)}`, ink: { kind: 'token', path: FLARE.path }, opacity: 1, large: false },
    ...{ on: [{ kind: 'token', path: 'face.page' }], rule },
  }));
/** Changing the token itself would break this one. */
const lamp = (page: string): readonly PlaceModel[] => [
  {
    ...{ kind: 'surface', page, selector: '#lamp', fill: { kind: 'token', path: FLARE.path }, widthCssPx: 90, heightCssPx: 30 },
    on: [{ kind: 'token', path: 'face.page' }],
  },
  {
    ...{ kind: 'text', page, selector: '#lamp-name', ink: { kind: 'literal', color: '#3d0a12' }, opacity: 1, large: false },
    ...{ on: [{ kind: 'token', path: FLARE.path }], ground: '#lamp' },
  },
];

describe('a token that fails where it is meant', () => {
  test('is not replaced by the ink of all other texts: one of its own is missing', () => {
    const causes = causesWith([FLARE], (page) => [...flareText('.text-flare')(page), ...lamp(page)]);
    expect(causes.map(({ layer, why }) => [layer, why])).toEqual([
      ['gap', expect.stringMatching(/^The set has no flare token for text on face\.page in noon/u)],
    ]);
  });

  test('is replaced by one that says the same', () => {
    const alarm: Put = { ...FLARE, path: 'signal.alarm' };
    const places = (page: string): readonly PlaceModel[] =>
      [...flareText('.text-alarm')(page), ...lamp(page)].map(
        (place) => JSON.parse(JSON.stringify(place).replaceAll(FLARE.path, alarm.path)) as PlaceModel,
      );
    expect(causesWith([alarm], places).map(({ layer, repair }) => [layer, repair?.to])).toEqual([['usage', 'signal.alarm.mark']]);
  });

  test('of a state keeps telling of it, whatever the rule is called', () => {
    const error: Put = { ...FLARE, path: 'signal.error' };
    const places = (page: string): readonly PlaceModel[] =>
      [...flareText('.note')(page), ...lamp(page)].map(
        (place) => JSON.parse(JSON.stringify(place).replaceAll(FLARE.path, error.path)) as PlaceModel,
      );
    expect(causesWith([error], places).map(({ layer, why }) => [layer, why])).toEqual([
      ['gap', expect.stringMatching(/^The set has no error token for text on face\.page in noon/u)],
    ]);
  });

  test('is replaced by one that says the same and that no page uses yet, but by no step', () => {
    // Derived: on white all but the first of these reach more than 4.5:1; the steps are nearer to what is there now.
    const mark: Put = { path: 'signal.flare.mark', colors: ['#8a0f2a', '#ff6b81', '#8a0f2a'] };
    const steps = [500, 600, 700].map((step): Put => ({
      path: `signal.flare-${String(step)}`,
      colors: ['#b8173a', '#ff6b81', '#b8173a'],
    }));
    const causes = causesWith([FLARE, ...steps, mark], (page) => [...flareText('.text-flare')(page), ...lamp(page)]);
    expect(causes.map(({ layer, repair }) => [layer, repair?.to])).toEqual([['usage', mark.path]]);
  });

  test('is replaced where the rule is called after something else', () => {
    const causes = causesWith([FLARE], (page) => [...flareText('.note')(page), ...lamp(page)]);
    expect(causes.map(({ layer, repair }) => [layer, repair?.change])).toEqual([['usage', 'use']]);
    expect(causes[0]?.repair?.to).toMatch(/^mark\./u);
  });
});

describe('the outline of a field', () => {
  // Derived: on white #d8dee2 reaches 1.4:1; the ink reaches more than 3:1 in all themes.
  const FAINT: Put = { path: 'field.line', colors: ['#d8dee2', '#3a4248', '#3a4248'] };
  const INK: Put = { path: 'caption.ink', colors: ['#4a5a63', '#c4d0d6', '#c4d0d6'] };
  const graphic = (page: string, selector: string, path: string): PlaceModel => ({
    ...{
      kind: 'graphic',
      page,
      selector,
      role: 'border',
      ink: { kind: 'token', path },
      on: [{ kind: 'token', path: 'face.page' }],
    },
    rule: selector,
  });
  const words = (page: string, n: number): PlaceModel => ({
    ...{ kind: 'text', page, selector: `#caption-${String(n)}`, ink: { kind: 'token', path: INK.path } },
    ...{ on: [{ kind: 'token', path: 'face.page' }], opacity: 1, large: false },
  });

  test('is not sent to the ink of texts, though borders without a colour of their own take that', () => {
    const causes = causesWith([FAINT, INK], (page) => [
      graphic(page, '.field', FAINT.path),
      graphic(page, '.step', INK.path),
      ...Array.from({ length: 40 }, (_, n) => words(page, n)),
    ]);
    expect(causes.length).toBeGreaterThan(0);
    expect(causes.map(({ repair }) => repair?.to)).not.toContain(INK.path);
  });
});

test('a token beyond sRGB explains what is seen of it, which is clipped', () => {
  const wide: Put = { path: 'signal.wide', colors: ['color(srgb 1.013 0.386 0.492)', '#ff627d', '#a80020'] };
  const causes = causesWith([wide], (page) => [
    {
      ...{ kind: 'text', page, selector: '#wide', ink: { kind: 'token', path: wide.path }, opacity: 1, large: false },
      on: [{ kind: 'token', path: 'face.page' }],
    },
  ]);
  expect(causes.map(({ layer }) => layer)).not.toContain('unknown');
  expect(causes).toHaveLength(1);
});

test('one declaration takes one token in all themes', () => {
  // Nearest to what fails at noon is the first, in dusk the second; the first cannot be read in dusk.
  const first: Put = { path: 'mark.first', colors: ['#6b6f73', '#3a3f44', '#000000'] };
  const second: Put = { path: 'mark.second', colors: ['#123a5c', '#8f979e', '#000000'] };
  const own: Put = { path: 'own.ink', colors: ['#8f9397', '#5c6166', '#000000'] };
  const text = (page: string, selector: string, path: string): PlaceModel => ({
    ...{ kind: 'text', page, selector, ink: { kind: 'token', path }, opacity: 1, large: false },
    on: [{ kind: 'token', path: 'face.page' }],
  });
  const causes = causesWith(
    [first, second, own],
    (page) => [text(page, '#second', second.path), text(page, '#own', own.path)],
    (sample) => {
      if (sample.kind !== 'text' || sample.selector !== '#own') return sample;
      const place = { property: 'color', value: 'color-mix(in srgb, var(--x) 50%, var(--y))', rule: '.own', file: '/own.css' };
      return { ...sample, ink: { ...sample.ink, origin: { kind: 'literal' }, written: [{ ...place, line: 4, column: 3 }] } };
    },
  );
  expect(causes).toHaveLength(1);
  const [cause] = causes;
  const parts = cause?.repair === undefined ? [] : [cause.repair, ...(cause.repair.also ?? [])];
  expect(parts.map(({ from }) => from)).toEqual(['#8f9397', '#5c6166']);
  expect(new Set(parts.map(({ to }) => to)).size).toBe(1);
});

test('of what one paint draws on one element the reference is known, though that element is painted otherwise there', () => {
  const one = made({ id: 0, key: 'a', family: 'noon', theme: 0, fore: written('#777777'), grounds: new Set([5]) });
  const other = made({ id: 1, key: 'b', family: 'dusk', theme: 1, fore: written('#777777'), grounds: new Set([4, 5]) });
  const apart = made({ id: 2, key: 'c', family: 'else', theme: 1, fore: written('#777778'), grounds: new Set([5]) });
  const world = openWorld({ index, cases: [one, other, apart], judges: new Map(), level: 'AA' });
  expect([world.inReference(other)?.id, world.inReference(apart)]).toEqual([0, null]);
});

// Derived: the ink at a third reaches 1.8:1; coal can be read there, is used elsewhere, and looks quite different.
test('where tokens that can be read are like nothing that is there, one is missing', () => {
  const coal: Put = { path: 'mark.coal', colors: ['#101010', '#101010', '#101010'] };
  const text = { kind: 'text', opacity: 1, large: false } as const;
  const causes = causesWith([coal], (page) => [
    { ...text, page, selector: '#coal', ink: { kind: 'token', path: coal.path }, on: [{ kind: 'literal', color: '#f2f2f2' }] },
    {
      ...{ ...text, page, selector: '#gauge', ink: { kind: 'literal', color: 'rgb(40 44 60 / 0.33)' }, rule: '.gauge-hint' },
      on: [{ kind: 'literal', color: '#d8e6da' }],
    },
  ]);
  // At noon and in stark inks of other faces will do.
  expect(causes.map(({ layer, themes }) => [layer, themes])).toEqual([
    ['usage', ['noon', 'stark']],
    ['gap', ['dusk']],
  ]);
  expect(causes[1]?.why).toMatch(
    /^No token like rgb\(40 44 60 \/ 0\.33\), which \.gauge-hint takes for its text, can be read on #d8e6da in dusk: it reaches /u,
  );
});

// Derived: the canvas stays as light as at noon, and the inks of dusk are light.
test('a canvas that nobody painted explains all that cannot be read on it', () => {
  const healthy = healthyApp(seeded(4));
  const { table } = healthy;
  const face = indexTable(table).colorOf(
    0,
    table.tokens.findIndex(({ path }) => path === 'face.raised'),
  );
  const canvas = { kind: 'literal', color: toCssText(face ?? parseColor('#ffffff')) } as const;
  const causes = causesWith(
    [],
    (page) => [
      { ...{ kind: 'surface', page, selector: 'html', fill: canvas, on: [], widthCssPx: 1280, heightCssPx: 800 } },
      ...[0, 1, 2, 3].map((n): PlaceModel => ({
        ...{
          kind: 'text',
          page,
          selector: `#level-${String(n)}`,
          ink: { kind: 'token', path: 'mark.main' },
          opacity: 1,
          large: false,
        },
        ...{ on: [canvas], ground: 'html' },
      })),
    ],
    (sample) => {
      const system = (paint: Paint): Paint => ({ ...paint, origin: { kind: 'system' } });
      if (sample.kind === 'surface' && sample.selector === 'html')
        return { ...sample, role: 'canvas', paint: system(sample.paint) };
      if (sample.kind !== 'text' || !sample.selector.startsWith('#level')) return sample;
      return {
        ...sample,
        layers: sample.layers.map((layer) =>
          layer.paint === undefined ? layer : { ...layer, selector: null, paint: system(layer.paint) },
        ),
      };
    },
  );
  expect(causes.map(({ layer, repair }) => [layer, repair?.of, repair?.breaks])).toEqual([['usage', 'html', 0]]);
  expect(causes[0]?.findings).toBeGreaterThanOrEqual(4);
  expect(causes[0]?.why).toMatch(
    /^html takes the browser’s #[\da-f]{6} for its surface, .* with the color-scheme of the theme, mends all /u,
  );
});
