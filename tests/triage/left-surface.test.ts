// A surface that stayed as in the other theme: what cannot be read on it is no matter of its own, whatever else could mend it.
import { expect, test } from 'vitest';
import type { PlaceModel } from './app-model.ts';
import type { Put } from './with-more.ts';
import { causesWith } from './with-more.ts';

// Derived: #0e6e63 reaches 5.8:1 on #f4f8fa, #0bd8b6 1.7:1 there and 8.9:1 on the dark faces.
const LINK: Put = { path: 'berth.link', colors: ['#0e6e63', '#0bd8b6', '#0e6e63'] };

test('a token that is used there alone keeps its value', () => {
  const left = { kind: 'literal', color: '#f4f8fa' } as const;
  const causes = causesWith([LINK], (page): readonly PlaceModel[] => [
    {
      ...{ kind: 'surface', page, selector: '#notice', fill: left, widthCssPx: 500, heightCssPx: 200 },
      on: [{ kind: 'token', path: 'face.page' }],
    },
    ...['#read', '#more'].map((selector): PlaceModel => ({
      ...{ kind: 'text', page, selector, ink: { kind: 'token', path: 'berth.link' }, opacity: 1, large: false, ground: '#notice' },
      on: [left],
    })),
  ]);
  expect(causes.map(({ layer, repair }) => [layer, repair?.change, repair?.of])).toEqual([['usage', 'use', '#notice']]);
  expect(causes[0]?.repair?.to).toMatch(/^face\./u);
  // Told by what is wrong with it, not by what happens to lie on it.
  expect(causes[0]?.why).not.toContain('berth.link');
});
