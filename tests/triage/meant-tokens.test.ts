// A rule that is called after its token means it; one declaration takes one token in all themes; colours beyond sRGB are painted clipped.
import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Cause } from '../../src/samples/finding.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { openTriage } from '../../src/triage/open-triage.ts';
import { saysTheSame, wordsMeant } from '../../src/triage/propose/named-for.ts';
import { openWorld } from '../../src/triage/world.ts';
import type { App, PlaceModel } from './app-model.ts';
import { entry, healthyApp, literal } from './healthy-app.ts';
import { made, tableOf, token, written } from './made-cases.ts';
import { ALL_ACTIVE, paintApp } from './paint-app.ts';
import { seeded } from './seeded.ts';

const PATHS = ['--color-error', '--color-error-content', '--color-error-strong', '--tide-text', '--ink', '--color-base'] as const;
const index = tableOf(Object.fromEntries(PATHS.map((path) => [path, ['#c00000', '#ff8080']])));
const at = (path: (typeof PATHS)[number]): number => index.table.tokens.findIndex((each) => each.path === path);

describe('a rule that is called after its token', () => {
  test.each([
    ['.text-error', '--color-error', ['error']],
    ['.panel .btn.btn-error:hover, a', '--color-error', ['error']],
    ['.errors', '--color-error', []],
    ['.error .note', '--color-error', []],
    ['.tide', '--tide-text', ['tide']],
    [':root', '--color-error', []],
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

  test('a literal is called after nothing', () => {
    const wrote = [{ property: 'color', value: '#c00000', rule: '.text-error' }];
    expect(wordsMeant(index, made({ fore: written('#c00000'), wrote }))).toEqual([]);
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

interface Put {
  readonly path: string;
  /** At noon, in dusk, in stark. */
  readonly colors: readonly [string, string, string];
}

/** A healthy app with more tokens and places. @param turn what becomes of a sample */
function causesOf(
  tokens: readonly Put[],
  places: (page: string) => readonly PlaceModel[],
  turn = (sample: Sample): Sample => sample,
): readonly Cause[] {
  const healthy = healthyApp(seeded(4));
  const more = tokens.map(({ path, colors: [noon, dusk, stark] }) =>
    entry(path, [literal(parseColor(noon), 'base'), literal(parseColor(dusk), 'dusk'), literal(parseColor(stark), 'stark')]),
  );
  const app: App = {
    ...healthy,
    table: { ...healthy.table, tokens: [...healthy.table.tokens, ...more] },
    places: [...healthy.places, ...places(healthy.places[0]?.page ?? '')],
  };
  const painted = paintApp(app);
  const triage = openTriage({ table: app.table, findings: painted.findings, checks: ALL_ACTIVE, served: painted.served });
  for (const { view, samples } of painted.views) triage.add(view, samples.map(turn));
  return triage.close().causes.map(({ cause }) => cause);
}

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
    const causes = causesOf([FLARE], (page) => [...flareText('.text-flare')(page), ...lamp(page)]);
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
    expect(causesOf([alarm], places).map(({ layer, repair }) => [layer, repair?.to])).toEqual([['usage', 'signal.alarm.mark']]);
  });

  test('is replaced where the rule is called after something else', () => {
    const causes = causesOf([FLARE], (page) => [...flareText('.note')(page), ...lamp(page)]);
    expect(causes.map(({ layer, repair }) => [layer, repair?.change])).toEqual([['usage', 'use']]);
    expect(causes[0]?.repair?.to).toMatch(/^mark\./u);
  });
});

test('a token beyond sRGB explains what is seen of it, which is clipped', () => {
  const wide: Put = { path: 'signal.wide', colors: ['color(srgb 1.013 0.386 0.492)', '#ff627d', '#a80020'] };
  const causes = causesOf([wide], (page) => [
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
  const causes = causesOf(
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
