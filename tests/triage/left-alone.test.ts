// What a repair must leave as it is where no other theme says what is meant.
import { describe, expect, test } from 'vitest';
import type { PlaceModel, Source } from './app-model.ts';
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
