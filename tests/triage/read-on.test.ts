// A token whose name says what it is read on: wrong by itself where it cannot be read there, the first to be offered there, and no surface.
import { describe, expect, test } from 'vitest';
import { saysOtherInk } from '../../src/triage/cases/name-words.ts';
import { isOnSomething, isReadOn, madeFor } from '../../src/triage/propose/named-for.ts';
import type { PlaceModel } from './app-model.ts';
import { tableOf } from './made-cases.ts';
import type { Put } from './with-more.ts';
import { causesWith } from './with-more.ts';

// Derived from what the names say.
describe('names', () => {
  const paths = [
    '--tide',
    '--on-tide',
    '--tide-content',
    '--text-on-tide-default',
    '--on-tide-strong',
    '--tide-text',
    '--content',
  ] as const;
  const index = tableOf(Object.fromEntries(paths.map((path) => [path, ['#c00000', '#ff8080']])));
  const at = (path: string): number => index.tokenAt(path);

  test.each([
    ['--on-tide', '--tide', true],
    ['--tide-content', '--tide', true],
    ['--text-on-tide-default', '--tide', true],
    ['--on-tide-strong', '--tide', false],
    ['--tide-text', '--tide', false],
    ['--on-tide', '--content', false],
    ['--tide', '--tide', false],
  ] as const)('%s is read on %s: %s', (token, ground, is) => {
    expect(isReadOn(index, at(token), at(ground))).toBe(is);
  });

  test('say that they are read on something', () => {
    expect(paths.filter((path) => isOnSomething(index, at(path)))).toEqual([
      ...['--on-tide', '--tide-content', '--text-on-tide-default', '--on-tide-strong', '--content'],
    ]);
  });

  test.each([
    ['ink', '--icon-on-tide', true],
    ['glyph', '--icon-on-tide', false],
    ['glyph', '--text-on-tide', true],
    ['ink', '--icon-text', false],
    ['ink', '--on-tide', false],
  ] as const)('of texts and icons, for %s: %s', (role, path, is) => {
    expect(saysOtherInk(role, path)).toBe(is);
  });
});

// Derived from what the names say: the closest name wins, and a kind is what a name ends with.
test.each([
  ['--berth-emphasis', ['--on-emphasis']],
  ['--tide-emphasis', ['--on-tide-emphasis']],
  ['--emphasis', ['--on-emphasis']],
  ['--emphasis-soft', []],
  ['--soft', []],
] as const)('made for %s: %j', (ground, made) => {
  const paths = [
    '--berth-emphasis',
    '--tide-emphasis',
    '--emphasis',
    '--emphasis-soft',
    '--soft',
    '--on-emphasis',
    '--on-tide-emphasis',
  ];
  const index = tableOf(Object.fromEntries(paths.map((path) => [path, ['#c00000', '#ff8080']])));
  expect([...madeFor(index, index.tokenAt(ground))].map((token) => index.pathOf(token))).toEqual(made);
});

// Derived: white reaches 6.4:1 on #00639a and 1.7:1 on #94ccff.
const BRAND: Put = { path: 'berth.brand', colors: ['#00639a', '#94ccff', '#00639a'] };
const ON_BRAND: Put = { path: 'berth.on-brand', colors: ['#ffffff', '#ffffff', '#ffffff'] };
const onBrand = { opacity: 1, large: false, on: [{ kind: 'token', path: 'berth.brand' }] } as const;

/** The brand is right as it is. */
const links = (page: string): readonly PlaceModel[] =>
  ['#link-1', '#link-2', '#link-3'].map((selector) => ({
    ...{ kind: 'text', page, selector, ink: { kind: 'token', path: 'berth.brand' }, opacity: 1, large: false },
    on: [{ kind: 'token', path: 'face.page' }],
  }));

test('what cannot be read on what it is called after is wrong itself; nothing is missing, and literals are sent to it', () => {
  const causes = causesWith([BRAND, ON_BRAND], (page): readonly PlaceModel[] => [
    { kind: 'text', page, selector: '#moor', ink: { kind: 'token', path: 'berth.on-brand' }, ...onBrand },
    { kind: 'text', page, selector: '#leave', ink: { kind: 'token', path: 'berth.on-brand' }, ...onBrand },
    { kind: 'text', page, selector: '#draft', ink: { kind: 'literal', color: '#ffffff' }, ...onBrand },
    ...links(page),
  ]);
  expect(causes.map(({ layer, repair, findings }) => [layer, repair?.of, repair?.themes, findings])).toEqual([
    ['token', 'berth.on-brand', ['dusk'], 2],
    ['usage', '#draft', expect.anything(), expect.any(Number)],
  ]);
  expect(causes[1]?.repair?.to).toBe('berth.on-brand');
});

test('a token of the set that cannot be read there is replaced by the one for it, though nothing uses that yet', () => {
  const causes = causesWith([BRAND, { ...ON_BRAND, colors: ['#ffffff', '#0b2434', '#ffffff'] }], (page): readonly PlaceModel[] => [
    { kind: 'text', page, selector: '#moor', ink: { kind: 'token', path: 'mark.main' }, ...onBrand },
    ...links(page),
  ]);
  expect(causes.map(({ layer, repair }) => [layer, repair?.change, repair?.of, repair?.to, repair?.breaks])).toEqual([
    ['usage', 'use', '#moor', 'berth.on-brand', 0],
  ]);
});

// Derived: white reaches 5.4:1 on #cf222e and 4.6:1 on #d93732; the darkest of inks at noon 2.9:1, the lightest in dusk 4.1:1.
test('text on a surface whose kind the set has an ink for takes that ink, though another red would do in one theme', () => {
  const alarm: Put = { path: 'signal.surge-emphasis', colors: ['#cf222e', '#d93732', '#cf222e'] };
  const on: Put = { path: 'words.on-emphasis', colors: ['#ffffff', '#ffffff', '#ffffff'] };
  const face = { kind: 'token', path: 'signal.surge-emphasis' } as const;
  const causes = causesWith([alarm, on, { path: 'words.main', colors: ['#1f2328', '#e6ebf1', '#000000'] }], (page) => [
    ...['#gate', '#lock', '#quay'].map((selector): PlaceModel => ({
      ...{ kind: 'text', page, selector, ink: { kind: 'token', path: 'words.main' }, opacity: 1, large: false },
      on: [{ kind: 'token', path: 'face.page' }],
    })),
    { kind: 'text', page, selector: '#surge', ink: { kind: 'token', path: 'words.main' }, opacity: 1, large: false, on: [face] },
  ]);
  expect(causes.map(({ layer, repair }) => [layer, repair?.of, repair?.to, repair?.breaks])).toEqual([
    ['usage', '#surge', 'words.on-emphasis', 0],
  ]);
});

test('what is read on something is no surface for what was written out', () => {
  const causes = causesWith([BRAND, { ...ON_BRAND, colors: ['#ffffff', '#0b2434', '#ffffff'] }], (page): readonly PlaceModel[] => [
    { kind: 'text', page, selector: '#moor', ink: { kind: 'token', path: 'berth.on-brand' }, ...onBrand },
    // The knob of a switch takes it as its surface.
    ...['#knob-1', '#knob-2', '#knob-3'].map((selector): PlaceModel => ({
      ...{ kind: 'surface', page, selector, fill: { kind: 'token', path: 'berth.on-brand' }, widthCssPx: 90, heightCssPx: 60 },
      on: [{ kind: 'token', path: 'berth.brand' }],
    })),
    {
      ...{
        kind: 'surface',
        page,
        selector: '#panel',
        fill: { kind: 'literal', color: '#ffffff' },
        widthCssPx: 500,
        heightCssPx: 200,
      },
      on: [{ kind: 'token', path: 'face.page' }],
    },
  ]);
  const panel = causes.find(({ repair }) => repair?.of === '#panel');
  expect(panel?.repair).toMatchObject({ change: 'use', breaks: 0 });
  expect(panel?.repair?.to).toMatch(/^face\./u);
});
