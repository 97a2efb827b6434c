// Which parts of a page are taken as pictures: every place is in one whole, and no two would be cheaper as one.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cutsAround } from '../../src/pictures/cuts.ts';

const PAGE = { margin: 2, width: 1000, height: 40_060, scale: 1 };

test('every place is whole in one, and all lie inside the page (seed 7)', () => {
  const place = fc
    .record({
      left: fc.nat(900),
      top: fc.nat(40_000),
      width: fc.integer({ min: 1, max: 100 }),
      height: fc.integer({ min: 1, max: 60 }),
    })
    .map(({ left, top, width, height }) => ({ left, top, right: left + width, bottom: top + height }));
  fc.assert(
    fc.property(fc.array(place, { minLength: 1, maxLength: 60 }), fc.constantFrom(1, 4), (places, step) => {
      const cuts = cutsAround(places, { ...PAGE, step });
      for (const { left, top, right, bottom } of places) {
        expect(cuts.some((cut) => cut.left <= left && cut.top <= top && cut.right >= right && cut.bottom >= bottom)).toBe(true);
      }
      for (const cut of cuts) {
        expect(cut.left >= 0 && cut.top >= 0 && cut.right <= 1000 && cut.bottom <= 40_060).toBe(true);
        expect((cut.left % step) + (cut.top % step)).toBe(0);
      }
    }),
    { seed: 7 },
  );
});

const word = (left: number, top: number) => ({ left, top, right: left + 60, bottom: top + 20 });

test.each([
  ['words of a line', [word(10, 10), word(400, 10), word(800, 10)], 1],
  ['lines of a paragraph', Array.from({ length: 20 }, (_, line) => ({ ...word(10, 24 * line), right: 700 })), 1],
  ['a word at the head and one at the foot of a long page', [word(10, 10), word(10, 30_000)], 2],
  ['two columns of a high page with nothing between', [word(10, 10), word(10, 3000), word(900, 6000), word(900, 9000)], 2],
  ['two words apart', [word(10, 10), word(800, 1900)], 2],
  ['two words and one between them', [word(10, 10), word(800, 1900), word(400, 900)], 1],
])('%s', (_, places, pictures) => {
  expect(cutsAround(places, { ...PAGE, step: 1 })).toHaveLength(pictures);
});

test('at twice the scale they are cut sooner', () => {
  const places = [word(10, 10), word(400, 1200)];
  expect(cutsAround(places, { ...PAGE, step: 1 })).toHaveLength(1);
  expect(cutsAround(places, { ...PAGE, step: 1, scale: 2 })).toHaveLength(2);
});
