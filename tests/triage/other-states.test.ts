// What nothing explains in one state of a page belongs to the cause of the same place in another.
import { expect, test } from 'vitest';
import type { Finding } from '../../src/samples/finding.ts';
import { withOtherStates } from '../../src/triage/choose/other-states.ts';
import type { CaseFault } from '../../src/triage/world.ts';

const FINDING: Finding = {
  ...{ id: '', view: '', page: 'board', theme: 'dusk', state: 'rest', viewport: 'desk', since: '', status: 'new', cause: null },
  ...{ check: 'text-contrast', level: 'error', key: '', selector: '', rect: [0, 0, 1, 1], message: '', measured: {}, expected: {} },
};
const seenAt = (state: string, key: string, theme = 'dusk'): Finding => ({ ...FINDING, state, key, theme });
const FINDINGS = [
  seenAt('rest', 'link'),
  seenAt('menu', 'link'),
  seenAt('menu', 'clock'),
  seenAt('menu', 'link', 'stark'),
  seenAt('rest', 'clock'),
];
const fault = (id: number, ...findings: readonly number[]): CaseFault => ({ id, findings }) as unknown as CaseFault;

test('joins it, and leaves what is elsewhere in none, in another theme, or in several', () => {
  const explanations = [{ name: 'link', faults: [fault(0, 0)] }];
  const unexplained = [fault(1, 1), fault(2, 2), fault(3, 3), fault(4, 1, 2)];
  const sorted = withOtherStates(FINDINGS, { explanations, unexplained });
  expect(sorted.explanations.map(({ name, faults }) => [name, faults.map(({ id }) => id)])).toEqual([['link', [0, 1]]]);
  expect(sorted.unexplained.map(({ id }) => id)).toEqual([2, 3, 4]);
});

test('places of two causes are left', () => {
  const explanations = [{ faults: [fault(0, 0)] }, { faults: [fault(1, 4)] }];
  const sorted = withOtherStates(FINDINGS, { explanations, unexplained: [fault(2, 1, 2)] });
  expect(sorted.unexplained.map(({ id }) => id)).toEqual([2]);
});
