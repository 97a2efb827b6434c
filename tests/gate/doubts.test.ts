// Views that may not be what they say. Expected values are derived: half of a theme's places, a third of the night before, eight missing.
import { describe, expect, test } from 'vitest';
import { doubtsOf } from '../../src/gate/doubts.ts';
import type { State } from '../../src/plan/configuration.ts';
import { facts, judge } from './facts.ts';

type Seen = Parameters<typeof doubtsOf>[0][number];

function seen(page: string, over: Partial<Seen> = {}): Seen {
  const place = { page, theme: 'noon', state: 'rest', viewport: 'desk', ...over };
  const id = `${page}@${place.theme}/rest/desk`;
  return { ...place, id, status: 'captured', shot: page, samples: 40, url: `http://127.0.0.1:4100/${page}`, notes: [], ...over };
}

const NOTHING = { pages: [], states: [] };

describe('pages that look like one another', () => {
  const pagesOf = (...views: readonly Seen[]): readonly (readonly string[])[] =>
    doubtsOf(views, [], NOTHING).flatMap((doubt) => (doubt.kind === 'alike' ? [doubt.pages] : []));

  test('are told where the bytes are the same in one theme', () => {
    expect(pagesOf(seen('board', { shot: 'x' }), seen('tides', { shot: 'x' }), seen('watch'))).toEqual([['board', 'tides']]);
  });
  test('not in two themes, not where they failed', () => {
    expect(pagesOf(seen('board', { shot: 'x' }), seen('tides', { shot: 'x', theme: 'dusk' }))).toEqual([]);
    expect(pagesOf(seen('board', { shot: null, status: 'failed' }), seen('tides', { shot: null, status: 'failed' }))).toEqual([]);
  });
  test('not two spellings of one address', () => {
    const at = (url: string, page: string): Seen => seen(page, { shot: 'x', url });
    expect(pagesOf(at('http://127.0.0.1:4100', 'home'), at('http://127.0.0.1:4100/index.html', 'start'))).toEqual([]);
    expect(pagesOf(at('http://h/#/board', 'board'), at('http://h/#/tides', 'tides'))).toEqual([['board', 'tides']]);
  });
  test('not where both are said to lead to one address', () => {
    const pages = [
      { name: 'old', path: '/old', lands: '/tides', states: [] },
      { name: 'tides', path: '/tides', states: [] },
    ];
    expect(doubtsOf([seen('old', { shot: 'x' }), seen('tides', { shot: 'x' })], [], { pages, states: [] })).toEqual([]);
  });
});

describe('views that show far less', () => {
  test.each([
    [[40, 19], [40, 40], ['dusk']],
    [[40, 20], [40, 40], []],
    [[9, 2], [9, 9], []],
    [
      [13, 13],
      [40, 40],
      ['noon', 'dusk'],
    ],
    [[14, 14], [40, 40], []],
  ] as const)('samples by theme %j, the night before %j', (now, before, thin) => {
    const night = ([noon, dusk]: readonly [number, number]): readonly Seen[] => [
      seen('board', { samples: noon }),
      seen('board', { samples: dusk, theme: 'dusk' }),
    ];
    expect(doubtsOf(night(now), night(before), NOTHING).map(({ view }) => view.theme)).toEqual(thin);
  });
});

describe('states that look as at rest', () => {
  const states: readonly State[] = [
    { name: 'menu', kind: 'click', selector: '#menu' },
    { name: 'all-hover', kind: 'hover', selector: '*' },
    { name: 'tab-focus', kind: 'focus', selector: '#tab' },
  ];
  const idle = (...views: readonly Seen[]): readonly string[] =>
    doubtsOf(views, [], { pages: [], states }).flatMap((doubt) => (doubt.kind === 'idle' ? [doubt.view.id] : []));
  const rest = seen('board', { shot: 'x' });
  const menu = (over: Partial<Seen> = {}): Seen => seen('board', { id: 'menu', state: 'menu', shot: 'x', ...over });

  test('are told', () => {
    expect(idle(menu(), rest)).toEqual(['menu']);
    expect(idle(rest, menu({ shot: 'y' }))).toEqual([]);
  });
  test('against rest of the same page, theme and viewport', () => {
    expect(idle(rest, menu({ theme: 'dusk' }), menu({ viewport: 'phone' }), menu({ page: 'tides' }))).toEqual([]);
  });
  test('not where a view failed or was foretold, not where all elements are looked at in turn or focus is judged', () => {
    expect(idle(rest, menu({ status: 'failed', shot: null }), menu({ state: 'all-hover' }), menu({ state: 'tab-focus' }))).toEqual(
      [],
    );
    expect(idle(seen('board', { shot: null }), menu({ shot: null }))).toEqual([]);
  });
});

test('views that ask for a password are told by their note', () => {
  const asks = seen('board', { notes: [{ code: 'asks-password', data: {} }] });
  const failed = seen('tides', { status: 'failed', notes: asks.notes });
  expect(doubtsOf([asks, failed, seen('watch')], [], NOTHING)).toEqual([{ kind: 'asking', view: asks }]);
});

test('a doubt says no, unless the criteria allow it', () => {
  const doubts = doubtsOf([seen('board', { shot: 'x' }), seen('tides', { shot: 'x' })], [], NOTHING);
  const may = (alike?: number): boolean =>
    judge(facts({ doubts }), { criteria: { most: [], ...(alike === undefined ? {} : { alike }) }, configured: true }).may;
  expect([may(), may(1), may(2)]).toEqual([false, false, true]);
});
