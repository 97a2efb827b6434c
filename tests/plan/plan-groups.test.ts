// A plan as the groups that machines share. Expected values: derived, by hand.
import { expect, test } from 'vitest';
import { makePlan } from '../../src/plan/make-plan.ts';
import { planGroups } from '../../src/plan/plan-groups.ts';
import { openTheme, openViewport } from './some-plan.ts';

const themes = ['noon', 'dusk'].map(openTheme);
const pages = [
  { name: 'board', path: '/board', states: ['menu'] },
  { name: 'log', path: '/log', states: [] },
];
const viewports = ['desk', 'hand'].map(openViewport);
const plan = makePlan({ origin: 'http://127.0.0.1', pages, themes, viewports });

test('a page in one viewport is a group, with all its themes and states in the order of the plan', () => {
  const groups = planGroups(plan, new Map());
  expect(groups.map(({ name, page, viewport, views }) => [name, page, viewport, views.length])).toEqual([
    ['board@*/*/desk', 'board', 'desk', 4],
    ['board@*/*/hand', 'board', 'hand', 4],
    ['log@*/*/desk', 'log', 'desk', 2],
    ['log@*/*/hand', 'log', 'hand', 2],
  ]);
  expect(groups.flatMap(({ views }) => views)).toEqual(plan.map(({ id }) => id));
});

test('it is expected to take what its views took the last time; one that is new takes what they take on average', () => {
  const took = new Map([
    ['board@noon/rest/desk', 900],
    ['board@dusk/rest/desk', 100],
    ['log@noon/rest/desk', 200],
  ]);
  // The average is 400: board/desk 900 + 100 + 400 + 400, board/hand 4 × 400, log/desk 200 + 400, log/hand 2 × 400.
  expect(planGroups(plan, took).map(({ expectedMs }) => expectedMs)).toEqual([1800, 1600, 600, 800]);
});
