// Comparison across themes matches the same element in both, and says so where it cannot.
import { expect, test } from 'vitest';
import { unmatchedNotes } from '../../src/checks/unmatched.ts';
import { graphic, shadow, surface, textRun, view } from './made-samples.ts';

const panel = surface({ color: '#ffffff', around: '#f5f7f9', key: 'panel', selector: '#panel' });
const word = textRun({ color: '#111111', background: '#ffffff', key: 'word', selector: '#word' });
const icon = graphic({ color: '#111111', against: '#ffffff', key: 'icon', selector: '#icon' });

test('places that only one theme has are counted and named', () => {
  const group = [
    { view: view('noon'), samples: [panel] },
    { view: view('dusk'), samples: [panel, word, icon] },
  ];
  expect([...unmatchedNotes(group, 'noon')]).toEqual([
    [
      'quay@dusk/rest/desk',
      { code: 'not-compared', data: { reference: 'noon', places: 2, of: 3, selectors: 2, first: ['#word', '#icon'] } },
    ],
  ]);
});

test('a place of another kind is another place; shadows are not compared', () => {
  const group = [
    { view: view('noon'), samples: [panel, word] },
    { view: view('dusk'), samples: [{ ...word, key: 'panel' }, shadow({ color: '#000000', beneath: '#121212', key: 'halo' })] },
  ];
  expect(unmatchedNotes(group, 'noon').get('quay@dusk/rest/desk')).toMatchObject({ data: { places: 1, of: 1 } });
});

test('nothing is said where all is matched, nor of the reference itself', () => {
  expect(
    unmatchedNotes(
      [
        { view: view('noon'), samples: [panel] },
        { view: view('dusk'), samples: [panel] },
      ],
      'noon',
    ).size,
  ).toBe(0);
});

test('without a view of the reference theme nothing was compared', () => {
  const notes = unmatchedNotes([{ view: view('dusk'), samples: [panel] }], 'noon');
  expect(notes.get('quay@dusk/rest/desk')).toEqual({ code: 'no-reference', data: { reference: 'noon' } });
});
