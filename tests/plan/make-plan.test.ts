import { expect, test } from 'vitest';
import fc from 'fast-check';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { Page } from '../../src/plan/configuration.ts';

const name = fc.string({ minLength: 1, maxLength: 8 });
const names = fc.uniqueArray(name, { minLength: 1, maxLength: 5 });

test('the plan is the product of pages, themes, states and viewports, and every view has an id of its own', () => {
  fc.assert(
    fc.property(
      names,
      names,
      fc.uniqueArray(
        name.filter((s) => s !== 'rest'),
        { maxLength: 3 },
      ),
      names,
      (pages, themes, states, viewports) => {
        const plan = makePlan({
          origin: 'http://127.0.0.1:8000',
          pages: pages.map((page): Page => ({ name: page, path: '/', states })),
          themes: themes.map((theme) => ({ name: theme, tone: 'light', apply: {}, tokens: {} })),
          viewports: viewports.map((viewport) => ({ name: viewport, widthCssPx: 1280, heightCssPx: 800, scale: 1 })),
        });
        expect(plan).toHaveLength(pages.length * themes.length * (states.length + 1) * viewports.length);
        expect(new Set(plan.map((view) => view.id)).size).toBe(plan.length);
      },
    ),
  );
});

test('a page that names its viewports is captured in those alone', () => {
  const plan = makePlan({
    origin: 'http://127.0.0.1:8000',
    pages: [{ name: 'quay', path: '/quay.html', states: ['menu'], viewports: ['phone'] }],
    themes: [{ name: 'noon', tone: 'light', apply: {}, tokens: {} }],
    viewports: ['desk', 'phone'].map((v) => ({ name: v, widthCssPx: 400, heightCssPx: 800, scale: 1 })),
  });
  expect(plan.map((view) => view.id)).toEqual(['quay@noon/rest/phone', 'quay@noon/menu/phone']);
});
