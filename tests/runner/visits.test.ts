// Which views share one load of a page.
import { expect, test } from 'vitest';
import { apartWhereAlone } from '../../runner/visit/visits.ts';
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
  return { page: { name: 'tides', path: '/tides', states: [] }, viewport: DESK, tasks, prove: true };
}

const among = { workers: 3, pages: 12 };

test('a page alone is loaded once for each of two or three themes, with all of its states', () => {
  const apart = apartWhereAlone([visit(3)], among);
  expect(apart.map(({ tasks }) => tasks.map(({ view }) => view.id))).toEqual(
    [0, 1, 2].map((i) => [`tides@theme-${String(i)}/rest/desk`, `tides@theme-${String(i)}/hovered/desk`]),
  );
});

test.each([
  ['of more themes', [visit(4)], among],
  ['beside other visits', [visit(2), visit(2)], among],
  ['where one worker does everything', [visit(2)], { ...among, workers: 1 }],
  ['where it is all of the app', [visit(2)], { ...among, pages: 1 }],
  ['where there is none', [], among],
] as const)('it keeps its one load: %s', (_, visits, from) => {
  expect(apartWhereAlone(visits, from)).toEqual(visits);
});
