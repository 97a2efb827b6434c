// Where the time may not do for all views: what is worth most is rendered first, and the rest takes turns.
import { expect, test } from 'vitest';
import { worthFirst } from '../../src/cli/run/worth-first.ts';
import type { ViewStanding } from '../../src/ledger/records.ts';

const view = (page: string, theme = 'noon'): { id: string; page: string; theme: string; state: string; viewport: string } => ({
  id: `${page}@${theme}`,
  page,
  theme,
  state: 'rest',
  viewport: 'desk',
});
const STEADY: ViewStanding = { status: 'captured', changed: false, fresh: false, capturedIn: 7 };

test('failed, changed, with new findings, never seen, left out; then what was captured longest ago', () => {
  const pages = ['late', 'early', 'left', 'unseen', 'fresh', 'changed', 'failed'];
  const standings = new Map<string, ViewStanding>([
    ['late@noon', STEADY],
    ['early@noon', { ...STEADY, capturedIn: 3 }],
    ['left@noon', { ...STEADY, status: 'planned', capturedIn: 6 }],
    ['fresh@noon', { ...STEADY, fresh: true }],
    ['changed@noon', { ...STEADY, changed: true }],
    ['failed@noon', { ...STEADY, status: 'failed' }],
  ]);
  const order = worthFirst(
    pages.map((page) => view(page)),
    standings,
  );
  expect(order.map(({ page }) => page)).toEqual(['failed', 'changed', 'fresh', 'unseen', 'left', 'early', 'late']);
});

test('the themes of a page stay together, in the order of the plan', () => {
  const plan = [view('board'), view('quay'), view('board', 'dusk'), view('quay', 'dusk')];
  const standings = new Map([
    ...plan.map(({ id }): [string, ViewStanding] => [id, STEADY]),
    ['quay@dusk', { ...STEADY, changed: true }] as const,
  ]);
  expect(worthFirst(plan, standings).map(({ id }) => id)).toEqual(['quay@noon', 'quay@dusk', 'board@noon', 'board@dusk']);
  expect(worthFirst(plan, new Map())).toHaveLength(4);
});
