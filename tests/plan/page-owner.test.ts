import { expect, test } from 'vitest';
import { pageOwner } from '../../src/plan/page-owner.ts';

const berths = { name: 'berths', path: '/office/berths.html' };

// Derived: by the words of docs/owners.md.
test.each([
  ['the page itself has the last word', { ...berths, owner: 'pilots' }, [{ pages: 'berths', owner: 'office' }], 'pilots'],
  ['a rule by the name of the page', berths, [{ pages: 'ber*', owner: 'office' }], 'office'],
  ['a rule by its path', berths, [{ pages: '/office/**', owner: 'office' }], 'office'],
  ['* ends at a slash', berths, [{ pages: '/*', owner: 'office' }], undefined],
  [
    'the first rule that fits',
    berths,
    [{ pages: 'tides', owner: 'charts' }, { owner: 'all' }, { pages: 'berths', owner: 'office' }],
    'all',
  ],
  ['rules about elements say nothing about pages', berths, [{ selector: '.bar', owner: 'office' }], undefined],
] as const)('%s', (_, page, rules, owner) => {
  expect(pageOwner(page, rules)).toBe(owner);
});
