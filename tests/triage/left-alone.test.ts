// What a repair must leave as it is where no other theme says what is meant.
import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { Definition, TokenEntry } from '../../src/triage/tokens/token-table.ts';
import type { PlaceModel, Source } from './app-model.ts';
import { entry, healthyApp } from './healthy-app.ts';
import { paintApp } from './paint-app.ts';
import { seeded } from './seeded.ts';
import { triageApp } from './triage-app.ts';
import type { Put } from './with-more.ts';
import { causesWith } from './with-more.ts';

const at = (path: string): Source => ({ kind: 'token', path });

describe('edges of controls that fall a little short on the page of the reference theme', () => {
  // Derived: #949494 reaches 2.83:1 on #f7f7f7 and 3.03:1 on white; white lies 2.7 L* above the page, which a page in white takes away.
  const SETS: readonly Put[] = [
    { path: 'quay.page', colors: ['#f7f7f7', '#16191b', '#f7f7f7'] },
    { path: 'quay.card', colors: ['#ffffff', '#22272a', '#ffffff'] },
    { path: 'quay.line', colors: ['#949494', '#949494', '#6a6a6a'] },
  ];
  const places = (page: string): readonly PlaceModel[] => [
    ...['#card-a', '#card-b'].map((selector): PlaceModel => ({
      ...{ kind: 'surface', page, selector, fill: at('quay.card'), on: [at('quay.page')], widthCssPx: 500, heightCssPx: 300 },
    })),
    ...['#name', '#gauge', '#datum'].map((selector): PlaceModel => ({
      ...{ kind: 'graphic', page, selector, role: 'border', ink: at('quay.line'), on: [at('quay.page')] },
    })),
    ...['#note', '#log', '#help', '#code', '#mail'].map((selector): PlaceModel => ({
      ...{ kind: 'graphic', page, selector, role: 'border', ink: at('quay.line'), on: [at('quay.card')] },
    })),
  ];
  const causes = causesWith(SETS, places);

  test('are mended by their own token, and the cards stay apart from the page', () => {
    expect(causes.map(({ repair }) => [repair?.of, repair?.themes, repair?.breaks])).toEqual([['quay.line', ['noon'], 0]]);
  });
});

test('a palette’s white stays white: panels take the token of panels', () => {
  const white: Put = { path: 'chalk.white', colors: ['#ffffff', '#ffffff', '#ffffff'] };
  const causes = causesWith([white], (page) =>
    ['face.page', 'face.sunken', 'face.raised'].flatMap((below, n): readonly PlaceModel[] => {
      const selector = `#notice-${String(n)}`;
      const text = { kind: 'text', page, ink: at('mark.main'), on: [at(white.path)], opacity: 1, large: false } as const;
      return [
        { kind: 'surface', page, selector, fill: at(white.path), on: [at(below)], widthCssPx: 500, heightCssPx: 200 },
        { ...text, selector: `#surge-${String(n)}`, ground: selector },
        { ...text, selector: `#late-${String(n)}`, ground: selector },
      ];
    }),
  );
  expect(causes.filter(({ repair }) => repair?.of === white.path)).toEqual([]);
  expect(new Set(causes.map(({ repair }) => repair?.change))).toEqual(new Set(['use']));
});

describe('a red ink', () => {
  const text = (page: string, selector: string, ink: Source, more: Partial<PlaceModel> = {}): PlaceModel => ({
    ...({ kind: 'text', page, selector, ink, on: [at('face.raised')], opacity: 1, large: false } as const),
    ...(more as object),
  });

  test('of a colour’s name goes to no grey where a token of its hue can be read, which says what it means', () => {
    // Derived: #f07a9c reaches 2.6:1 on white, #b0175a 6.6:1; in dusk both can be read where they lie.
    const wash: Put = { path: 'berth.red', colors: ['#f07a9c', '#f07a9c', '#f07a9c'] };
    const kin: Put = { path: 'pilot.danger', colors: ['#b0175a', '#ff8fb3', '#b0175a'] };
    const causes = causesWith([wash, kin], (page) => [
      ...['#a', '#b', '#c'].map((selector): PlaceModel => ({
        ...{ kind: 'surface', page, selector: `${selector}-lamp`, fill: at(wash.path), on: [at('face.page')] },
        ...{ widthCssPx: 40, heightCssPx: 20 },
      })),
      text(page, '#flag', at(kin.path)),
      text(page, '#late', at(wash.path)),
    ]);
    expect(causes.map(({ repair }) => [repair?.of, repair?.to])).toEqual([['#late', kin.path]]);
  });
});

test('a colour that others refer to stays for the sake of one component, whose own token moves', () => {
  // Derived: #ff2453 glares as a large surface in dusk; as the ink of words it is as meant.
  const healthy = healthyApp(seeded(4));
  const own = (path: string, definition: Definition): TokenEntry =>
    entry(
      path,
      ['base', 'dusk', 'stark'].map((id) => ({ ...definition, declared: { id } })),
    );
  const alarm = own('kit.flare', { kind: 'literal', color: parseColor('#ff2453'), declared: { id: '' } });
  const users = ['face', 'lamp', 'line', 'flag', 'mark'].map((path) =>
    own(`kit.card-flare.${path}`, { kind: 'alias', target: 'kit.flare', declared: { id: '' } }),
  );
  const page = healthy.places[0]?.page ?? '';
  const card: PlaceModel = {
    ...{ kind: 'surface', page, selector: '#card', fill: at('kit.card-flare.face'), on: [at('face.page')] },
    ...{ widthCssPx: 900, heightCssPx: 500 },
  };
  const app = {
    ...healthy,
    table: { ...healthy.table, tokens: [...healthy.table.tokens, alarm, ...users] },
    places: [...healthy.places, card],
  };
  const causes = triageApp(app, paintApp(app)).causes.map(({ cause }) => cause.repair);
  expect([...new Set(causes.map((repair) => repair?.of))]).toEqual(['kit.card-flare.face']);
});
