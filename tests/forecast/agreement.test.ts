import { expect, test } from 'vitest';
import { agreementOf, compareVerdicts, sharesOf } from '../../src/forecast/agreement.ts';
import { compareFindings } from '../../src/forecast/compare-findings.ts';
import type { Finding } from '../../src/samples/finding.ts';

function finding(id: string, theme: string, more: Partial<Finding> = {}): Finding {
  return {
    ...{ id, check: 'text-contrast', level: 'error', key: id, selector: `#${id}`, rect: [0, 0, 1, 1], message: id },
    ...{ measured: {}, expected: {}, view: `tides@${theme}`, page: 'tides', theme, state: 'rest', viewport: 'desk' },
    ...{ since: 'one', status: 'new', cause: null },
    ...more,
  };
}

test('a new theme is held against the one it is like; exempt findings count in none', () => {
  const before = [finding('a', 'dusk'), finding('b', 'dusk'), finding('n', 'noon'), finding('x', 'dusk', { status: 'exempt' })];
  const after = [finding('a', 'night'), finding('c', 'night')];
  const { fresh, known, gone } = compareFindings(before, after, (theme) => (theme === 'night' ? 'dusk' : theme));
  expect([fresh, known, gone].map((list) => list.map(({ key }) => key))).toEqual([['c'], ['a'], ['b']]);
});

test('agreement: shares of verdicts and of all findings', () => {
  const verdicts = compareVerdicts(
    new Map([
      ['text a', 'pass'],
      ['text b', 'fail'],
      ['text c', 'pass'],
    ]),
    new Map([
      ['text a', 'pass'],
      ['text b', 'pass'],
      ['graphic d', 'pass'],
    ]),
  );
  expect(verdicts).toEqual({ compared: 2, equal: 1, unmatched: 2 });
  const agreement = agreementOf(1, [verdicts, verdicts], {
    foretold: [finding('a', 'dusk'), finding('b', 'dusk')],
    found: [finding('a', 'dusk'), finding('c', 'dusk', { check: 'glow' })],
  });
  expect(agreement.findings).toEqual([
    { check: 'glow', both: 0, onlyForetold: 0, onlyFound: 1 },
    { check: 'text-contrast', both: 1, onlyForetold: 1, onlyFound: 0 },
  ]);
  // derived: 2 of 4 verdicts; 1 of 3 findings
  expect(sharesOf(agreement)).toEqual({ verdicts: 0.5, findings: 1 / 3 });
});
