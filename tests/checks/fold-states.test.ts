// A fault that shows at rest is listed there, and not once more for each state that shows it too.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { foldStates } from '../../src/checks/fold-states.ts';
import { findingId } from '../../src/checks/finding-id.ts';
import type { Finding } from '../../src/samples/finding.ts';

const faint = (change: Partial<Finding> = {}): Finding => {
  const place = { page: 'quay', theme: 'dusk', state: 'rest', viewport: 'desk', ...change };
  const view = `${place.page}@${place.theme}/${place.state}/${place.viewport}`;
  const check = change.check ?? 'text-contrast';
  const key = change.key ?? 'p:1';
  return {
    check,
    level: 'error',
    key,
    selector: '#level',
    rect: [10, 20, 80, 16],
    message: 'too faint',
    measured: { contrast: 3.1, ink: '#8a8f94', background: '#ffffff', fontSize: 16 },
    expected: { contrast: 4.5 },
    id: findingId({ id: view, ...place }, { check, key }),
    view,
    since: 'run-7',
    status: 'new',
    cause: null,
    ...place,
    ...change,
  };
};

describe('a fault that the page has at rest', () => {
  test.each<[string, Partial<Finding>]>([
    ['with a menu open', { state: 'menu' }],
    ['moved down by what opened above it', { state: 'menu', rect: [10, 220, 80, 16] }],
    [
      'compared with another ratio of the reference theme',
      { state: 'menu', measured: { ...faint().measured, contrastInReference: 7 } },
    ],
  ])('is not listed anew %s', (_, change) => {
    expect(foldStates([faint(), faint(change)])).toEqual([faint()]);
  });

  test.each<[string, Partial<Finding>]>([
    ['in another ink', { measured: { ...faint().measured, ink: '#9aa0a5' } }],
    ['on another background', { measured: { ...faint().measured, background: '#f0f3f5' } }],
    ['at another element', { key: 'p:2' }],
    ['of another check', { check: 'unthemed' }],
    ['at another level', { level: 'warning' }],
    ['where an exemption covers the state only', { status: 'exempt' }],
    ['in another theme', { theme: 'noon' }],
    ['on another page', { page: 'berths' }],
    ['in another viewport', { viewport: 'phone' }],
  ])('is listed again %s', (_, change) => {
    const other = faint({ state: 'menu', ...change });
    expect(foldStates([faint(), other])).toEqual([faint(), other]);
  });

  test('and that is exempt there is not listed anew in a state that the exemption does not name', () => {
    const exempt = faint({ status: 'exempt' });
    expect(foldStates([exempt, faint({ state: 'menu' })])).toEqual([exempt]);
  });

  test('is listed in each state where the page at rest is not among the views', () => {
    const alone = [faint({ state: 'menu' }), faint({ state: 'hover' })];
    expect(foldStates(alone)).toEqual(alone);
  });

  test('may have been found earlier: a run that was resumed', () => {
    expect(foldStates([faint({ state: 'menu' })], [faint({ status: 'known', since: 'run-2' })])).toEqual([]);
    expect(foldStates([faint({ state: 'menu' })], [faint({ state: 'hover' })])).toHaveLength(1);
  });
});

test('folding twice changes nothing, the order of findings neither, and nothing at rest is lost', () => {
  const some = fc.record({
    state: fc.constantFrom('rest', 'menu', 'hover'),
    theme: fc.constantFrom('noon', 'dusk'),
    key: fc.constantFrom('a', 'b'),
    measured: fc.record({ ink: fc.constantFrom('#111111', '#222222'), contrast: fc.constantFrom(2, 3) }),
  });
  fc.assert(
    fc.property(fc.array(some.map((change) => faint(change))), (findings) => {
      const folded = foldStates(findings);
      expect(foldStates(folded)).toEqual(folded);
      expect(new Set(foldStates([...findings].reverse()))).toEqual(new Set(folded));
      expect(folded.filter(({ state }) => state === 'rest')).toEqual(findings.filter(({ state }) => state === 'rest'));
    }),
    { seed: 3107 },
  );
});
