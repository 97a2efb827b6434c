// Which views share one load of a page.
import { expect, test } from 'vitest';
import { apartWhereFew } from '../../runner/visit/visits.ts';
import type { Task, Visit } from '../../runner/visit/visits.ts';
import type { Theme, Viewport } from '../../src/plan/configuration.ts';

const DESK: Viewport = { name: 'desk', widthCssPx: 1280, heightCssPx: 800, scale: 1 };

function themes(count: number): readonly Theme[] {
  return Array.from({ length: count }, (_, i) => ({ name: `theme-${String(i)}`, tone: 'light', apply: {}, tokens: {} }));
}

/** The page at rest and with its menu open, in each theme. */
function visit(count: number): Visit {
  const tasks = themes(count).flatMap((theme) =>
    ['rest', 'hovered'].map((state): Task => {
      const view = { page: 'tides', theme: theme.name, state, viewport: 'desk' };
      return {
        view: { ...view, id: `tides@${theme.name}/${state}/desk`, url: 'http://127.0.0.1:4000/tides' },
        theme,
        state: state === 'rest' ? { name: 'rest', kind: 'rest' } : { name: state, kind: 'hover', selector: '#row' },
      };
    }),
  );
  return { page: { name: 'tides', path: '/tides', states: [] }, viewport: DESK, tasks, proof: { by: 'loading' } };
}

const ids = (visits: readonly Visit[]): readonly (readonly string[])[] =>
  visits.map(({ tasks }) => tasks.map(({ view }) => `${view.theme}/${view.state}`));

test('a page alone is loaded once for each of two or three themes, with all of its states', () => {
  const apart = apartWhereFew([visit(3)], 3);
  expect(ids(apart)).toEqual([0, 1, 2].map((i) => [`theme-${String(i)}/rest`, `theme-${String(i)}/hovered`]));
});

test('of two pages each of two themes is loaded', () => {
  expect(ids(apartWhereFew([visit(2), visit(2)], 3))).toHaveLength(4);
});

test('the first load shows the second theme in place to the load of it; a page that is not proved shows nothing', () => {
  const [one, ...rest] = apartWhereFew([visit(3)], 3).map(({ proof }) => proof);
  expect(one).toMatchObject({ by: 'showing', view: { id: 'tides@theme-1/rest/desk' }, theme: { name: 'theme-1' } });
  expect(rest).toEqual([{ by: 'seeing' }, null]);
  expect(apartWhereFew([{ ...visit(2), proof: null }], 3).map(({ proof }) => proof)).toEqual([null, null]);
});

test('where nothing is captured at rest, nothing is shown', () => {
  const { tasks, ...more } = visit(2);
  const hovered = { ...more, tasks: tasks.filter(({ state }) => state.kind !== 'rest') };
  expect(apartWhereFew([hovered], 3).map(({ proof }) => proof)).toEqual([null, null]);
});

test.each([
  ['of more themes', [visit(4)], 3],
  ['of three themes, beside another', [visit(3), visit(3)], 3],
  ['of one theme', [visit(1)], 3],
  ['as many visits as tabs', [visit(2), visit(2), visit(2)], 3],
  ['where one worker does everything', [visit(2)], 1],
  ['where there is none', [], 3],
] as const)('they keep their one load: %s', (_, visits, workers) => {
  expect(apartWhereFew(visits, workers)).toEqual(visits);
});
