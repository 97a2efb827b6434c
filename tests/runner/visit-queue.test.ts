// The order in which visits are handed out.
import { expect, test } from 'vitest';
import { visitQueue } from '../../runner/visit/visit-queue.ts';
import type { Task, Visit } from '../../runner/visit/visits.ts';

const task = (view: string): Task => ({
  view: { id: view, page: 'quay', theme: view, state: 'rest', viewport: 'desk', url: 'http://127.0.0.1/' },
  theme: { name: view, tone: 'light', apply: {}, tokens: {} },
  state: { name: 'rest', kind: 'rest' },
});
const visit = (page: string, ...views: readonly string[]): Visit => ({
  page: { name: page, path: `/${page}`, states: [] },
  viewport: { name: 'desk', widthCssPx: 800, heightCssPx: 600, scale: 1 },
  tasks: views.map(task),
  proof: null,
});
const taken = (found: Visit | undefined): string | undefined =>
  found === undefined ? undefined : `${found.page.name}: ${found.tasks.map(({ view }) => view.id).join(' ')}`;

test('what was not come to is next; what is tried again comes last, a visit’s views together until somebody took them', () => {
  const [quay, gauge] = [visit('quay', 'noon', 'dusk', 'stark'), visit('gauge', 'noon')];
  const queue = visitQueue([quay, gauge]);
  expect(taken(queue.take())).toBe('quay: noon dusk stark');
  queue.giveBack([visit('quay', 'stark')]);
  queue.again(quay, [task('noon')]);
  queue.again(quay, [task('dusk')]);
  expect(taken(queue.take())).toBe('quay: stark');
  expect(taken(queue.take())).toBe('gauge: noon');
  expect(taken(queue.take())).toBe('quay: noon dusk');
  queue.again(quay, [task('dusk')]);
  expect(taken(queue.take())).toBe('quay: dusk');
  expect(queue.take()).toBeUndefined();
});
