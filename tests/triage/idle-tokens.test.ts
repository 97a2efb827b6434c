import { expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { App, PlaceModel } from './app-model.ts';
import { entry, healthyApp, literal } from './healthy-app.ts';
import type { TokenEntry } from '../../src/triage/tokens/token-table.ts';
import { paintApp } from './paint-app.ts';
import { seeded } from './seeded.ts';
import { triageApp } from './triage-app.ts';
import type { Put } from './with-more.ts';
import { causesWith } from './with-more.ts';

// Derived: a tray and a note on it were put in with their light colours written out, beside tokens of these very colours that no page
// uses yet. On white, #4a5f58 reaches 6.9:1; on the tray's dark #14201b it reaches 2.5:1.

const NOTE = '#4a5f58';
const TRAY = '#fffdf6';

/** @param more tokens, before the tray's own */
function withTray(
  more: (themed: (path: string, light: string, dark: string) => TokenEntry) => readonly TokenEntry[] = () => [],
): App {
  const healthy = healthyApp(seeded(4));
  const page = healthy.places[0]?.page ?? '';
  const themed = (path: string, light: string, dark: string) =>
    entry(path, [literal(parseColor(light), 'base'), literal(parseColor(dark), 'dusk'), literal(parseColor(light), 'base')]);
  const tray: PlaceModel = {
    kind: 'surface',
    page,
    selector: '#tray',
    fill: { kind: 'literal', color: TRAY },
    on: [{ kind: 'token', path: 'face.page' }],
    widthCssPx: 500,
    heightCssPx: 200,
  };
  const on = { kind: 'text', page, on: [tray.fill], opacity: 1, large: false, ground: '#tray' } as const;
  return {
    ...healthy,
    table: {
      ...healthy.table,
      tokens: [
        ...healthy.table.tokens,
        ...more(themed),
        themed('tray.face', TRAY, '#14201b'),
        themed('tray.note', NOTE, '#a9b9b2'),
      ],
    },
    places: [
      ...healthy.places,
      tray,
      { ...on, selector: '#tray-level', ink: { kind: 'token', path: 'mark.main' } },
      { ...on, selector: '#tray-note', ink: { kind: 'literal', color: NOTE } },
    ],
  };
}

test('what is written out in the very colour of a token that no page uses yet is to take that token, and what lies on it its own', () => {
  const app = withTray();
  const { causes } = triageApp(app, paintApp(app));
  expect(causes.map(({ cause }) => cause.repair?.of)).toEqual(['#tray']);
  expect(causes[0]?.cause).toMatchObject({
    layer: 'usage',
    repair: { change: 'use', from: TRAY, to: 'tray.face', breaks: 0, also: [{ from: NOTE, to: 'tray.note' }] },
  });
});

test('a token whose name says that it is for something else is not put to use there, though its colours are the same', () => {
  const app = withTray((themed) => [
    themed('tray.hover-edge', TRAY, '#14201b'),
    themed('box-shadow-color', TRAY, '#14201b'),
    themed('tray.back-text', TRAY, '#14201b'),
    themed('tray.note-outline', NOTE, '#a9b9b2'),
  ]);
  const { causes } = triageApp(app, paintApp(app));
  expect(causes[0]?.cause.repair).toMatchObject({ to: 'tray.face', also: [{ to: 'tray.note' }] });
});

// Derived: #24303a reaches more than 10:1 on #f4f4f4 and less than 1.5:1 on #10181e; no token has this colour, and no icon lies there.
test.each([
  ['an icon that is written out takes what words on the same surface are mostly drawn in', 'mark.main', 'mark.quiet'],
  ['of these what is called after the surface', 'pier.foreground', 'pier.foreground'],
])('%s', (_, first, to) => {
  const pier: Put = { path: 'pier', colors: ['#f4f4f4', '#10181e', '#f4f4f4'] };
  const own: Put = { path: 'pier.foreground', colors: ['#333a40', '#d8dee2', '#333a40'] };
  const causes = causesWith([pier, own], (page) => [
    ...['#ebb', '#flow', '#slack'].map((selector, at): PlaceModel => ({
      ...{ kind: 'text', page, selector, ink: { kind: 'token', path: at === 0 ? first : 'mark.quiet' } },
      ...{ opacity: 1, large: false, on: [{ kind: 'token', path: 'pier' }] },
    })),
    {
      ...{ kind: 'graphic', role: 'icon', page, selector: '#pin', ink: { kind: 'literal', color: '#24303a' } },
      on: [{ kind: 'token', path: 'pier' }],
    },
  ]);
  expect(causes.map(({ repair }) => [repair?.of, repair?.to])).toEqual([['#pin', to]]);
});

// Derived: #00605a reaches 7.3:1 on white, and 2.2:1 on a dark ground.
test('an icon written out in the colour of a token of words takes that token, before others of that colour that nobody uses', () => {
  const tide: Put = { path: 'tide.fg', colors: ['#00605a', '#5fd0c5', '#00605a'] };
  const causes = causesWith([{ ...tide, path: 'terminal.tide' }, tide], (page) => [
    ...['#ebb', '#flow'].map((selector): PlaceModel => ({
      ...{ kind: 'text', page, selector, ink: { kind: 'token', path: 'tide.fg' }, opacity: 1, large: false },
      on: [{ kind: 'token', path: 'face.page' }],
    })),
    {
      ...{ kind: 'graphic', role: 'icon', page, selector: '#pin', ink: { kind: 'literal', color: '#00605a' } },
      on: [{ kind: 'token', path: 'face.page' }],
    },
  ]);
  expect(causes.map(({ repair }) => [repair?.of, repair?.to])).toEqual([['#pin', 'tide.fg']]);
});

test('of unused tokens of one colour the one that is called after what it is to be is taken', () => {
  const colors = ['#00605a', '#5fd0c5', '#00605a'] as const;
  const causes = causesWith(
    [
      { path: 'terminal.tide', colors },
      { path: 'tide.fg', colors },
    ],
    (page) => [
      {
        ...{ kind: 'text', page, selector: '#rise', ink: { kind: 'literal', color: '#00605a' }, opacity: 1, large: false },
        on: [{ kind: 'token', path: 'face.page' }],
      },
    ],
  );
  expect(causes.map(({ repair }) => [repair?.of, repair?.to])).toEqual([['#rise', 'tide.fg']]);
});

test('a card that merges with the page where it is as meant takes the token of the page', () => {
  const colors = ['#fafbfb', '#0b1416', '#fafbfb'] as const;
  const causes = causesWith(
    [
      { path: 'sheet.face', colors },
      { path: 'board.face', colors: ['#fafbfb', '#102023', '#fafbfb'] },
    ],
    (page) => {
      const sheet = { kind: 'surface', page, selector: '#sheet', fill: { kind: 'token', path: 'sheet.face' } } as const;
      const card = { kind: 'surface', page, selector: '#card', fill: { kind: 'literal', color: '#fafbfb' } } as const;
      return [
        { ...sheet, on: [{ kind: 'token', path: 'face.page' }], widthCssPx: 900, heightCssPx: 700 },
        { ...sheet, selector: '#list', on: [{ kind: 'token', path: 'sheet.face' }], widthCssPx: 500, heightCssPx: 300 },
        { ...card, on: [{ kind: 'token', path: 'sheet.face' }], widthCssPx: 500, heightCssPx: 200 },
      ];
    },
  );
  expect(causes.find(({ repair }) => repair?.of === '#card')?.repair?.to).toBe('sheet.face');
});
