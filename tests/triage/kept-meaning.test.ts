// What a token means decides what is proposed: one missing token on whatever it lies, a token that serves nothing else is mended itself, what
// is faded asks no more of it; numbers of a colour are offered in their function.
import { describe, expect, test } from 'vitest';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { cieLightness } from '../../src/colour/lightness.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { opaque } from '../../src/colour/color.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import { openUsage } from '../../src/triage/cases/usage.ts';
import { nameInUse, valueInUse } from '../../src/triage/tell/naming.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import { openWorld } from '../../src/triage/world.ts';
import type { PlaceModel, TextPlace } from './app-model.ts';
import { healthyApp } from './healthy-app.ts';
import { made, tableOf, token } from './made-cases.ts';
import { seeded } from './seeded.ts';
import type { Put } from './with-more.ts';
import { causesWith } from './with-more.ts';

const text = (page: string, selector: string, path: string, on: string, more: Partial<TextPlace & Placed> = {}): PlaceModel => ({
  ...{ kind: 'text', page, selector, ink: { kind: 'token', path }, on: [{ kind: 'token', path: on }], opacity: 1, large: false },
  ...more,
});

interface Placed {
  readonly rule: string;
  readonly ground: string;
}

// Derived: #ff6b81 reaches 2.8:1 on white and more than 4.5:1 on the dark faces; as a lamp it is meant to be bright.
const FLARE: Put = { path: 'signal.flare', colors: ['#ff6b81', '#ff6b81', '#ff6b81'] };

describe('a token that is missing', () => {
  test('is one for what is meant, on whatever it lies', () => {
    const causes = causesWith([FLARE], (page) => [
      text(page, '#flare-1', 'signal.flare', 'face.page', { rule: '.text-flare' }),
      text(page, '#flare-2', 'signal.flare', 'face.raised', { rule: '.text-flare' }),
      text(page, '#flare-3', 'signal.flare', 'face.sunken', { rule: '.text-flare' }),
      {
        ...{
          kind: 'surface',
          page,
          selector: '#lamp',
          fill: { kind: 'token', path: 'signal.flare' },
          widthCssPx: 90,
          heightCssPx: 30,
        },
        on: [{ kind: 'token', path: 'face.page' }],
      },
      text(page, '#lamp-name', 'lamp.ink', 'signal.flare', {
        ground: '#lamp',
        ink: { kind: 'literal', color: '#3d0a12' },
      }),
    ]);
    expect(causes).toHaveLength(1);
    expect(causes[0]?.why).toMatch(/^The set has no flare token for text on face\.\w+ and 2 other surfaces in noon/u);
  });

  test('is none where the token in use serves nothing else', () => {
    // White on it reaches 2.8:1 in all themes, and no ink of the set can be read on it in all of them.
    const ink: Put = { path: 'signal.flare.ink', colors: ['#ffffff', '#ffffff', '#ffffff'] };
    const causes = causesWith([FLARE, ink], (page) =>
      [1, 2, 3].map((n) => text(page, `#flare-${String(n)}`, 'signal.flare.ink', 'signal.flare')),
    );
    expect(causes.map(({ layer, repair }) => [layer, repair?.change, repair?.of, repair?.breaks])).toEqual(
      ['noon', 'dusk', 'stark'].map(() => ['token', 'value', 'signal.flare.ink', 0]),
    );
  });
});

test('ink that means something goes with its surface to no other ink', () => {
  const { table } = healthyApp(seeded(4));
  const raised = indexTable(table).colorOf(
    0,
    table.tokens.findIndex(({ path }) => path === 'face.raised'),
  );
  const tray = { kind: 'literal', color: raised === null ? '' : toCssText(raised) } as const;
  const causes = causesWith([FLARE], (page) => [
    {
      ...{ kind: 'surface', page, selector: '#tray', fill: tray, on: [{ kind: 'token', path: 'face.page' }] },
      widthCssPx: 500,
      heightCssPx: 200,
    },
    text(page, '#tray-level', 'mark.main', 'face.page', { on: [tray], ground: '#tray' }),
    text(page, '#tray-flare', 'signal.flare', 'face.page', { on: [tray], ground: '#tray', rule: '.text-flare' }),
  ]);
  const surface = causes.find(({ repair }) => repair?.of === '#tray');
  expect(surface?.repair).toMatchObject({ change: 'use', to: 'face.raised' });
  expect(
    causes
      .flatMap(({ repair }) => [repair, ...(repair?.also ?? [])])
      .filter((part) => part?.from === 'signal.flare' && part.change === 'use'),
  ).toEqual([]);
});

test('what is faded as well asks no more of a token than that it can be read unfaded', () => {
  // Derived: #8a8a8a reaches 3.4:1 on white. At half its strength no grey but black would do.
  const causes = causesWith([{ path: 'own.ink', colors: ['#8a8a8a', '#9a9a9a', '#000000'] }], (page) => [
    ...[1, 2, 3].map((n) => text(page, `#own-${String(n)}`, 'own.ink', 'face.raised')),
    text(page, '#faded', 'own.ink', 'face.raised', { opacity: 0.6 }),
  ]);
  const value = causes.find(
    ({ repair }) => repair?.change === 'value' && repair.of === 'own.ink' && repair.themes.includes('noon'),
  );
  const ratio = contrastRatio({
    ink: opaque(parseColor(value?.repair?.to ?? '#ffffff')),
    background: opaque(parseColor('#ffffff')),
  });
  expect(ratio).toBeGreaterThanOrEqual(4.5);
  expect(ratio).toBeLessThan(7);
});

describe('numbers of a colour', () => {
  const plain = tableOf({ '--ink': ['#102030', '#e0e8f0'], '--tide': ['#0b6e8f', '#3fa9c9'] });
  const built = { text: 'rgb(var(--reed))', numbers: new Map([['--reed', '16 32 48']]) };
  const index = indexTable({
    ...plain.table,
    tokens: [
      ...plain.table.tokens,
      ...(['--reed', '--tide-rgb'] as const).map((path, at) => ({
        ...({
          path,
          properties: [path],
          isBare: true,
          isComposite: true,
          built: [{ ...built, text: `rgb(var(${path}))` }, null],
        } as const),
        definitions: (plain.table.tokens[1]?.definitions ?? []).map((each) =>
          at === 1 || each?.kind !== 'literal' ? each : { ...each, color: parseColor('#3c6e1f') },
        ),
      })),
    ],
  });
  const usageOf = (path: string, alpha: number) =>
    openUsage(
      openWorld({
        ...{ index, judges: new Map(), level: 'AA' },
        cases: [made({ fore: token(index.tokenAt(path), '#3c6e1f', alpha) })],
      }),
      new Set(),
    ).as('ink');

  test.each([
    ['--reed', 1, true],
    // Drawn in part, they are no colour for others.
    ['--reed', 0.4, false],
    // Another token is that colour.
    ['--tide-rgb', 1, false],
    ['--ink', 0.4, true],
  ] as const)('%s at %d are offered: %s', (path, alpha, is) => {
    expect(usageOf(path, alpha).has(index.tokenAt(path))).toBe(is);
  });

  test('are told in their function, others by name', () => {
    const [reed, ink] = [index.tokenAt('--reed'), index.tokenAt('--ink')];
    expect([nameInUse(index, reed), valueInUse(index, reed)]).toEqual(['rgb(var(--reed))', 'rgb(var(--reed))']);
    expect([nameInUse(index, ink), valueInUse(index, ink)]).toEqual(['--ink', 'var(----ink)']);
  });
});

// Derived: #1d2129 reaches 1.1:1 on #17171a and 16:1 on white; #00b42a 2.8:1 on white.
describe('what is as meant in the reference theme', () => {
  const SHEET: Put = { path: 'sheet.face', colors: ['#ffffff', '#17171a', '#ffffff'] };
  const BOARD: Put = { path: 'board.face', colors: ['#ffffff', '#232324', '#ffffff'] };
  const WORDS: Put = { path: 'words.main', colors: ['#1d2129', '#f6f6f6', '#1d2129'] };
  const filled = (page: string, selector: string, fill: PlaceModel & { kind: 'surface' }, on: string): PlaceModel => ({
    ...fill,
    ...{ page, selector, on: [{ kind: 'token', path: on }] },
  });
  const box = { kind: 'surface', page: '', selector: '', on: [], widthCssPx: 500, heightCssPx: 200 } as const;

  test('keeps its tone there: a bar that is dark on a light page does not turn light with what is written on it', () => {
    const causes = causesWith([SHEET, BOARD, WORDS], (page) => [
      filled(
        page,
        '#sheet',
        { ...box, fill: { kind: 'token', path: 'sheet.face' }, widthCssPx: 900, heightCssPx: 900 },
        'face.page',
      ),
      ...['#board', '#list'].map((selector) =>
        filled(page, selector, { ...box, fill: { kind: 'token', path: 'board.face' } }, 'sheet.face'),
      ),
      text(page, '#name', 'words.main', 'board.face', { ground: '#board' }),
      filled(page, '#bar', { ...box, fill: { kind: 'literal', color: '#17171a' }, widthCssPx: 900 }, 'sheet.face'),
      text(page, '#bar-name', 'words.main', '', { ground: '#bar', on: [{ kind: 'literal', color: '#17171a' }] }),
    ]);
    expect(causes.flatMap(({ layer, repair }) => (repair?.of === '#bar' ? [[layer, repair.to]] : []))).toEqual([]);
    expect(causes.map(({ repair }) => repair?.of)).toContain('#bar-name');
  });

  test('a colour that cannot be read in one theme and stays in the other lacks a token; it does not become grey', () => {
    const causes = causesWith([WORDS], (page) => [
      ...['#a', '#b', '#c'].map((selector) => text(page, selector, 'words.main', 'face.page')),
      text(page, '#rise', '', 'face.page', { ink: { kind: 'literal', color: '#00b42a' } }),
    ]);
    expect(causes.map(({ layer, repair, themes }) => [layer, repair?.change, themes])).toEqual([
      ['gap', 'add', ['noon', 'dusk', 'stark']],
    ]);
  });

  // #fbf5be is another yellow, 1 L* darker.
  test('a surface that stayed light is not mended by another shade of light', () => {
    const causes = causesWith([{ path: 'tint.warm', colors: ['#fef9c2', '#fef9c2', '#fef9c2'] }], (page) => [
      filled(page, '#notice', { ...box, fill: { kind: 'token', path: 'tint.warm' } }, 'face.page'),
      text(page, '#notice-text', 'mark.main', 'tint.warm', { ground: '#notice', ink: { kind: 'literal', color: '#733e0a' } }),
    ]);
    expect(causes.length).toBeGreaterThan(0);
    for (const { repair, themes } of causes) {
      expect(themes).toEqual(['dusk']);
      if (repair?.change === 'value') expect(cieLightness(opaque(parseColor(repair.to)))).toBeLessThan(50);
    }
  });
});
