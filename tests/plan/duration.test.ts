// Times as people write them. Derived: 1 h = 60 min = 3600 s.
import { expect, test } from 'vitest';
import { millisecondsOf } from '../../src/plan/duration.ts';

test.each([
  ['90s', 90_000],
  ['30m', 1_800_000],
  ['1h', 3_600_000],
  ['1h30m', 5_400_000],
  ['2h5m10s', 7_510_000],
  ['', NaN],
  ['0m', NaN],
  ['30', NaN],
  ['5m1h', NaN],
  ['1.5h', NaN],
])('%s', (text, ms) => {
  expect(millisecondsOf(text)).toBe(ms);
});
